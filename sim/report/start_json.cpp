#include <cmath>

#include "json_parts.h"
#include "start_parts.h"
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "nightbank/report/start.h"

namespace nightbank::report {

Json startElementJson(const StartElement& element) {
  return {{"limit", startLimitWord(element.limit)},
          {"needed", decimals(element.needed, 3, "needed")},
          {"available", decimals(element.available, 3, "available")},
          {"unit", element.limit == StartLimit::voltage ? "V" : "A"},
          {"at_V", decimals(element.at_V, 3, "at_V")},
          {"margin", decimals(element.margin(), 6, "margin")},
          {"for_s",
           std::isfinite(element.time_s) ? Json(decimals(element.time_s, 3, "for_s")) : Json()}};
}

namespace {

Json startCaseOf(const StartAnswer& answer, const StartCase& one) {
  Json elements = Json::array();
  for (std::size_t i = 0; i < one.test.count; ++i)
    elements.push_back(startElementJson(one.test.elements[i]));
  const StartTest& test = one.test;
  return {
      {"air_conditioner", answer.plant.airConditioners[one.unit].name},
      {"source", startSourceWord(one.source)},
      {"soft_starter", one.soft},
      {"as_fitted", one.asFitted},
      {"when", startWhenWord(one.when)},
      {"level", startLevelWord(one.level)},
      {"limited_by", startLimitWord(test.limiting().limit)},
      {"elements", elements},
      {"start_A", decimals(test.start_A, 3, "start_A")},
      {"start_s", decimals(test.start_s, 3, "start_s")},
      {"running_W", decimals(test.running_W, 1, "running_W")},
      {"running_VA", decimals(test.running_A * answer.plant.start.mains_V, 1, "running_VA")},
      {"continuous_VA",
       decimals(test.continuous_A * answer.plant.start.mains_V, 1, "continuous_VA")},
      {"overload_after_s", std::isfinite(test.overloadAfter_s)
                               ? Json(decimals(test.overloadAfter_s, 3, "overload_after_s"))
                               : Json()},
      {"guess", one.guess.empty() ? Json() : Json({{"path", one.guess}, {"bad_end", one.badEnd}})}};
}

Json startRemedyOf(const StartRemedy& remedy) {
  Json edits = Json::array();
  for (const scenario::Edit& edit : remedy.edits)
    edits.push_back({{"path", edit.path}, {"value", edit.value}});
  return {{"source", startSourceWord(remedy.source)},
          {"steps", remedy.steps},
          {"set", edits},
          {"level", startLevelWord(remedy.level)}};
}

}  // namespace

std::string startJson(const StartAnswer& answer, std::span<const Warning> ofReader) {
  Json cases = Json::array(), help = Json::array(), warnings = Json::array();
  for (const StartCase& one : answer.cases)
    cases.push_back(startCaseOf(answer, one));
  for (const StartRemedy& remedy : answer.remedies)
    help.push_back(startRemedyOf(remedy));
  for (const Warning& warning : ofReader)
    warnings.push_back({{"about", warning.about}, {"text", warning.text}});
  for (const StartDoubt& doubt : answer.doubts)
    warnings.push_back({{"about", doubt.path}, {"text", doubt.text}});
  const Json object = {{"title", answer.plant.title},
                       {"verdict",
                        {{"level", startLevelWord(answer.level)},
                         {"sentence", startSentence(answer)},
                         {"source", startSourceWord(answer.best)}}},
                       {"cases", cases},
                       {"remedies", help},
                       {"warnings", warnings}};
  return object.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

std::string startCsv(const StartAnswer& answer) {
  constexpr double kStep_s = 0.02;
  constexpr double kSettled_s = 1.0;
  std::string text =
      "air_conditioner,source,soft_starter,when,time_s,current_A,available_A,"
      "voltage_V\r\n";
  for (const StartCase& one : answer.cases) {
    const StartTest& test = one.test;
    std::string name = answer.plant.airConditioners[one.unit].name;
    for (std::size_t at = 0; (at = name.find('"', at)) != name.npos; at += 2)
      name.insert(at, 1, '"');
    const SurgeList given = givenBy(answer.plant.start, one.source,
                                    worstMoment(answer.plant, {one.source, one.unit, {}}, false));
    const auto voltage =
        std::ranges::find(test.elements, StartLimit::voltage, &StartElement::limit);
    const bool dips = voltage != test.elements.end();
    const int steps = static_cast<int>((test.start_s + kSettled_s) / kStep_s);
    for (int i = 0; i <= steps; ++i) {
      const double time_s = i * kStep_s;
      const bool starting = time_s < test.start_s;
      text += fmt::format("\"{}\",{},{},{},{:.2f},{:.3f},{:.3f},{:.2f}\r\n", name,
                          startSourceWord(one.source), one.soft ? "yes" : "no",
                          startWhenWord(one.when), time_s, starting ? test.start_A : test.running_A,
                          givenFor_A(given.all(), time_s),
                          starting && dips ? voltage->available : answer.plant.start.mains_V);
    }
  }
  return text;
}

}  // namespace nightbank::report
