#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <nlohmann/json_fwd.hpp>

#include "nightbank/report/sections.h"
#include "nightbank/study/start.h"

/// Words that text and JSON of a start share. Private to the room.
namespace nightbank::report {

/// "should_start"
std::string_view startLevelWord(StartLevel level);
/// "generator", "one set of the generator"
std::string_view startSourceText(StartSource source);
/// "generator", "one_set"
std::string_view startSourceWord(StartSource source);
/// "short-time current"
std::string_view startLimitText(StartLimit limit);
std::string_view startLimitWord(StartLimit limit);
std::string_view startWhenText(StartWhen when);
std::string_view startWhenWord(StartWhen when);

/// "On these numbers the generator is expected to trip: ..."
std::string startSentence(const StartAnswer& answer);

/// What limits a start: "for 0.2 s the start takes 65 A of 120 V against 36 A".
std::string startReason(const StartElement& element);

/// The worst case of a source as fitted.
const StartCase& decidingCase(const StartAnswer& answer, StartSource source);

/// What it takes, gives, and how far: "65.2 A of 120 V against 35 A".
std::string elementText(const StartElement& element);

/// An element's object, see json_parts.h.
nlohmann::ordered_json startElementJson(const StartElement& element);

/// "13.8 A"
std::string elementAmount(double amount, StartLimit limit);

/// All cases of one unit; its heading tells its currents. Without rows: none was tested.
Section startSection(const StartAnswer& answer, std::size_t unit);

/// What is told below the cards: what runs then, what would help, wiring, doubtful readings.
std::vector<Section> startSections(const StartAnswer& answer);

/// What the card's columns mean.
std::string_view startCardNote();

/// "generator: one more set in parallel: should start"
std::vector<std::string> startRemedyTexts(const StartAnswer& answer);

std::span<const std::string_view> startCautions();

}  // namespace nightbank::report
