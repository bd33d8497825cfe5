#include "numbers_json.h"
#include <nlohmann/json.hpp>

#include "nightbank/report/compare.h"
#include "nightbank/report/words.h"

namespace nightbank::report {

std::string compareJson(std::span<const Compared> all, std::span<const Warning> ofReader) {
  Json nights = Json::array(), warnings = Json::array();
  for (const Compared& one : all) {
    Json night = {{"name", one.name},
                  {"title", one.answer.night.plant.title},
                  {"sentence", verdictSentence(one.answer)},
                  {"grade", gradeWord(one.answer.grade)},
                  {"non_dominated", one.isNonDominated}};
    night.update(numbersOf(one.numbers));
    night["limited_by"] = limitedBy(one.answer);
    night["starts"] = startsOf(one.starts);
    night["against_first"] = compareChange(all.front(), one, UnitSystem::metric);
    nights.push_back(std::move(night));
  }
  for (const Warning& warning : ofReader)
    warnings.push_back({{"about", warning.about}, {"text", warning.text}});
  const Json object = {
      {"verdict", compareSentence(all)}, {"nights", nights}, {"warnings", warnings}};
  return object.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

std::string compareCsv(std::span<const Compared> all) {
  std::string text = "name" + numbersCsvHead() + ",non_dominated\r\n";
  for (const Compared& one : all)
    text +=
        csvCell(one.name) + numbersCsv(one.numbers) + (one.isNonDominated ? ",1" : ",0") + "\r\n";
  return text;
}

}  // namespace nightbank::report
