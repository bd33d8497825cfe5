#include <algorithm>
#include <cmath>
#include <variant>

#include "rules.h"
#include <fmt/format.h>

#include "nightbank/scenario/spread.h"

namespace nightbank::scenario {
namespace {

void checkCycleLife(const Rules& rules, const std::vector<LifePoint>& points) {
  const std::string path = "prices.bank.cycle_life";
  if (points.size() == 1)
    return rules.error(path, "", path + " has one depth; expected two or more");
  for (std::size_t i = 1; i < points.size(); ++i) {
    const std::string item = fmt::format("{}[{}]", path, i);
    if (!(points[i].depth.value > points[i - 1].depth.value))
      rules.error(item + ".depth", "", item + ".depth is not above the one before");
    else if (points[i].cycles.value > points[i - 1].cycles.value)
      rules.error(item + ".cycles", "",
                  item + ".cycles is above the one before: deeper cycles do not last longer");
  }
}

// What lasts for years is shared by the nights of a year.
void checkYears(const Rules& rules, const Prices& prices) {
  if (prices.nightsPerYear.given)
    return;
  const auto tell = [&](const std::string& path) {
    rules.error(path, "", path + " says nothing of a night without prices.nights_per_year");
  };
  if (prices.bank && prices.bank->years.given)
    tell("prices.bank.years");
  for (const Purchase& purchase : prices.purchases)
    if (purchase.years.given)
      tell(fmt::format("prices.purchases.{}.years", purchase.name));
}

// No error: an edit may move the value, and the range is still what was judged.
void warnOfOutside(const Rules& rules, std::size_t index, const Spread& spread) {
  const double value = read(spread.slot, rules.resolved);
  if (spread.shape == Spread::Shape::even && !std::isnan(value))
    rules.warning(fmt::format("risk[{}].low", index), "",
                  fmt::format("{} is {} in the scenario, outside of this range: it is drawn evenly",
                              rules.given.risk[index].path, format(value, spread.slot.dim)));
}

}  // namespace

void checkPrices(const Rules& rules) {
  if (!rules.given.prices)
    return;
  const Prices& prices = *rules.given.prices;
  if (prices.bank)
    checkCycleLife(rules, prices.bank->cycleLife);
  if (prices.bank && prices.bank->cycleLife.empty() && !prices.bank->years.given)
    rules.error("prices.bank", "",
                "prices.bank is worn out by nothing; expected cycle_life, years or both");
  checkYears(rules, prices);
  if (rules.given.generator)
    return;
  if (prices.oilChange.given)
    rules.error("prices.oil_change", "", "prices.oil_change is of a generator; there is none");
  for (const Purchase& purchase : prices.purchases)
    if (purchase.engine_s.given)
      rules.error(fmt::format("prices.purchases.{}.engine_hours", purchase.name), "",
                  fmt::format("prices.purchases.{}.engine_hours is of a generator; there is none",
                              purchase.name));
}

void checkRisk(const Rules& rules) {
  const std::vector<RiskInput>& inputs = rules.given.risk;
  for (std::size_t i = 0; i < inputs.size(); ++i) {
    auto spread = spreadOf(rules.given, rules.resolved, i);
    if (auto* problem = std::get_if<Problem>(&spread))
      rules.problems.push_back(std::move(*problem));
    else
      warnOfOutside(rules, i, std::get<Spread>(spread));
    const auto same = [&](const RiskInput& other) { return other.path == inputs[i].path; };
    if (std::any_of(inputs.begin(), inputs.begin() + static_cast<std::ptrdiff_t>(i), same))
      rules.error(fmt::format("risk[{}].path", i), "",
                  fmt::format("risk[{}].path is {} once more", i, inputs[i].path));
  }
}

}  // namespace nightbank::scenario
