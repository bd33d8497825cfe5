#pragma once

#include <cstddef>
#include <limits>
#include <optional>
#include <vector>

#include "fit_data.h"

/// Levels, cycles and what coarse rows mean. Private to the room.
namespace nightbank {

/// Minutes of one way to run, at most two hours each; those in which only the log or only the plan
/// charges are left out.
std::vector<Block> blocksOf(const NightLog& log, const Plant& plant, const MinuteRun& plan);

/// Mean of what a log has, and how far it may be off.
struct MeanLevel {
  double mean = std::numeric_limits<double>::quiet_NaN();
  double deviation = 0.0;  ///< of the mean, from the scatter about a slow course
  std::size_t count = 0;
};

/// @param every  minutes that one reading stands for
MeanLevel meanLevel(const std::vector<double>& values, double every);

/// Values of some minutes.
struct LoggedPart {
  std::vector<std::size_t> minutes;
  std::vector<double> values;
};

/// Shares of the minutes of a block that are on, by the current, and where it starts.
struct CycleCourse {
  std::vector<double> on;          ///< NaN: not logged
  std::vector<std::size_t> rises;  ///< the first minute more on than off
};

/// A share of the time on and the minutes [from, to) that it is of.
struct WholeCycles {
  double share = 0.0, deviation = 0.0;
  std::size_t from = 0, to = 0;
};

/// The middle between the two levels of a current; NaN where it has but one.
double betweenLevels_A(const std::vector<double>& values);

/// Without spikes.
LoggedPart clearOf(const LoggedPart& part);

/// A straight line over minutes: a level that goes with sun and charge.
struct LevelLine {
  double middle = 0.0, at = 0.0, perMinute = 0.0;

  double operator()(std::size_t minute) const {
    return at + perMinute * (static_cast<double>(minute) - middle);
  }
};

/// By least squares.
LevelLine lineThrough(const LoggedPart& part);

/// From the first start to the last one; nullopt: there is no whole cycle without a gap.
std::optional<WholeCycles> wholeCycles(const CycleCourse& course, double every_min);

/// Over all of a block.
WholeCycles anyCycles(const CycleCourse& course);

/// Whether the coarse rows of a night are readings of a moment, and what they can tell: where a
/// compressor cycles they have two levels, one at rest, and next to nothing between.
struct Moments {
  bool are = false;
  double middle_A = 0.0;  ///< between the levels
  /// Of a share of the time on, over all of the night, where rows come always at the same places
  /// of a cycle and no number of them tells more; 0: they do not.
  double inStep = 0.0;
};

/// @param blocks     of the night, in which a compressor cycles
/// @param restsAt_A  current while it rests, by the plan
Moments momentsOf(const NightLog& log, const std::vector<Block>& blocks, double restsAt_A);

}  // namespace nightbank
