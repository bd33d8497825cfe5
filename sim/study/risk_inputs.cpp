#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string_view>

#include "night.h"
#include "risk.h"
#include <fmt/format.h>

#include "nightbank/numerics/quantile.h"
#include "nightbank/scenario/edit.h"
#include "nightbank/scenario/resolve.h"
#include "nightbank/study/weather_day.h"

namespace nightbank {
namespace {

using scenario::Spread;

// Combinations of words are worked out before the draws.
constexpr std::size_t kMostCombinations = 64;

/// Draws need no fine output, and the grid does not move the answer: see kDrawCoarseness.
constexpr double kDrawStep_s = 3600.0;

/// Between the two ends of a duty that nobody has watched.
constexpr double kUnwatchedDuty = 0.5 * (kRestsMost + kNeverRests);

/// The last key of a path.
std::string_view lastKey(std::string_view path) {
  return path.substr(path.rfind('.') + 1);
}

/// How far the weather may be off a file's: what a forecast misses.
constexpr std::string_view kWarmer = "weather.file.warmer", kCloudier = "weather.file.cloudier";

/// Numbers that are choices, settings and definitions: nothing makes them fall elsewhere.
bool isChoice(std::string_view path) {
  if (path == kWarmer || path == kCloudier)
    return false;
  constexpr std::array<std::string_view, 11> kParts = {
      "period.",        "generator.rule.", "bank.monitor.", "bank.rates",
      "bank.two_well.", "occupants.",      "prices.",       "risk",
      "weather.file.",  "sizing",          "plan."};
  constexpr std::array<std::string_view, 13> kKeys = {"max_depth_of_discharge",
                                                      "tail_current",
                                                      "limit",
                                                      "input_limit",
                                                      "load",
                                                      "coldest_charge",
                                                      "hottest_charge",
                                                      "dew_point_below",
                                                      "cooler_by",
                                                      "cool_to",
                                                      "cuts_to",
                                                      "below",
                                                      "price"};
  return std::ranges::any_of(kParts, [&](auto part) { return path.starts_with(part); }) ||
         std::ranges::find(kKeys, lastKey(path)) != kKeys.end();
}

/// Dimensions of what is read off a label or a meter.
bool isReading(Dim dim) {
  constexpr std::array kReadings = {
      Dim::current,    Dim::power,    Dim::apparent,     Dim::energy,     Dim::charge,
      Dim::resistance, Dim::fraction, Dim::temperature,  Dim::difference, Dim::irradiance,
      Dim::volumeRate, Dim::heatLoss, Dim::heatCapacity, Dim::insulation, Dim::airFlow};
  return std::ranges::find(kReadings, dim) != kReadings.end();
}

/// As a grade's word behind the value has it.
DrawnAs gradeOf(std::string_view text) {
  return text.ends_with(" measured")  ? DrawnAs::measured
         : text.ends_with(" typical") ? DrawnAs::guessed
                                      : DrawnAs::nameplate;
}

double byGrade(DrawnAs as, double guessed, double nameplate, double measured) {
  return as == DrawnAs::measured ? measured : as == DrawnAs::guessed ? guessed : nameplate;
}

double deviationOf(DrawnAs as, std::string_view path, Dim dim, double value) {
  if (dim == Dim::temperature || path == kWarmer)
    return byGrade(as, kGuessedSpread_K, kNameplateSpread_K, kMeasuredSpread_K);
  if (lastKey(path) == "cloud" || path == kCloudier)
    return byGrade(as, kGuessedCloud, kNameplateCloud, kMeasuredCloud);
  const double of = dim == Dim::fraction ? std::min(value, 1.0 - value) : std::abs(value);
  return of * byGrade(as, kGuessedSpread, kNameplateSpread, kMeasuredSpread);
}

bool isSame(const scenario::Slot& a, const scenario::Slot& b) {
  return std::equal(
      a.steps.begin(), a.steps.begin() + a.depth, b.steps.begin(), b.steps.begin() + b.depth,
      [](const auto& x, const auto& y) { return x.field == y.field && x.item == y.item; });
}

/// Collects inputs; each number once, what is asked for first.
struct Collector {
  const scenario::Scenario& given;
  const scenario::Scenario resolved;
  RiskModel& model;

  bool has(const scenario::Slot& slot) const {
    return std::ranges::any_of(model.inputs, [&](const DrawnInput& input) {
      return !input.isWord() && isSame(input.spread.slot, slot);
    });
  }

  std::optional<scenario::Slot> slotOf(std::string_view path) const {
    auto bound = scenario::bind(given, path);
    if (const auto* slot = std::get_if<scenario::Slot>(&bound))
      return *slot;
    return std::nullopt;
  }

  void add(std::string path, DrawnAs as, const Spread& spread) {
    if (spread.low < spread.high && !has(spread.slot))
      model.inputs.push_back({std::move(path), as, spread, {}});
  }

  void hold(std::string path, std::string why) {
    model.held.push_back({std::move(path), std::move(why)});
  }
};

/// `plain`: as the reader saw it, without duties where the scenario has none.
void addAsked(Collector& all, const scenario::Scenario& plain) {
  const scenario::Scenario resolved = scenario::resolve(plain);
  for (std::size_t i = 0; i < plain.risk.size(); ++i) {
    const auto spread = scenario::spreadOf(plain, resolved, i);
    if (const auto* found = std::get_if<Spread>(&spread))  // the reader has refused all others
      all.add(plain.risk[i].path, DrawnAs::asked, *found);
  }
}

void addDuties(Collector& all, const scenario::Scenario& plain) {
  for (std::size_t i = 0; i < plain.airConditioners.size(); ++i) {
    const scenario::AirConditioner& unit = plain.airConditioners[i];
    if (!unit.duty.empty() || !unit.thermostat.empty())
      continue;
    const std::string path = fmt::format("air_conditioners.{}.duty", unit.name);
    const auto slot = all.slotOf(path);
    if (slot)
      all.add(path, DrawnAs::duty,
              {.slot = *slot,
               .shape = Spread::Shape::even,
               .low = kRestsMost,
               .middle = kUnwatchedDuty,
               .high = kNeverRests});
  }
}

void addGiven(Collector& all, const scenario::Scenario& plain) {
  for (const std::string& path : scenario::givenPaths(plain)) {
    if (isChoice(path))
      continue;
    const auto slot = all.slotOf(path);
    if (!slot || !isReading(slot->dim))
      continue;
    const double value = scenario::read(*slot, all.given);
    const DrawnAs as = gradeOf(scenario::valueText(all.given, path));
    if (!std::isnan(value))
      all.add(path, as,
              scenario::normalSpread(*slot, value, deviationOf(as, path, slot->dim, value)));
  }
}

/// The night of a file comes again as a forecast comes true.
void addOffFile(Collector& all, const scenario::Scenario& plain) {
  if (!plain.weather || !plain.weather->file)
    return;
  const auto add = [&](std::string_view path, const scenario::Graded& given, double deviation) {
    if (const auto slot = given.given ? std::nullopt : all.slotOf(path))
      all.add(std::string(path), DrawnAs::typical, scenario::normalSpread(*slot, 0.0, deviation));
  };
  add(kWarmer, plain.weather->file->warmer_K, kNameplateSpread_K);
  add(kCloudier, plain.weather->file->cloudier, kNameplateCloud);
}

/// An end of a typical value's range as a number; nullopt where it has no such end.
std::optional<double> endOf(const std::string& text, Dim dim) {
  constexpr std::string_view kGrade = " typical";
  const std::string_view bare =
      std::string_view(text).substr(0, text.size() - (text.ends_with(kGrade) ? kGrade.size() : 0));
  auto read = parseQuantity(bare, dim);
  const auto* quantity = std::get_if<Quantity>(&read);
  return quantity != nullptr ? std::optional(quantity->value) : std::nullopt;
}

void addWord(Collector& all, const scenario::TypicalValue& typical) {
  DrawnInput input{typical.path, DrawnAs::typical, {}, {typical.value}};
  for (const std::string& end : {typical.low, typical.high})
    if (!end.empty())
      input.words.push_back(end);
  std::size_t combinations = input.words.size();
  for (const DrawnInput& other : all.model.inputs)
    combinations *= other.isWord() ? other.words.size() : 1;
  if (combinations > kMostCombinations)
    return all.hold(typical.path, "there are too many words to draw");
  all.model.inputs.push_back(std::move(input));
}

void addTypical(Collector& all, const scenario::TypicalValue& typical) {
  const auto slot = all.slotOf(typical.path);
  if (!slot)
    return addWord(all, typical);
  const double value = scenario::read(*slot, all.resolved);
  if (std::isnan(value))
    return all.hold(typical.path, "it is no single number");
  Spread spread{.slot = *slot,
                .shape = Spread::Shape::triangle,
                .low = endOf(typical.low, slot->dim).value_or(value),
                .middle = value,
                .high = endOf(typical.high, slot->dim).value_or(value)};
  spread.low = std::min(spread.low, value);
  spread.high = std::max(spread.high, value);
  all.add(typical.path, DrawnAs::typical, spread);
}

/// One scenario for each combination of words; the last word turns fastest.
void makeBases(const scenario::Scenario& given, RiskModel& model) {
  std::size_t combinations = 1;
  for (const DrawnInput& input : model.inputs)
    combinations *= input.isWord() ? input.words.size() : 1;
  for (std::size_t combination = 0; combination < combinations; ++combination) {
    std::vector<scenario::Edit> edits;
    std::size_t rest = combination;
    for (auto input = model.inputs.rbegin(); input != model.inputs.rend(); ++input) {
      if (!input->isWord())
        continue;
      const std::size_t word = rest % input->words.size();
      rest /= input->words.size();
      if (word > 0)
        edits.push_back({input->path, input->words[word]});
    }
    // Words that do not fit together leave the night as it is.
    const scenario::ReadResult edited = scenario::apply(given, edits);
    model.bases.push_back(edited.scenario ? *edited.scenario : given);
  }
}

}  // namespace

RiskModel riskModel(const scenario::Scenario& given, const WeatherSeries* series) {
  RiskModel model;
  model.series = series;
  scenario::Scenario plain = given;
  if (series != nullptr && given.weather && given.weather->file)
    plain = onWeatherDay(given, *series).given;
  scenario::Scenario base = withDuty(plain, kUnwatchedDuty);
  scenario::Graded& step_s = base.period.step_s;
  if (!(step_s.value > kDrawStep_s))
    step_s = {kDrawStep_s, scenario::Grade::nameplate, true};
  for (scenario::AirConditioner& unit : base.airConditioners)
    if (!unit.starting)
      unit.starting.emplace().isAssumed = true;
  Collector all{base, scenario::resolve(base), model};
  addAsked(all, plain);
  addDuties(all, plain);
  addGiven(all, plain);
  addOffFile(all, plain);
  for (const scenario::TypicalValue& typical : scenario::typicalValues(base))
    addTypical(all, typical);
  makeBases(base, model);
  return model;
}

}  // namespace nightbank
