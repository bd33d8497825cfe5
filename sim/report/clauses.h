#pragma once

#include <string>
#include <vector>

#include "nightbank/scenario/scenario.h"
#include "nightbank/study/answer.h"
#include "nightbank/units/constants.h"
#include "nightbank/units/quantity.h"

/// Private to the room: what is to be said of one night, subject by subject. Each clause begins in
/// lower case and has no full stop.
namespace nightbank::report {

/// Less than this that had no source is not told.
inline constexpr double kUnservedWorthTelling_J = kWattHour_J;

struct Telling {
  const scenario::Scenario& scenario;  // resolved
  const Night& night;
  UnitSystem units;
};

/// The bank: what ended its night, or what it keeps.
std::string bankClause(const Telling& telling);

/// Overload trips of one source.
std::string overloadClause(const Telling& telling, Source source);

/// Starts of compressors that failed, or the closest one; "" where all had room.
std::string startsClause(const Telling& telling);

/// What was wanted and had nothing to feed it.
std::string serviceClause(const Telling& telling);

/// Engine outside the allowed hours.
std::string rulesClause(const Telling& telling);

/// The clause of the night's limit first, then those of the other subjects that are not in order,
/// and the bank in any case.
std::vector<std::string> clausesOf(const Telling& telling);

}  // namespace nightbank::report
