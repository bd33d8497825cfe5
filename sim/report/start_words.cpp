#include <algorithm>
#include <array>
#include <cmath>

#include "start_parts.h"
#include <fmt/format.h>

#include "nightbank/report/findings.h"
#include "nightbank/report/start.h"
#include "nightbank/report/text.h"
#include "nightbank/units/quantity.h"

namespace nightbank::report {
namespace {

struct StartWord {
  std::string_view word, text;
};

// In the order of the enumerations.
constexpr std::array<StartWord, 4> kStartSources{{{"inverter", "inverter"},
                                                  {"generator", "generator"},
                                                  {"one_set", "one set"},
                                                  {"together", "together"}}};
constexpr std::array<StartWord, 6> kStartLimits{{{"short_time", "short time"},
                                                 {"running", "running"},
                                                 {"low_voltage", "cut-off"},
                                                 {"protection", "protection"},
                                                 {"voltage", "voltage"},
                                                 {"low_idle", "low idle"}}};
constexpr std::array<StartWord, 3> kStartWhens{
    {{"cold", "cold"}, {"hot", "hot"}, {"on_top", "on top"}}};

template <class E, std::size_t N>
const StartWord& wordsOf(const std::array<StartWord, N>& all, E value) {
  return all.at(static_cast<std::size_t>(value));
}

std::string secondsText(double time_s) {
  return format(time_s, Dim::duration);
}

// The typical value that turns it, and how to find it.
std::string startGuessOf(const StartAnswer& answer, const StartCase& one) {
  const Finding finding = findingFor(answer.resolved, one.guess);
  return fmt::format(
      "; but {} is a guess that may turn it, at {} it would not hold (to find it: {})",
      finding.thing, printable(one.badEnd), finding.how);
}

}  // namespace

std::string startReason(const StartElement& element) {
  switch (element.limit) {
    case StartLimit::shortTime:
      return fmt::format("for {} the start takes {}", secondsText(element.time_s),
                         elementText(element));
    case StartLimit::running:
      return fmt::format("once it runs, everything together takes {}", elementText(element));
    case StartLimit::lowVoltage:
      return fmt::format(
          "before the inverter cuts off the bank gives {:.0f} A at {:.1f} V, and the "
          "start takes {:.0f} A",
          element.available, element.at_V, element.needed);
    case StartLimit::protection:
      return fmt::format(
          "the bank's protection lets out {:.0f} A for so long, and the start takes "
          "{:.0f} A at {:.1f} V",
          element.available, element.needed, element.at_V);
    case StartLimit::voltage:
      return fmt::format("the voltage dips to {:.0f} V, and the motor may stall below {:.0f} V",
                         element.available, element.needed * kMayStall / kStalls);
    case StartLimit::lowIdle:
      return "its low-idle throttle is on, and an engine that idles answers late";
  }
  return "";
}

std::string_view startWords(StartLevel level) {
  switch (level) {
    case StartLevel::starts:
      return "should start";
    case StartLevel::doubtful:
      return "doubtful";
    case StartLevel::trips:
      return "expected to trip";
  }
  return "";
}

std::string_view startLevelWord(StartLevel level) {
  constexpr std::string_view kWords[] = {"should_start", "doubtful", "expected_to_trip"};
  return kWords[static_cast<std::size_t>(level)];
}

std::string_view startSourceText(StartSource source) {
  return wordsOf(kStartSources, source).text;
}

std::string_view startSourceWord(StartSource source) {
  return wordsOf(kStartSources, source).word;
}

std::string_view startLimitText(StartLimit limit) {
  return wordsOf(kStartLimits, limit).text;
}

std::string_view startLimitWord(StartLimit limit) {
  return wordsOf(kStartLimits, limit).word;
}

std::string_view startWhenText(StartWhen when) {
  return wordsOf(kStartWhens, when).text;
}

std::string_view startWhenWord(StartWhen when) {
  return wordsOf(kStartWhens, when).word;
}

std::string elementText(const StartElement& element) {
  return fmt::format("{:.1f} A of {:.0f} V against {:.1f} A", element.needed, element.at_V,
                     element.available);
}

const StartCase& decidingCase(const StartAnswer& answer, StartSource source) {
  const StartCase* worst = nullptr;
  for (const StartCase& one : answer.cases) {
    if (one.source != source || !one.asFitted)
      continue;
    const bool isWorse = worst == nullptr || one.level > worst->level ||
                         (one.level == worst->level &&
                          one.test.limiting().margin() < worst->test.limiting().margin());
    worst = isWorse ? &one : worst;
  }
  return *worst;
}

std::string startSentence(const StartAnswer& answer) {
  std::string text;
  for (const StartSource source : sourcesOf(answer.cases)) {
    const StartCase& one = decidingCase(answer, source);
    const std::string name = printable(answer.plant.airConditioners[one.unit].name);
    const std::string_view level = startWords(one.level);
    text += text.empty() ? "On these numbers '" : " '";
    text += one.level == StartLevel::starts
                ? fmt::format("{}' {} on the {}", name, level, startSourceText(source))
                : fmt::format("{}' is {} on the {}", name, level, startSourceText(source));
    text += fmt::format(" ({}): {}", startWhenText(one.when), startReason(one.test.limiting()));
    if (!one.guess.empty())
      text += startGuessOf(answer, one);
    text += '.';
  }
  return text;
}

}  // namespace nightbank::report
