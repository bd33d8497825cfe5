#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "nightbank/devices/motor_start.h"

/// The numbers behind the test of a start, made once; see start_test.h.
namespace nightbank {

/// Entries of one source's list of short-time ratings; the reader refuses more.
inline constexpr std::size_t kMostSurges = 8;

/// What a source gives, for how long: by time, never rising, the continuous current last.
struct SurgeList {
  static constexpr std::size_t kMost = 2 * (kMostSurges + 2);  // of two sources together
  std::array<Surge, kMost> surges{};
  std::size_t count = 0;

  void add(const Surge& surge) { surges[count++] = surge; }

  std::span<Surge> all() { return {surges.data(), count}; }

  std::span<const Surge> all() const { return {surges.data(), count}; }

  const Surge& longest() const { return surges[count - 1]; }
};

/// A source's ratings at the mains as printed, those of all its sets.
struct SourceRatings {
  SurgeList surges;           ///< by time, the continuous current left out
  double continuous_A = 0.0;  ///< 0: there is no such source
  double overloadTrip_s = 0.0;
  double ratingLeft = 1.0;  ///< on its fuel; a share of continuous_A counts it in already

  bool exists() const { return continuous_A > 0.0; }
};

/// One unit's motor and currents at the mains.
struct StartUnit {
  bool isTested = false;  ///< in a run: what its start takes is written
  Motor motor;
  std::optional<SoftStart> fitted;
  Phasor running, fan;

  bool hasMotor() const { return motor.lockedRotor_A > 0.0; }
};

/// All that a start hangs on beside the plant, made by deriveStart().
struct StartPlant {
  double mains_V = 120.0;
  std::vector<StartUnit> units;  ///< as in the plant; empty: no run tests a start
  SourceRatings inverter, generator;
  int sets = 1;
  double reactance = 0.0;   ///< transient, of the generator's rating; 0: its voltage is held
  double deepestDip = 0.0;  ///< of the generator's class; 0: not known
  bool idlesLow = false;
  // The moment at which a plan is tested without a run: everything at once, in the hottest hour.
  Phasor onInverter, onGenerator;  ///< the other loads, the charger included
  double batteryLoads_W = 0.0;
  double inverterShare = 1.0, generatorShare = 1.0;  ///< left of ratings of a second and more
};

}  // namespace nightbank
