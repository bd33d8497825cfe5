#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "nightbank/report/sections.h"
#include "nightbank/report/text.h"
#include "nightbank/study/risk.h"

/// Words that the answers to a risk share. Private to the room.
namespace nightbank::report {

/// "typical", "nameplate", ... as in the JSON answer.
std::string_view drawnWord(DrawnAs as);

/// "23 %"; near an end with decimals: "99.7 %".
std::string chanceText(double share);

/// What an input is drawn from: "9 W to 37 W, most likely 25 W", "25 W +- 0.5 W", "one of ...".
std::string spreadText(const DrawnInput& input, UnitSystem units);

/// "On these numbers and their ranges ..."
std::string chanceSentence(const RiskAnswer& answer);

/// Weights by what they move of the start's margin, the heaviest first.
std::vector<InputWeight> startWeights(const RiskAnswer& answer);

/// The heaviest input that is not measured yet, of bank or start, whichever is less sure, and how a
/// person finds its value; "" where nothing moves anything.
std::string measureSentence(const RiskAnswer& answer);

/// Percentiles, what moves bank and start most, what was drawn.
std::vector<Section> riskSections(const RiskAnswer& answer, UnitSystem units);

/// The seed, and nights that were left out.
std::string drawSentence(const RiskAnswer& answer);

/// A path in at most `width` columns: where it is longer, without its first keys.
std::string pathText(std::string_view path, int width);

}  // namespace nightbank::report
