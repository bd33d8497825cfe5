#include <cmath>

#include "json_parts.h"
#include "risk_parts.h"
#include <nlohmann/json.hpp>

#include "nightbank/report/cautions.h"
#include "nightbank/report/risk.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

constexpr int kDigits = 6;

Json chanceOf(const Chance& chance) {
  return {{"share", decimals(chance.share(), kDigits, "share")},
          {"nights", chance.successes},
          {"of", chance.trials},
          {"low", decimals(chance.range.low, kDigits, "low")},
          {"high", decimals(chance.range.high, kDigits, "high")}};
}

Json percentilesOf(const Percentiles& of, double unit) {
  return {{"p5", decimals(of.low / unit, kDigits, "p5")},
          {"p50", decimals(of.middle / unit, kDigits, "p50")},
          {"p95", decimals(of.high / unit, kDigits, "p95")}};
}

Json inputOf(const DrawnInput& input) {
  Json object{{"path", input.path},
              {"known", drawnWord(input.as)},
              {"from", spreadText(input, UnitSystem::metric)}};
  if (input.isWord())
    object["words"] = input.words;
  return object;
}

Json weightOf(const RiskAnswer& answer, const InputWeight& weight) {
  Json object{{"path", answer.inputs[weight.input].path},
              {"margin_Wh_at_p5", decimals(weight.low_J / kWattHour_J, 3, "weight")},
              {"margin_Wh_at_p95", decimals(weight.high_J / kWattHour_J, 3, "weight")}};
  if (answer.hasStart) {
    object["start_margin_at_p5"] = decimals(weight.startLow, kDigits, "start");
    object["start_margin_at_p95"] = decimals(weight.startHigh, kDigits, "start");
  }
  object["first_order"] =
      weight.hasShares ? Json(decimals(weight.shares.first, 4, "first_order")) : Json();
  object["first_order_error"] =
      weight.hasShares ? Json(decimals(weight.shares.firstError, 4, "first_order_error")) : Json();
  object["total"] = weight.hasShares ? Json(decimals(weight.shares.total, 4, "total")) : Json();
  return object;
}

}  // namespace

std::string riskJson(const RiskAnswer& answer, std::span<const Warning> ofReader) {
  Json inputs = Json::array(), held = Json::array(), weights = Json::array();
  for (const DrawnInput& input : answer.inputs)
    inputs.push_back(inputOf(input));
  for (const HeldInput& one : answer.held)
    held.push_back({{"path", one.path}, {"why", one.why}});
  for (const InputWeight& weight : answer.weights)
    weights.push_back(weightOf(answer, weight));
  Json warnings = Json::array();
  for (const Warning& warning : ofReader)
    warnings.push_back({{"about", warning.about}, {"text", warning.text}});
  const bool hasEngine = answer.hasGenerator;
  const Json object{
      {"title", answer.resolved.title},
      {"nights", answer.options.nights},
      {"seed", answer.options.seed},
      {"even", answer.options.isEven},
      {"left_out", answer.leftOut},
      {"confidence", answer.options.confidence},
      {"floor_holds", chanceOf(answer.floor)},
      {"night_holds", chanceOf(answer.night)},
      {"start_succeeds", answer.hasStart ? chanceOf(answer.start) : Json()},
      {"lowest_soc", percentilesOf(answer.lowestSoc, 1.0)},
      {"end_soc", percentilesOf(answer.endSoc, 1.0)},
      {"lowest_soc_counts", answer.lowestCounts},
      {"end_soc_counts", answer.endCounts},
      {"margin_Wh", percentilesOf(answer.margin_J, kWattHour_J)},
      {"generator_hours", hasEngine ? percentilesOf(answer.engine_s, kHour_s) : Json()},
      {"fuel_L", hasEngine ? percentilesOf(answer.fuel_m3, kLitre_m3) : Json()},
      {"margin_Wh_as_given", decimals(answer.usualMargin_J / kWattHour_J, 3, "margin")},
      {"nights_per_share", answer.shareNights},
      {"weights", weights},
      {"inputs", inputs},
      {"held", held},
      {"warnings", warnings},
      {"cautions", cautions(answer.resolved)}};
  return object.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace nightbank::report
