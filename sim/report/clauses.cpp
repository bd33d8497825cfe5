#include "clauses.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "nightbank/devices/generator.h"
#include "nightbank/report/figures.h"
#include "nightbank/report/text.h"
#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

// " (rated 1600 W, worth 1402 VA at 1650 m and 33 degC)"
std::string generatorWorth(const Telling& telling, double at_s) {
  const Plant& plant = telling.night.plant;
  std::string where;
  if (plant.generator.elevation_m > 0.0)
    where = heightText(plant.generator.elevation_m, telling.units);
  const auto point = static_cast<std::size_t>(at_s / kOutdoorGrid_s);
  if (point < plant.outdoor_degC.size()) {
    where += where.empty() ? "" : " and ";
    where += format(std::round(plant.outdoor_degC[point]), Dim::temperature, telling.units);
  }
  const std::string rated = format(plant.generator.continuous_W, Dim::power);
  return where.empty() ? fmt::format("its {}", rated)
                       : fmt::format("what its {} are worth at {}", rated, where);
}

std::string limitWords(const Telling& telling, Source source, double at_s) {
  switch (source) {
    case Source::inverter:
      return fmt::format("its {}", format(telling.night.plant.inverter.continuous_W, Dim::power));
    case Source::generator:
      return generatorWorth(telling, at_s);
    case Source::shore:
      return "its limit";
    case Source::bank:
    case Source::charge:
      break;  // in amperes, see overloadClause
  }
  return "";
}

constexpr std::string_view sourceName(Source source) {
  switch (source) {
    case Source::inverter:
      return "inverter";
    case Source::generator:
      return "generator";
    case Source::shore:
      return "shore connection";
    case Source::bank:
    case Source::charge:
      return "bank's protection";
  }
  return "";
}

// Names of what went unserved, the most first: "roof 3 kWh, fridge 100 Wh".
std::string unservedNames(const Night& night) {
  struct Item {
    std::string_view name;
    double energy_J;
  };

  std::vector<Item> items;
  const Recorder& recorder = night.recorder;
  for (std::size_t i = 0; i < recorder.airConditioners.size(); ++i)
    items.push_back({night.plant.airConditioners[i].name, recorder.airConditioners[i].unserved_J});
  for (std::size_t i = 0; i < recorder.loadsUnserved_J.size(); ++i)
    items.push_back({night.plant.loads[i].name, recorder.loadsUnserved_J[i]});
  std::erase_if(items, [](const Item& item) { return item.energy_J <= kUnservedWorthTelling_J; });
  std::stable_sort(items.begin(), items.end(),
                   [](const Item& a, const Item& b) { return a.energy_J > b.energy_J; });
  std::string names;
  for (const Item& item : items) {
    names += fmt::format("{}'{}' {}", names.empty() ? "" : ", ", printable(item.name),
                         format(item.energy_J, Dim::energy));
  }
  return names;
}

bool isOverloaded(const Night& night, Source source) {
  return night.outcome.sources[static_cast<std::size_t>(source)].trips > 0;
}

std::optional<Source> overloadedBy(Limit limit) {
  switch (limit) {
    case Limit::inverterRating:
      return Source::inverter;
    case Limit::generatorRating:
      return Source::generator;
    case Limit::shoreRating:
      return Source::shore;
    case Limit::bankCurrent:
      return Source::bank;
    default:
      return std::nullopt;
  }
}

bool isOfStart(Limit limit) {
  return limit == Limit::inverterStart || limit == Limit::generatorStart;
}

}  // namespace

std::string overloadClause(const Telling& telling, Source source) {
  const SourceOutcome& outcome = telling.night.outcome.sources[static_cast<std::size_t>(source)];
  const std::string times = outcome.trips == 1 ? "once" : fmt::format("{} times", outcome.trips);
  const bool isCharge = source == Source::charge;
  const std::string carries =
      isCharge || source == Source::bank
          ? fmt::format("{:.0f} A flow {} the bank against {:.0f} A, for longer than it allows",
                        outcome.firstTripLoad_A, isCharge ? "into" : "out of",
                        outcome.firstTripLimit_A)
          : fmt::format("it carries {:.0f} VA against {:.0f} VA, {}", outcome.firstTripLoad_VA,
                        outcome.firstTripLimit_VA,
                        limitWords(telling, source, outcome.firstTripAt_s));
  return fmt::format("the {} {} at {}: {} ({} in all{})", sourceName(source),
                     isCharge ? "stops the charge" : "trips on overload",
                     momentText(telling.night.plant, outcome.firstTripAt_s), carries, times,
                     outcome.shutOff ? "; three within an hour, so it stays off" : "");
}

std::string serviceClause(const Telling& telling) {
  const Night& night = telling.night;
  const auto& samples = night.recorder.samples;
  const auto first = std::find_if(samples.begin(), samples.end(),
                                  [](const Sample& s) { return s.unserved_J > 0.0; });
  const std::string since =
      first == samples.end()
          ? ""
          : fmt::format(", first at about {}", momentText(night.plant, first->start_s));
  const std::string names = unservedNames(night);
  return fmt::format("{} that was wanted had nothing to feed it{}{}",
                     format(night.outcome.energy_J.unserved, Dim::energy), since,
                     names.empty() ? "" : fmt::format(" ({})", names));
}

std::string rulesClause(const Telling& telling) {
  return fmt::format("the engine runs {} in hours in which the site allows none",
                     durationText(telling.night.outcome.generator.quiet_s));
}

std::string comfortClause(const Telling& telling) {
  const Night& night = telling.night;
  const CabinOutcome& cabin = night.outcome.cabin;
  return fmt::format("inside it is above {} for {} while somebody is at home, up to {}",
                     format(night.plant.cabin.tooWarmAbove_degC, Dim::temperature, telling.units),
                     durationText(cabin.tooWarm_s),
                     format(cabin.highestOccupied_degC, Dim::temperature, telling.units));
}

// Where the engine is not there for want of a start or of fuel; "" else.
std::string engineClause(const Telling& telling) {
  const EngineCounts& counts = telling.night.outcome.generator.counts;
  if (!std::isnan(counts.gaveUpAt_s))
    return fmt::format("the engine is given up at {} after {} failed cranks and stays off",
                       momentText(telling.night.plant, counts.gaveUpAt_s),
                       telling.night.plant.cranking.givesUpAfter);
  if (counts.ranDry == 0)
    return "";
  return fmt::format("the engine stops for want of fuel {}",
                     counts.ranDry == 1 ? "once" : fmt::format("{} times", counts.ranDry));
}

std::vector<std::string> clausesOf(const Telling& telling) {
  const Night& night = telling.night;
  const Judgement& judged = night.judgement;
  const std::optional<Source> first = overloadedBy(judged.limit);
  std::vector<std::string> clauses;
  if (isOfStart(judged.limit))
    clauses.push_back(startsClause(telling));
  else if (first)
    clauses.push_back(overloadClause(telling, *first));
  else if (judged.limit == Limit::noSource)
    clauses.push_back(serviceClause(telling));
  else if (judged.limit == Limit::quietHours)
    clauses.push_back(rulesClause(telling));
  else if (judged.limit == Limit::tooWarm)
    clauses.push_back(comfortClause(telling));
  clauses.push_back(bankClause(telling));
  for (int i = 0; i < kSources; ++i) {
    const auto source = static_cast<Source>(i);
    if (source != first && isOverloaded(night, source))
      clauses.push_back(overloadClause(telling, source));
  }
  if (!isOfStart(judged.limit) && judged.starts != Level::holds)
    clauses.push_back(startsClause(telling));
  // Behind a spent bank or a tripped source what went unserved is their doing and told with them.
  const bool toldAlready = judged.limit == Limit::noSource || judged.bank == Level::fails;
  if (!toldAlready && judged.service == Level::fails)
    clauses.push_back(serviceClause(telling));
  if (judged.limit != Limit::quietHours && judged.rules != Level::holds)
    clauses.push_back(rulesClause(telling));
  if (judged.limit != Limit::tooWarm && judged.comfort != Level::holds)
    clauses.push_back(comfortClause(telling));
  if (std::string engine = engineClause(telling); !engine.empty())
    clauses.push_back(std::move(engine));
  return clauses;
}

}  // namespace nightbank::report
