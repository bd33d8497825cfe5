#include <cmath>

#include "numbers_json.h"
#include <nlohmann/json.hpp>

#include "nightbank/report/size.h"

namespace nightbank::report {
namespace {

Json sizeSetOf(const SizeAnswer& answer, const SizeSet& set) {
  Json items = Json::object(), edits = Json::array();
  for (std::size_t i = 0; i < answer.choices.size(); ++i) {
    const SizeItem& item = answer.choices[i].items[set.items[i]];
    items[answer.choices[i].name] = item.label;
    for (const scenario::Edit& edit : item.edits)
      edits.push_back({{"path", edit.path}, {"value", edit.value}});
  }
  return {{"items", items},
          {"set", edits},
          {"price", decimals(set.price, 2, "price")},
          {"mass_kg", decimals(set.mass_kg, 3, "mass_kg")},
          {"noise_dBA",
           std::isfinite(set.noise_dBA) ? Json(decimals(set.noise_dBA, 2, "noise_dBA")) : Json()}};
}

Json shoppingOf(const SizeAnswer& answer, const SizeQuestion& question) {
  if (!answer.best)
    return nullptr;
  const SizeSet& set = answer.best->set;
  Json lines = Json::array();
  for (const ShoppingLine& line : shoppingList(*question.given.sizing, answer.choices, set))
    lines.push_back({{"choice", line.choice},
                     {"option", line.option},
                     {"pieces", line.pieces},
                     {"each", decimals(line.each, 2, "each")},
                     {"price", decimals(line.price, 2, "price")},
                     {"mass_kg", decimals(line.mass_kg, 3, "mass_kg")}});
  const auto& prices = question.given.prices;
  return {{"lines", lines},
          {"price", decimals(set.price, 2, "price")},
          {"mass_kg", decimals(set.mass_kg, 3, "mass_kg")},
          {"currency", prices ? Json(prices->currency) : Json()}};
}

Json sizeRunOf(const SizeAnswer& answer, const SizeRun& run, bool withNights) {
  Json object = sizeSetOf(answer, run.set);
  object["holds"] = run.holds;
  object["problem"] = run.why.empty() ? Json() : Json(run.why);
  object["night"] = run.why.empty() ? numbersOf(run.numbers) : Json();
  object["nights_share"] =
      withNights ? Json(decimals(run.nightsShare(), 6, "nights_share")) : Json();
  object["nights"] = withNights ? Json(run.nights) : Json();
  object["starts"] = startsOf(run.starts);
  return object;
}

}  // namespace

std::string sizeJson(const SizeAnswer& answer, const SizeQuestion& question,
                     std::span<const Warning> ofReader) {
  const bool withNights = question.given.sizing->nights.known();
  Json tradeOff = Json::array(), steps = Json::array(), warnings = Json::array();
  for (const SizeRun& run : answer.tradeOff)
    tradeOff.push_back(sizeRunOf(answer, run, withNights));
  for (const SizeStep& step : answer.steps) {
    Json one = sizeRunOf(answer, step.run, withNights);
    one["choice"] = answer.choices[step.choice].name;
    steps.push_back(std::move(one));
  }
  for (const Warning& warning : ofReader)
    warnings.push_back({{"about", warning.about}, {"text", warning.text}});
  const auto maybeRun = [&](const std::optional<SizeRun>& run) {
    return run ? sizeRunOf(answer, *run, withNights) : Json();
  };
  const Json object = {{"sentence", sizeSentence(answer, question)},
                       {"best", maybeRun(answer.best)},
                       {"shopping", shoppingOf(answer, question)},
                       {"nearest", maybeRun(answer.nearest)},
                       {"trade_off", tradeOff},
                       {"steps", steps},
                       {"sets", answer.sets},
                       {"within_limits", answer.withinLimits},
                       {"runs", answer.runs},
                       {"warnings", warnings}};
  return object.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace nightbank::report
