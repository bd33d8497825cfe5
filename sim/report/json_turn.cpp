#include "json_parts.h"
#include <nlohmann/json.hpp>

#include "nightbank/report/words.h"

namespace nightbank::report {
namespace {

std::string_view effortWord(Effort effort) {
  switch (effort) {
    case Effort::setting:
      return "setting";
    case Effort::habit:
      return "habit";
    case Effort::purchase:
      return "purchase";
  }
  return "";
}

}  // namespace

Json turnOf(const Answer& answer, const Wh& wh) {
  if (!answer.turn)
    return nullptr;
  if (!answer.turn->change)
    return {{"change", nullptr}, {"tried", answer.turn->tried}};
  const TurningChange& change = *answer.turn->change;
  Json set = Json::array();
  for (const scenario::Edit& edit : change.edits)
    set.push_back({{"path", edit.path}, {"value", edit.value}});
  const Json then = {{"level", levelWord(change.level)},
                     {"margin_Wh", wh(change.margin_J, "smallest_change.margin_Wh")},
                     {"lowest_soc", decimals(change.lowestSoc, 6, "smallest_change.lowest_soc")},
                     {"lowest_at", moment(answer.night.plant, change.lowestAt_s)}};
  return {{"change",
           {{"words", change.words},
            {"effort", effortWord(change.effort)},
            {"set", set},
            {"then", then}}},
          {"tried", nullptr}};
}

}  // namespace nightbank::report
