#pragma once

#include <cstdint>

#include "nightbank/simulate/outcome.h"

/// The level of one run, subject by subject.
namespace nightbank {

enum class Level : std::uint8_t { holds, marginal, fails };  // worst last

/// The thing that limits the night.
enum class Limit : std::uint8_t {
  nothing,       ///< holds with room
  floor,         ///< the set depth of discharge
  availability,  ///< no charge available at this rate
  cutoff,        ///< the inverter's low-voltage cut-off
  unitCutoff,    ///< a direct-current air conditioner's own
  inverterRating,
  generatorRating,
  shoreRating,
  bankCurrent,     ///< the bank's protection, by a current limit
  inverterStart,   ///< a compressor's start on the inverter
  generatorStart,  ///< and on the generator, with or without the inverter's help
  noSource,        ///< something in its hours had nothing to feed it
  quietHours,      ///< engine on where the site does not allow it
  tooWarm,         ///< the cabin, while somebody is at home
};

struct Judgement {
  Level level = Level::holds;  ///< the worst of the subjects
  Limit limit = Limit::nothing;
  Level bank = Level::holds;
  Level rating = Level::holds;   ///< overload trips
  Level starts = Level::holds;   ///< of compressors, where they are tested
  Level service = Level::holds;  ///< everything in its hours was fed
  Level rules = Level::holds;    ///< the site's hours
  Level comfort = Level::holds;  ///< of those at home; holds where no cabin is simulated
  double marginShare = 0.0;      ///< bank margin / usable
};

/// Margin below this share of the usable energy is marginal.
inline constexpr double kMarginalShare = 0.10;

/// Too warm at home for longer than this is marginal, and fails: a cabin that stood in the sun
/// takes its while to cool down. [s] `common practice, no source`
inline constexpr double kWarmTolerated_s = 1800.0, kWarmFails_s = 5400.0;

/// Bank: holds from 10 % of usable energy left above the floor, marginal from 0 (a touch of the
/// floor included), fails below or where it was spent. Rating: any overload trip fails. Starts:
/// any that trips fails, any with a margin below kDoubtfulShare is marginal. Service:
/// more than 1 Wh not served fails. Rules: engine on outside the allowed hours for over 1 s fails.
/// Comfort: above the limit for more than kWarmTolerated_s is marginal, kWarmFails_s fails.
Judgement judge(const Outcome& outcome);

}  // namespace nightbank
