#include "fit_levels.h"

#include <algorithm>
#include <cmath>

/// How far values lie apart and how uneven cycles are: `common practice, no source`.
namespace nightbank {

MeanLevel meanLevel(const std::vector<double>& values, double every) {
  MeanLevel level;
  double sum = 0.0, steps = 0.0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    sum += values[i];
    if (i > 0)
      steps += (values[i] - values[i - 1]) * (values[i] - values[i - 1]);
  }
  level.count = values.size();
  if (values.empty())
    return level;
  level.mean = sum / static_cast<double>(values.size());
  const double independent = std::max(1.0, static_cast<double>(values.size()) / every);
  const double changes = std::max(1.0, independent - 1.0);
  level.deviation = std::sqrt(0.5 * steps / changes / independent);
  return level;
}

namespace {

double medianOfSorted(const std::vector<double>& sorted) {
  return sorted[sorted.size() / 2];
}

/// Half of the values of one level lie within this of its median.
double scatterOf(const std::vector<double>& level) {
  std::vector<double> off;
  for (const double value : level)
    off.push_back(std::abs(value - medianOfSorted(level)));
  std::ranges::sort(off);
  return medianOfSorted(off);
}

/// Mean distance from the median.
double meanOff(const std::vector<double>& sorted) {
  double sum = 0.0;
  for (const double value : sorted)
    sum += std::abs(value - medianOfSorted(sorted));
  return sum / static_cast<double>(sorted.size());
}

/// Whether values above and below are two levels, and not one with noise: of a normal distribution
/// cut in the middle, the medians are four times the scatter of its halves apart.
bool isApart(const std::vector<double>& values, double middle) {
  constexpr double kClearly = 8.0;
  std::vector<double> below, above;
  for (const double value : values)
    (value > middle ? above : below).push_back(value);
  std::ranges::sort(below);
  std::ranges::sort(above);
  return medianOfSorted(above) - medianOfSorted(below) >
         kClearly * std::max(scatterOf(below), scatterOf(above));
}

}  // namespace

double betweenLevels_A(const std::vector<double>& values) {
  std::vector<double> sorted = values;
  std::ranges::sort(sorted);
  const std::size_t edge = values.size() / 50;  // spikes
  double middle = 0.5 * (sorted[edge] + sorted[values.size() - 1 - edge]);
  for (int pass = 0; pass < 20; ++pass) {
    double below = 0.0, above = 0.0;
    int belows = 0, aboves = 0;
    for (const double value : values) {
      (value > middle ? above : below) += value;
      ++(value > middle ? aboves : belows);
    }
    if (belows < 3 || aboves < 3)
      return std::numeric_limits<double>::quiet_NaN();
    middle = 0.5 * (below / belows + above / aboves);
  }
  return isApart(values, middle) ? middle : std::numeric_limits<double>::quiet_NaN();
}

LoggedPart clearOf(const LoggedPart& part) {
  if (part.values.empty())
    return part;
  std::vector<double> sorted = part.values;
  std::ranges::sort(sorted);
  const double middle = medianOfSorted(sorted);
  // Of a counter with whole steps most values are the same one, and its neighbours are no spikes.
  double scatter = scatterOf(sorted);
  if (scatter == 0.0)
    scatter = meanOff(sorted);
  const double most = 6.0 * std::max(scatter, 1e-3 * std::abs(middle));
  LoggedPart kept;
  for (std::size_t i = 0; i < part.values.size(); ++i)
    if (std::abs(part.values[i] - middle) <= most) {
      kept.minutes.push_back(part.minutes[i]);
      kept.values.push_back(part.values[i]);
    }
  return kept;
}

LevelLine lineThrough(const LoggedPart& part) {
  LevelLine line;
  const auto count = static_cast<double>(part.values.size());
  for (std::size_t i = 0; i < part.values.size(); ++i) {
    line.middle += static_cast<double>(part.minutes[i]) / count;
    line.at += part.values[i] / count;
  }
  double along = 0.0, spread = 0.0;
  for (std::size_t i = 0; i < part.values.size(); ++i) {
    const double away = static_cast<double>(part.minutes[i]) - line.middle;
    along += away * (part.values[i] - line.at);
    spread += away * away;
  }
  line.perMinute = spread > 0.0 ? along / spread : 0.0;
  return line;
}

std::optional<WholeCycles> wholeCycles(const CycleCourse& course, double every_min) {
  if (course.rises.size() < 2 || course.rises.front() == 0)
    return std::nullopt;
  // A start lies where the on time of the minutes around it says.
  const auto startAt = [&](std::size_t rise) {
    return static_cast<double>(rise + 1) - course.on[rise - 1] - course.on[rise];
  };
  double on = 0.0, square = 0.0, shares = 0.0;
  for (std::size_t c = 0; c + 1 < course.rises.size(); ++c) {
    double ofThis = 0.0;
    for (std::size_t i = course.rises[c] - 1; i + 1 < course.rises[c + 1]; ++i)
      ofThis += course.on[i];
    const double share = ofThis / (startAt(course.rises[c + 1]) - startAt(course.rises[c]));
    on += ofThis;
    shares += share;
    square += share * share;
  }
  WholeCycles found;
  found.from = course.rises.front() - 1;
  found.to = course.rises.back() - 1;
  const double span = startAt(course.rises.back()) - startAt(course.rises.front());
  found.share = on / span;
  const double cycles = static_cast<double>(course.rises.size() - 1);
  // Cycles differ by a tenth, or by what they show (one that a change of source broke off). Both
  // ends are known to half an interval.
  constexpr double kUneven = 0.1;
  const double scatter =
      std::sqrt(std::max(0.0, square / cycles - shares * shares / cycles / cycles));
  found.deviation =
      std::hypot(std::max(kUneven * found.share * (1.0 - found.share), scatter) / std::sqrt(cycles),
                 0.5 * (every_min - 1.0) / span);
  return std::isnan(on) ? std::nullopt : std::optional(found);
}

WholeCycles anyCycles(const CycleCourse& course) {
  WholeCycles found{.to = course.on.size()};
  int count = 0;
  for (const double on : course.on)
    if (!std::isnan(on)) {
      found.share += on;
      ++count;
    }
  found.share /= std::max(1, count);
  const double cycles = std::max(1.0, static_cast<double>(course.rises.size()));
  found.deviation = 0.5 * found.share * (1.0 - found.share) / cycles;
  return found;
}

namespace {

/// The fewest rows after which on and off come again, up to six; 0: they do not. Of cycles that
/// have nothing to do with the rows half of them would be the same.
std::size_t comesAgainAfter(const std::vector<bool>& isOn) {
  constexpr std::size_t kMost = 6, kFewestTimes = 4;
  constexpr double kSame = 0.95;
  for (std::size_t after = 1; after <= kMost && kFewestTimes * after < isOn.size(); ++after) {
    double same = 0.0;
    for (std::size_t i = after; i < isOn.size(); ++i)
      same += isOn[i] == isOn[i - after] ? 1.0 : 0.0;
    if (same >= kSame * static_cast<double>(isOn.size() - after))
      return after;
  }
  return 0;
}

}  // namespace

Moments momentsOf(const NightLog& log, const std::vector<Block>& blocks, double restsAt_A) {
  constexpr double kMostBetween = 0.1, kEdge = 0.1;
  std::vector<double> current_A;
  for (const std::size_t row : log.rows)
    if (std::ranges::any_of(
            blocks, [&](const Block& block) { return row >= block.from && row < block.to; }))
      current_A.push_back(log.of(LogChannel::bank_A)[row]);
  Moments moments;
  constexpr std::size_t kFewestRows = 12;
  if (current_A.size() < kFewestRows)
    return moments;
  moments.middle_A = betweenLevels_A(current_A);
  if (std::isnan(moments.middle_A))
    return moments;
  std::vector<bool> isOn;
  std::vector<double> low_A, high_A;
  for (const double value : current_A) {
    isOn.push_back(value > moments.middle_A);
    (isOn.back() ? high_A : low_A).push_back(value);
  }
  std::ranges::sort(low_A);
  std::ranges::sort(high_A);
  // Means of rows in step with the cycle have two levels too, but the lower one is not at rest.
  const double swing_A = medianOfSorted(high_A) - restsAt_A;
  const auto between = std::ranges::count_if(current_A, [&](double value) {
    return value > restsAt_A + kEdge * swing_A && value < restsAt_A + (1.0 - kEdge) * swing_A;
  });
  moments.are = static_cast<double>(between) < kMostBetween * static_cast<double>(isOn.size());
  // A share of q places of the cycle is anything within 1 / q: an even draw.
  if (const std::size_t places = comesAgainAfter(isOn); places > 0)
    moments.inStep = 1.0 / static_cast<double>(places) / std::sqrt(12.0);
  return moments;
}

}  // namespace nightbank
