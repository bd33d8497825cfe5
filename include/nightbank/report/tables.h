#pragma once

#include <string>

#include "nightbank/report/text.h"
#include "nightbank/study/answer.h"

/// Tables of one night, each with its heading, every line ended by LF. "" where there is nothing to
/// show (no generator, no air conditioner).
namespace nightbank::report {

/// Energy by source, load and loss: Wh and share of all that came in.
std::string energyTable(const Night& night);

/// By the hour of the clock; longer than 60 h by 6 h, longer than 15 days by the day.
/// @param weatherGiven  false: the outdoor temperature is a typical one, which the heading says
std::string hourTable(const Night& night, const TextStyle& style, bool weatherGiven);

/// Runs with their reasons, fuel, refuelling.
std::string generatorTable(const Answer& answer, const Night& night, UnitSystem units);

/// Comfort, heat balance, and how it warms once cooling stops.
std::string cabinTable(const Night& night, UnitSystem units);

/// Hours and starts of each compressor.
std::string compressorTable(const Night& night);

/// What the battery monitor shows beside the truth, and where it goes to 100 %.
std::string monitorTable(const Night& night);

/// The lowest voltage at the inverter's terminals, and how long it only searched.
std::string inverterLines(const Night& night);

/// What happened, in order; at most 40 lines.
std::string eventTable(const Night& night);

}  // namespace nightbank::report
