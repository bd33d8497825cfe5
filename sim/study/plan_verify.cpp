#include <algorithm>
#include <cmath>
#include <utility>

#include "plan_money.h"
#include "plan_parts.h"

#include "nightbank/simulate/simulate.h"

namespace nightbank {
namespace {

/// A lowest charge this little below what is to be kept is rounding.
constexpr double kKept = 1e-9;

void cut(const Segment& segment, double end_s, const std::vector<Interval>& runs,
         std::vector<Segment>& result) {
  Segment part = segment;
  for (const Interval& run : runs) {
    if (run.to_s <= part.start_s || run.from_s >= end_s)
      continue;
    if (run.from_s > part.start_s) {
      part.handUntil_s = -1.0;
      result.push_back(part);
      part.start_s = run.from_s;
    }
    part.handUntil_s = run.to_s;
    result.push_back(part);
    part.start_s = run.to_s;
    if (run.to_s >= end_s)
      return;
  }
  part.handUntil_s = -1.0;
  if (part.start_s < end_s)
    result.push_back(part);
}

double firstBelow_s(const Plant& plant, const Recorder& recorder, double soc) {
  for (const Sample& sample : recorder.samples)
    if (sample.socEnd < soc - kKept)
      return std::min(sample.start_s + plant.step_s, plant.span_s);
  return kNever_s;
}

}  // namespace

Plant withRuns(Plant plant, const std::vector<Interval>& runs) {
  plant.rule.active = false;
  std::vector<Segment> segments;
  for (std::size_t i = 0; i < plant.segments.size(); ++i)
    cut(plant.segments[i],
        i + 1 < plant.segments.size() ? plant.segments[i + 1].start_s : plant.span_s, runs,
        segments);
  plant.segments = std::move(segments);
  return plant;
}

PlanWeights weightsFor(scenario::Aim aim, double startWorth_m3) {
  switch (aim) {
    case scenario::Aim::fuel:
      return {1.0, 1e-12, startWorth_m3, 0.0};
    case scenario::Aim::hours:
      return {1.0, 1.0, 1e-3, 0.0};
    case scenario::Aim::starts:
      return {1.0, 1e-9, 1.0, 0.0};
    case scenario::Aim::lateStart:
      return {1.0, 1e-6, 1e-3, 1.0};
    case scenario::Aim::money:  // by prices, see moneyWeights()
      break;
  }
  return {};
}

double weighed(const PlanWeights& weights, const PlanCost& cost, double span_s) {
  const double early_s = std::isnan(cost.firstStart_s) ? 0.0 : span_s - cost.firstStart_s;
  return weights.fuel_1_m3 * cost.fuel_m3 + weights.engine_1_s * cost.engine_s +
         weights.start * cost.starts + weights.early_1_s * early_s + weights.wear * cost.wear;
}

PlanCost costOf(const PlannedNight& planned) {
  const GeneratorOutcome& generator = planned.night.outcome.generator;
  const std::vector<GeneratorRun>& runs = planned.night.recorder.runs;
  return {generator.fuel_m3, generator.engine_s, generator.starts,
          runs.empty() ? kNever_s : runs.front().from_s, planned.wear};
}

double tooWarmBy_s(const Outcome& outcome, double mostWarm_s) {
  constexpr double kRounding_s = 1.0;
  const double by_s = outcome.cabin.tooWarm_s - mostWarm_s;
  return by_s > kRounding_s ? by_s : 0.0;
}

PlanVerifier::PlanVerifier(const Plant& base, const PlanWish& wish)
    : plant(base), keepSoc(wish.keepSoc), mostWarm_s(wish.mostWarm_s), priced(wish.priced) {
  plant.rule.active = false;
  for (Segment& segment : plant.segments)
    segment.handUntil_s = -1.0;
}

PlannedNight PlanVerifier::run(const std::vector<Interval>& runs) {
  PlannedNight planned;
  planned.runs = runs;
  Night& night = planned.night;
  night.plant = withRuns(plant, runs);
  night.recorder = makeRecorder(night.plant);
  night.outcome = simulate(night.plant, night.recorder);
  night.judgement = judge(night.outcome);
  if (priced)
    planned.wear = wearMoney(*priced, night);
  ++count;
  const Outcome& outcome = night.outcome;
  const Judgement& judged = night.judgement;
  planned.tooWarmBy_s = tooWarmBy_s(outcome, mostWarm_s);
  const bool isKept = outcome.bank.lowestSoc >= keepSoc - kKept;
  planned.fits = isKept && outcome.bank.spentBy == SpentBy::nothing &&
                 judged.rating == Level::holds && judged.starts != Level::fails &&
                 judged.service == Level::holds && judged.rules == Level::holds &&
                 planned.tooWarmBy_s == 0.0;
  if (planned.fits)
    return planned;
  const double lacks_J = storedEnergy_J(night.plant.bank, keepSoc) -
                         storedEnergy_J(night.plant.bank, outcome.bank.lowestSoc);
  planned.short_J = std::max(0.0, lacks_J) + outcome.energy_J.unservedAtBank;
  planned.lacksFrom_s = firstBelow_s(night.plant, night.recorder, keepSoc);
  return planned;
}

bool isBetterPlan(const PlannedNight& a, const PlannedNight& b, const PlanWeights& weights) {
  if (a.fits != b.fits)
    return a.fits;
  const auto trips = [](const PlannedNight& one) {
    return one.night.judgement.rating != Level::holds;
  };
  if (trips(a) != trips(b))
    return trips(b);
  // What the bank lacks, and what had no other source.
  const auto lacks_J = [](const PlannedNight& one) {
    const EnergyOutcome& energy_J = one.night.outcome.energy_J;
    return one.short_J + std::max(0.0, energy_J.unserved - energy_J.unservedAtBank);
  };
  constexpr double kAlike_J = 360.0;
  if (!a.fits && std::abs(lacks_J(a) - lacks_J(b)) > kAlike_J)
    return lacks_J(a) < lacks_J(b);
  constexpr double kAlike_s = 60.0;
  if (!a.fits && std::abs(a.tooWarmBy_s - b.tooWarmBy_s) > kAlike_s)
    return a.tooWarmBy_s < b.tooWarmBy_s;
  const auto cost = [&](const PlannedNight& one) {
    return weighed(weights, costOf(one), one.night.outcome.span_s);
  };
  return cost(a) < cost(b);
}

}  // namespace nightbank
