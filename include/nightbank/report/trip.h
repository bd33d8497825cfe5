#pragma once

#include <string>

#include "nightbank/report/text.h"
#include "nightbank/study/trip.h"

namespace nightbank::report {

/// A period of several days by the day: charge at dawn and dusk, engine, fuel, cans, and how it
/// would go on. "" for a single night.
std::string tripTable(const Answer& answer, const Night& night, UnitSystem units);

}  // namespace nightbank::report
