#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "fit_model.h"
#include <fmt/format.h>

#include "nightbank/scenario/resolve.h"

/// How far a value may be off by its grade: `common practice, no source`.
namespace nightbank {
namespace {

using scenario::Grade;
using scenario::Scenario;

/// What a value's errors are like.
enum class FitSize : std::uint8_t {
  usual,  ///< in proportion: 5 % measured, 15 % by its label
  draw,   ///< small loads, of which labels say little: 10 %, 30 %
  share,  ///< of one: 0.03, 0.06
  slope,  ///< of watts with the heat: 0.003 and 0.006 per kelvin; not given 0.015, for 1 to 3 %
};

/// Anything from 0 to 1: the deviation of an even draw.
const double kAnyShare = 1.0 / std::sqrt(12.0);

struct GradeErrors {
  double measured, nameplate, typical;
};

GradeErrors errorsOf(FitSize size, double value) {
  switch (size) {
    case FitSize::usual:
      return {0.05 * value, 0.15 * value, 0.30 * value};
    case FitSize::draw:
      return {0.10 * value, 0.30 * value, 0.50 * value};
    case FitSize::share:
      return {0.03, 0.06, 0.15};
    case FitSize::slope:
      return {0.003, 0.006, 0.015};
  }
  return {};
}

/// Half of the range of a typical value, by path. [kept unit]
std::map<std::string, double> halfRanges(const Scenario& given) {
  std::map<std::string, double> found;
  for (const scenario::TypicalValue& typical : scenario::typicalValues(given)) {
    const auto bound = scenario::bind(given, typical.path);
    const auto* slot = std::get_if<scenario::Slot>(&bound);
    if (slot == nullptr)
      continue;
    const auto numberOf = [&](std::string text) {
      constexpr std::string_view kGrade = " typical";
      if (text.ends_with(kGrade))
        text.erase(text.size() - kGrade.size());
      const auto parsed = parseQuantity(text, slot->dim);
      const auto* quantity = std::get_if<Quantity>(&parsed);
      return quantity == nullptr ? std::nan("") : quantity->value;
    };
    const double half = 0.5 * (numberOf(typical.high) - numberOf(typical.low));
    if (half > 0.0)
      found[typical.path] = half;
  }
  return found;
}

class InputList {
 public:
  InputList(const Scenario& given, FitInputs& out)
      : given_(given), resolved_(scenario::resolve(given)), halves_(halfRanges(given)), out_(out) {}

  const Scenario& resolved() const { return resolved_; }

  /// @param graded  as given; its grade is that of the prior
  void add(const std::string& path, const scenario::Graded& graded, FitSize size, int night = -1) {
    const auto bound = scenario::bind(given_, path);
    const auto* slot = std::get_if<scenario::Slot>(&bound);
    const double value = slot == nullptr ? std::nan("") : scenario::read(*slot, resolved_);
    const bool mayBeZero = size == FitSize::share || size == FitSize::slope;
    if (std::isnan(value) || (value == 0.0 && !mayBeZero))
      return;
    FitInput input;
    input.path = path;
    input.dim = slot->dim;
    input.night = night;
    input.grade = graded.given ? graded.grade : Grade::typical;
    input.isGiven = graded.given;
    input.prior = input.value = value;
    const GradeErrors errors = errorsOf(size, std::abs(value));
    const auto half = halves_.find(path);
    input.priorDeviation = input.grade == Grade::measured    ? errors.measured
                           : input.grade == Grade::nameplate ? errors.nameplate
                           : half != halves_.end()           ? half->second
                                                             : errors.typical;
    settle(input, *slot, size);
    out_.inputs.push_back(std::move(input));
    out_.targets.push_back({{*slot}, {path}, {}, false});
  }

  /// A factor on the entries of a list.
  void addFactor(const std::string& path, std::string_view key, std::size_t count, bool divides) {
    FitInput input;
    input.path = path;
    input.isFactor = input.isGiven = true;
    input.dim = Dim::number;
    input.grade = Grade::nameplate;
    input.prior = input.value = 1.0;
    input.priorDeviation = input.deviation = 0.15;
    input.low = 0.3;
    input.high = 3.0;
    FitTarget target;
    target.divides = divides;
    for (std::size_t i = 0; i < count; ++i) {
      target.paths.push_back(fmt::format("{}.{}.{}", path, i, key));
      const auto bound = scenario::bind(given_, target.paths.back());
      const auto* slot = std::get_if<scenario::Slot>(&bound);
      if (slot == nullptr)
        return;
      target.slots.push_back(*slot);
      target.base.push_back(scenario::read(*slot, given_));
    }
    out_.inputs.push_back(std::move(input));
    out_.targets.push_back(std::move(target));
  }

 private:
  /// Within what the reader takes, and within reason.
  static void settle(FitInput& input, const scenario::Slot& slot, FitSize size) {
    constexpr double kMostOff = 8.0;  // standard deviations
    double low = input.prior - kMostOff * input.priorDeviation;
    if (size == FitSize::usual || size == FitSize::draw)
      low = std::max(low, 0.1 * input.prior);
    input.low = std::min(std::max(low, slot.low + 1e-6), input.prior);
    input.high =
        std::max(std::min(input.prior + kMostOff * input.priorDeviation, slot.high), input.prior);
    input.deviation = input.priorDeviation;
  }

  const Scenario& given_;
  Scenario resolved_;
  std::map<std::string, double> halves_;
  FitInputs& out_;
};

std::set<Reading::Kind> kindsOf(const std::vector<ModelNight>& nights) {
  std::set<Reading::Kind> kinds;
  for (const ModelNight& night : nights)
    for (const Reading& reading : night.readings.readings)
      kinds.insert(reading.kind);
  return kinds;
}

void addUnits(const Scenario& given, const FreeInputs& free, InputList& list) {
  for (const scenario::AirConditioner& unit : given.airConditioners) {
    const std::string path = "air_conditioners." + unit.name;
    if (unit.running.power_W.known())
      list.add(path + ".running.power", unit.running.power_W, FitSize::usual);
    else
      list.add(path + ".running.current", unit.running.current_A, FitSize::usual);
    if (const std::string slope = powerPerKelvinPath(unit);
        unit.running.powerPerKelvin.given ||
        std::ranges::find(free.slopes, slope) != free.slopes.end())
      list.add(slope, unit.running.powerPerKelvin, FitSize::slope);
    if (unit.duty.size() == 1)
      list.add(path + ".duty", unit.duty.front().share, FitSize::share);
    for (std::size_t i = 0; i < unit.duty.size() && unit.duty.size() > 1; ++i)
      list.add(fmt::format("{}.duty.{}.share", path, i), unit.duty[i].share, FitSize::share);
  }
}

void addBank(const scenario::Bank& bank, bool hasVoltage, InputList& list) {
  if (bank.capacity_Ah.known())
    list.add("bank.capacity", bank.capacity_Ah, FitSize::usual);
  if (hasVoltage)
    list.add("bank.resistance", bank.resistance_ohm, FitSize::draw);
}

void addSources(const Scenario& given, const std::set<Reading::Kind>& kinds, InputList& list) {
  if (given.charger) {
    list.add("charger.output_current", given.charger->outputCurrent_A, FitSize::usual);
    list.add("charger.efficiency", given.charger->efficiency, FitSize::share);
  }
  for (std::size_t i = 0; i < given.solar.size(); ++i) {
    const std::string& name = given.solar[i].name;
    const std::string path = name.empty() ? fmt::format("solar.{}", i) : "solar." + name;
    list.add(path + ".derate", given.solar[i].derate, FitSize::share);
  }
  if (!given.generator || !given.generator->fuel || !kinds.contains(Reading::Kind::fuel_m3))
    return;
  const scenario::Fuel& fuel = *given.generator->fuel;
  if (!fuel.burns.empty())
    list.addFactor("generator.fuel.burns", "rate", fuel.burns.size(), false);
  else if (!fuel.tankLasts.empty())
    list.addFactor("generator.fuel.tank_lasts", "for", fuel.tankLasts.size(), true);
}

void addHeat(const Scenario& given, InputList& list) {
  const bool hasThermostat = std::ranges::any_of(
      given.airConditioners, [](const auto& unit) { return !unit.thermostat.empty(); });
  if (!hasThermostat)
    return;
  const scenario::Cabin none;
  const scenario::Cabin& cabin = given.cabin ? *given.cabin : none;
  list.add("cabin.heat_loss", cabin.heatLoss_W_K, FitSize::usual);
  list.add("cabin.heat_storage", cabin.heatStorage_J_K, FitSize::usual);
}

void addLoads(const Scenario& given, InputList& list) {
  if (given.inverter && given.inverter->losses)
    list.add("inverter.losses.idle", given.inverter->losses->idle_W, FitSize::draw);
  else if (given.inverter)
    list.add("inverter.idle", given.inverter->idle_W, FitSize::draw);
  for (const scenario::Load& load : given.loads) {
    const std::string path = "loads." + load.name;
    if (load.power_W.known())
      list.add(path + ".power", load.power_W, FitSize::draw);
    else
      list.add(path + ".current", load.current_A, FitSize::draw);
  }
}

}  // namespace

FitInputs fitInputs(const Scenario& given, const std::vector<ModelNight>& nights,
                    const FreeInputs& free) {
  FitInputs found;
  InputList list(given, found);
  const std::set<Reading::Kind> kinds = kindsOf(nights);
  const bool hasVoltage = kinds.contains(Reading::Kind::mean_V) ||
                          kinds.contains(Reading::Kind::on_V) ||
                          kinds.contains(Reading::Kind::off_V);
  addLoads(given, list);
  addUnits(given, free, list);
  addBank(given.bank, hasVoltage, list);
  for (std::size_t k = 0; k < nights.size(); ++k)
    list.add("bank.start_at", given.bank.startAt, FitSize::share, static_cast<int>(k));
  addSources(given, kinds, list);
  addHeat(given, list);
  for (FitInput& input : found.inputs)
    if (std::ranges::find(free.duties, input.path) != free.duties.end()) {
      input.isGiven = false;
      input.priorDeviation = input.deviation = kAnyShare;
    }
  return found;
}

Scenario withInputs(const FitInputs& inputs, const Numbers& x, Scenario scenario, int night) {
  for (std::size_t i = 0; i < x.size(); ++i) {
    const FitInput& input = inputs.inputs[i];
    if (input.night >= 0 && input.night != night)
      continue;
    const FitTarget& target = inputs.targets[i];
    for (std::size_t k = 0; k < target.slots.size(); ++k) {
      const double value = !input.isFactor  ? x[i]
                           : target.divides ? target.base[k] / x[i]
                                            : target.base[k] * x[i];
      // A value that is left out stays so until the log moves it: others may follow from it.
      if (input.isGiven || value != input.prior)
        scenario::write(target.slots[k], scenario, value);
    }
  }
  return scenario;
}

std::vector<SearchBound> boundsOf(const FitInputs& inputs) {
  std::vector<SearchBound> bounds;
  for (const FitInput& input : inputs.inputs)
    bounds.push_back({input.low, input.high, input.priorDeviation});
  return bounds;
}

Numbers priorsOf(const FitInputs& inputs) {
  Numbers priors;
  for (const FitInput& input : inputs.inputs)
    priors.push_back(input.prior);
  return priors;
}

}  // namespace nightbank
