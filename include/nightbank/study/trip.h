#pragma once

#include <variant>
#include <vector>

#include "nightbank/study/answer.h"

/// A period of several days, day by day.
namespace nightbank {

/// Longer periods are told by the day. [s]
inline constexpr double kTripFrom_s = 30.0 * 3600.0;

/// What a fuel can holds: 20 L, the usual large one. `common practice, no source`
inline constexpr double kCan_m3 = 0.020;

/// From midnight to midnight, cut at the ends of the period. Times are seconds from its start; NaN:
/// not in the period.
struct TripDay {
  double from_s = 0.0, to_s = 0.0;
  double dawnAt_s = kNever_s, duskAt_s = kNever_s;
  double dawnSoc = kNever_s, duskSoc = kNever_s;
  double lowestSoc = 1.0;
  double engine_s = 0.0, solar_J = 0.0, missing_J = 0.0;
  std::vector<GeneratorRun> runs;  ///< that begin on that day; fuel is theirs
  double fuel_m3 = 0.0;
  std::vector<double> refuelledAt_s;
};

/// How it would go on, every day like those of the period.
struct TripAhead {
  double days = 0.0;                   ///< simulated, from the start
  double floorReachedAt_s = kNever_s;  ///< NaN: not within those days
  double lastDays = 0.0;               ///< of them, when the start is forgotten: means are theirs
  double enginePerDay_s = 0.0;
  double fuelPerDay_m3 = 0.0;
  double drift = 0.0;  ///< of the state of charge over the last days; near 0: it has settled
};

/// What an engine burns, and what of it a full tank at the start does not hold.
struct FuelList {
  double used_m3 = 0.0;
  double tank_m3 = 0.0;     ///< infinite where it is not known
  double carried_m3 = 0.0;  ///< besides; 0 where the tank is not known
  int cans = 0;             ///< of kCan_m3 that hold it
};

FuelList fuelListOf(const Night& night);

struct Trip {
  bool isByClock = false;  ///< no place is given: dawn and dusk are 06:00 and 20:00
  std::vector<TripDay> days;
  FuelList fuel;
  bool hasAhead = false;  ///< the weather is the same every day
  TripAhead ahead;
};

/// Whether the period is told by the day.
bool isTrip(const Plant& plant);

/// @param answer  of a period for which isTrip
/// @param night   one of its nights
Trip tripOf(const Answer& answer, const Night& night);

}  // namespace nightbank
