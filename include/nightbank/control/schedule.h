#pragma once

#include <span>
#include <vector>

#include "nightbank/units/calendar.h"

namespace nightbank {

/// [from, to) in seconds from the period's start.
struct Interval {
  double from_s, to_s;

  bool operator==(const Interval&) const = default;
};

/// Every occurrence of the daily spans within a period, merged where they touch or overlap, clipped
/// to the period, sorted.
/// @param start_s  local seconds since 1970 of the period's start
std::vector<Interval> occurrences(std::span<const ClockSpan> spans, double start_s,
                                  double length_s);

/// What of [0, length) the intervals leave out.
std::vector<Interval> complement(std::span<const Interval> intervals, double length_s);

std::vector<Interval> intersection(std::span<const Interval> a, std::span<const Interval> b);

/// The interval that holds t, or nullptr.
const Interval* covering(std::span<const Interval> intervals, double t_s);

}  // namespace nightbank
