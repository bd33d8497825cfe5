#pragma once

#include <array>
#include <cstddef>
#include <optional>

#include "nightbank/devices/motor_start.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/simulate/start_outcome.h"
#include "nightbank/simulate/start_plant.h"

/// One start of one compressor, put to the test of the source that carries it: short-time amperes,
/// the bank's side of an inverter, the voltage at the motor, and what runs afterwards.
namespace nightbank {

/// Margin below this share of what is needed is doubtful.
inline constexpr double kDoubtfulShare = 0.15;

/// What is tried.
struct StartTry {
  StartSource source{};
  std::size_t unit = 0;
  std::optional<SoftStart> soft;
  bool hot = false;
  bool startOnly = false;  ///< what runs afterwards is watched by who asks
};

/// What a start meets.
struct StartMoment {
  Phasor others;                ///< on the same source, the unit apart
  Phasor running;               ///< the unit, afterwards
  double batteryLoads_W = 0.0;  ///< out of the bank beside the inverter, less what charges
  /// Of ratings of a second and more, left by heat and height.
  double inverterShare = 1.0, generatorShare = 1.0;
};

struct StartTest {
  static constexpr std::size_t kMostElements = 6;
  std::array<StartElement, kMostElements> elements{};
  std::size_t count = 0;
  std::size_t worst = 0;
  StartLevel level = StartLevel::starts;
  double start_A = 0.0, start_s = 0.0;      ///< in all, at the mains
  double running_A = 0.0, running_W = 0.0;  ///< of everything afterwards
  double continuous_A = 0.0;                ///< derated
  double overloadAfter_s = 0.0;             ///< +infinity: never

  const StartElement& limiting() const { return elements[worst]; }
};

/// @param bank  at that minute; what its overvoltage has built up counts
StartTest testStart(const Plant& plant, const BankState& bank, const StartTry& attempt,
                    const StartMoment& moment);

/// All other loads at once and in full, in the hottest hour.
/// @param onTop  while every other unit of the source runs
StartMoment worstMoment(const Plant& plant, const StartTry& attempt, bool onTop);

/// The bank as it is at a state of charge: rested, or after an hour with a load on the inverter.
BankState bankBefore(const Plant& plant, double soc, double load_W);

/// Whether a source may carry a unit at all.
bool mayCarry(const Plant& plant, StartSource source, std::size_t unit);

/// The list of what a source gives at that moment.
SurgeList givenBy(const StartPlant& start, StartSource source, const StartMoment& moment);

}  // namespace nightbank
