#pragma once

#include <string>
#include <string_view>

#include "nightbank/report/text.h"
#include "nightbank/study/answer.h"

/// The verdict in words. They speak of these numbers and promise nothing.
namespace nightbank::report {

/// "holds", "marginal", "fails"
std::string_view levelWord(Level level);
/// "nothing", "floor", "availability", "cutoff", "inverter_rating", ... as in the JSON answer.
std::string_view limitWord(Limit limit);
/// As limitWord of the night that decides; "typical_value" where the runs as given hold better than
/// the answer does.
std::string_view limitedBy(const Answer& answer);
/// "measured", "nameplate", "typical"
std::string_view gradeWord(scenario::Grade grade);

/// The night that sets the answer's level: with an unknown duty the worse of the two ends.
const Night& decidingNight(const Answer& answer);

/// First what and by how much, then every other subject that fails: "On these numbers the bank,
/// full at 17:00, is down to its floor (50 %) at 03:48, 3 h 12 min too soon: short by 0.84 kWh."
/// With an unknown duty both ends, each with its own number.
std::string verdictSentence(const Answer& answer, UnitSystem units = UnitSystem::metric);

/// One end alone, for the detail of an unknown duty: without "On these numbers".
std::string nightSentence(const Answer& answer, const Night& night,
                          UnitSystem units = UnitSystem::metric);

/// "Rests on 2 typical values; the inverter's idle draw decides ...", "" where nothing that matters
/// was left to a typical value.
std::string guessSentence(const Answer& answer);

/// "Smallest tested change that turns it: setpoint 25 -> 26 degC (then it holds, ...).", or that
/// none was found; "" where none was looked for.
std::string turnSentence(const Answer& answer);

/// The caution that stands under the verdict where the engine runs while people sleep; else "".
std::string sleepersSentence(const Answer& answer);

/// Title line, level and sentence, the change that turns it, the sleepers' caution, the guess that
/// decides.
std::string verdictBlock(const Answer& answer, const TextStyle& style);

}  // namespace nightbank::report
