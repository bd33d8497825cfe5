#include "nightbank/study/cost.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "nightbank/devices/wear.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

// Moves below this are no cycles. `common practice, no source`
constexpr double kHysteresis = 0.01;

// More than this missing is a night that was not served, as in judge(). [J]
constexpr double kMissing_J = kWattHour_J;

std::vector<Cycle> cyclesOf(const Night& night) {
  std::vector<double> history{night.outcome.bank.startSoc};
  for (const Sample& sample : night.recorder.samples)
    history.push_back(sample.socEnd);
  history.push_back(night.outcome.bank.startSoc);
  return rainflow(turningPoints(history, kHysteresis));
}

/// Of what lasts for years: a year is shared by its nights of use.
double calendarShare(const scenario::Prices& prices, double years, const Cost& cost) {
  return cost.nights / (years * prices.nightsPerYear.value);
}

BankWear wearOf(const scenario::Prices& prices, const Night& night, const Cost& cost) {
  BankWear worn;
  const std::vector<Cycle> cycles = cyclesOf(night);
  for (const Cycle& cycle : cycles) {
    worn.cycles += cycle.count;
    worn.deepest = std::max(worn.deepest, cycle.range);
  }
  std::vector<DepthLife> points;
  for (const scenario::LifePoint& point : prices.bank->cycleLife)
    points.push_back({point.depth.value, point.cycles.value});
  if (!points.empty())
    worn.byCycles = wear(points, cycles);
  if (prices.bank->years.known())
    worn.byCalendar = calendarShare(prices, prices.bank->years.value, cost);
  return worn;
}

void addEngine(const scenario::Scenario& resolved, const Night& night, Cost& cost) {
  const GeneratorOutcome& outcome = night.outcome.generator;
  const auto& generator = resolved.generator;
  if (!generator || !(outcome.engine_s > 0.0))
    return;
  if (generator->fuel && generator->fuel->price_per_m3.known())
    cost.lines.push_back(
        {CostItem::fuel, "", outcome.fuel_m3 * generator->fuel->price_per_m3.value, 0.0});
  else
    cost.notPriced.push_back(CostItem::fuel);
  const double changes = outcome.engine_s / generator->oilEvery_s.value;  // of all sets
  const scenario::Graded& oil = resolved.prices->oilChange;
  if (oil.known())
    cost.lines.push_back({CostItem::oil, "", changes * oil.value, changes});
  else
    cost.notPriced.push_back(CostItem::oil);
}

void addPurchases(const scenario::Prices& prices, const Night& night, Cost& cost) {
  const double engine_s = night.outcome.generator.engine_s / night.plant.sets;
  for (const scenario::Purchase& purchase : prices.purchases) {
    const double share = purchase.years.known() ? calendarShare(prices, purchase.years.value, cost)
                                                : engine_s / purchase.engine_s.value;
    cost.lines.push_back({CostItem::purchase, purchase.name, share * purchase.price.value, share});
  }
}

}  // namespace

void countNights(const Night& night, Cost& cost) {
  struct FromNoon {
    double wanted_s = 0.0, missing_J = 0.0;
  };

  std::map<std::int64_t, FromNoon> nights;
  for (const Sample& sample : night.recorder.samples) {
    const double local_s = night.plant.start_s + sample.start_s;
    FromNoon& one = nights[static_cast<std::int64_t>(std::floor(local_s / kDay_s - 0.5))];
    one.wanted_s += sample.wanted_s;
    one.missing_J += sample.unserved_J;
  }
  cost.nights = static_cast<int>(nights.size());
  cost.coolNights = static_cast<int>(std::ranges::count_if(nights, [](const auto& entry) {
    return entry.second.wanted_s > 0.0 && entry.second.missing_J <= kMissing_J;
  }));
}

Cost costOf(const Answer& answer, const Night& night) {
  return costOf(answer.resolved, night);
}

Cost costOf(const scenario::Scenario& resolved, const Night& night) {
  Cost cost;
  if (!resolved.prices)
    return cost;
  const scenario::Prices& prices = *resolved.prices;
  countNights(night, cost);
  addEngine(resolved, night, cost);
  if (prices.bank) {
    cost.hasWear = true;
    cost.wear = wearOf(prices, night, cost);
    cost.lines.push_back(
        {CostItem::bank, "", cost.wear.used() * prices.bank->purchase.value, cost.wear.used()});
  } else {
    cost.notPriced.push_back(CostItem::bank);
  }
  addPurchases(prices, night, cost);
  for (const CostLine& line : cost.lines)
    cost.total += line.cost;
  return cost;
}

}  // namespace nightbank
