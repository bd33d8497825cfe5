#include "nightbank/control/schedule.h"

#include <algorithm>
#include <cmath>

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// One day's occurrence of a span, clipped to the period; may be empty.
Interval clipped(const ClockSpan& span, double midnight_s, double start_s, double length_s) {
  const double crosses_s = span.to_s <= span.from_s ? kDay_s : 0.0;
  return {std::max(0.0, midnight_s + span.from_s - start_s),
          std::min(length_s, midnight_s + span.to_s + crosses_s - start_s)};
}

std::vector<Interval> merged(std::vector<Interval> intervals) {
  std::sort(intervals.begin(), intervals.end(),
            [](const Interval& a, const Interval& b) { return a.from_s < b.from_s; });
  std::vector<Interval> result;
  for (const Interval& next : intervals) {
    if (!result.empty() && next.from_s <= result.back().to_s)
      result.back().to_s = std::max(result.back().to_s, next.to_s);
    else
      result.push_back(next);
  }
  return result;
}

}  // namespace

std::vector<Interval> occurrences(std::span<const ClockSpan> spans, double start_s,
                                  double length_s) {
  std::vector<Interval> found;
  const double firstMidnight_s = (std::floor(start_s / kDay_s) - 1.0) * kDay_s;
  for (double midnight_s = firstMidnight_s; midnight_s < start_s + length_s; midnight_s += kDay_s)
    for (const ClockSpan& span : spans) {
      const Interval interval = clipped(span, midnight_s, start_s, length_s);
      if (interval.from_s < interval.to_s)
        found.push_back(interval);
    }
  return merged(std::move(found));
}

std::vector<Interval> complement(std::span<const Interval> intervals, double length_s) {
  std::vector<Interval> result;
  double from_s = 0.0;
  for (const Interval& interval : intervals) {
    if (interval.from_s > from_s)
      result.push_back({from_s, interval.from_s});
    from_s = interval.to_s;
  }
  if (from_s < length_s)
    result.push_back({from_s, length_s});
  return result;
}

std::vector<Interval> intersection(std::span<const Interval> a, std::span<const Interval> b) {
  std::vector<Interval> result;
  for (const Interval& first : a)
    for (const Interval& second : b) {
      const Interval both{std::max(first.from_s, second.from_s), std::min(first.to_s, second.to_s)};
      if (both.from_s < both.to_s)
        result.push_back(both);
    }
  return result;
}

const Interval* covering(std::span<const Interval> intervals, double t_s) {
  const auto after =
      std::upper_bound(intervals.begin(), intervals.end(), t_s,
                       [](double t, const Interval& interval) { return t < interval.from_s; });
  if (after == intervals.begin())
    return nullptr;
  const Interval& candidate = *(after - 1);
  return t_s < candidate.to_s ? &candidate : nullptr;
}

}  // namespace nightbank
