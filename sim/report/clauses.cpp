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

constexpr double kUnservedWorthTelling_J = kWattHour_J;

std::string energyText(double energy_J) {
  return format(energy_J, Dim::energy);
}

// "the bank, full at 17:00,"
std::string bankSubject(const Night& night) {
  const double soc = night.outcome.bank.startSoc;
  const std::string start = soc > 0.995 ? "full" : "at " + socText(soc);
  return fmt::format("the bank, {} at {},", start, momentText(night.plant, 0.0));
}

// ", 3 h 12 min too soon"; nothing where the hours end at that moment.
std::string tooSoon(const Plant& plant, double at_s) {
  const double left_s = wantedUntil_s(plant, at_s) - at_s;
  if (left_s < kMinute_s)
    return "";
  constexpr double kLong_s = 4.0 * kDay_s;
  const std::string left = left_s < kLong_s ? durationText(left_s) : format(left_s, Dim::duration);
  return fmt::format(", {} too soon", left);
}

// ": short by 0.84 kWh"
std::string shortBy(const Outcome& outcome) {
  if (outcome.bank.margin_J < 0.0)
    return ": short by " + energyText(-outcome.bank.margin_J);
  if (outcome.energy_J.unserved > kUnservedWorthTelling_J)
    return fmt::format(": {} that was wanted goes unserved", energyText(outcome.energy_J.unserved));
  return "";
}

std::string floorClause(const Night& night) {
  const BankOutcome& bank = night.outcome.bank;
  return fmt::format("{} is down to its floor ({}) at {}{}{}", bankSubject(night),
                     socText(bank.floorSoc), momentText(night.plant, bank.floorReachedAt_s),
                     tooSoon(night.plant, bank.floorReachedAt_s), shortBy(night.outcome));
}

std::string availabilityClause(const Night& night) {
  const BankOutcome& bank = night.outcome.bank;
  const double soc = socAt(night.plant, night.recorder.samples, bank.spentAt_s);
  return fmt::format(
      "{} has nothing left to give at this rate at {} ({} of its rated charge is "
      "still in it){}{}",
      bankSubject(night), momentText(night.plant, bank.spentAt_s), socText(soc),
      tooSoon(night.plant, bank.spentAt_s), shortBy(night.outcome));
}

std::string cutoffClause(const Night& night) {
  const BankOutcome& bank = night.outcome.bank;
  const double soc = socAt(night.plant, night.recorder.samples, bank.spentAt_s);
  return fmt::format(
      "the inverter's low-voltage cut-off ({}) ends the night at {}, with {} still "
      "in the bank{}{}",
      format(night.plant.cutoff_V, Dim::voltage), momentText(night.plant, bank.spentAt_s),
      socText(soc), tooSoon(night.plant, bank.spentAt_s), shortBy(night.outcome));
}

// A direct-current unit's own cut-off; the first that has one told by its event.
std::string unitCutoffClause(const Night& night) {
  const BankOutcome& bank = night.outcome.bank;
  const double soc = socAt(night.plant, night.recorder.samples, bank.spentAt_s);
  const auto& events = night.recorder.events;
  const auto event = std::ranges::find(events, EventKind::unitCutOff, &LoggedEvent::kind);
  const auto& units = night.plant.airConditioners;
  const std::string which = event == events.end()
                                ? "a unit's own low-voltage cut-off"
                                : fmt::format("the own low-voltage cut-off of '{}' ({})",
                                              printable(units[event->index].name),
                                              format(units[event->index].cutoff_V, Dim::voltage));
  return fmt::format("{} ends the night at {}, with {} still in the bank{}{}", which,
                     momentText(night.plant, bank.spentAt_s), socText(soc),
                     tooSoon(night.plant, bank.spentAt_s), shortBy(night.outcome));
}

std::string keepsClause(const Night& night) {
  const BankOutcome& bank = night.outcome.bank;
  const double share = night.judgement.marginShare;
  const std::string ofUsable = bank.usable_J > 0.0 && std::isfinite(share)
                                   ? fmt::format(" ({} of what it may give)", shareText(share))
                                   : "";
  const bool tight = night.judgement.bank != Level::holds;
  if (night.outcome.energy_J.unservedAtBank > kUnservedWorthTelling_J)
    return fmt::format(
        "{} is at {} at the lowest, at {}; had all been fed, it would keep {}{}{} "
        "above its floor ({})",
        bankSubject(night), socText(bank.lowestSoc), momentText(night.plant, bank.lowestAt_s),
        tight ? "only " : "", energyText(std::max(0.0, bank.margin_J)), ofUsable,
        socText(bank.floorSoc));
  return fmt::format("{} keeps {}{}{} above its floor ({}): {} at the lowest, at {}",
                     bankSubject(night), tight ? "only " : "",
                     energyText(std::max(0.0, bank.margin_J)), ofUsable, socText(bank.floorSoc),
                     socText(bank.lowestSoc), momentText(night.plant, bank.lowestAt_s));
}

// Failed without a touch of the floor: what went unserved would have taken more than there was.
std::string sparedClause(const Night& night) {
  const BankOutcome& bank = night.outcome.bank;
  return fmt::format("{} comes down to {} at {}, but only because something went unserved{}",
                     bankSubject(night), socText(bank.lowestSoc),
                     momentText(night.plant, bank.lowestAt_s), shortBy(night.outcome));
}

// What ended the bank's night first.
Limit bankEnd(const Night& night) {
  const BankOutcome& bank = night.outcome.bank;
  const Limit limit = night.judgement.limit;
  if (limit == Limit::floor || limit == Limit::availability || limit == Limit::cutoff ||
      limit == Limit::unitCutoff)
    return limit;
  const bool floorFirst =
      !(bank.spentAt_s < bank.floorReachedAt_s) && !std::isnan(bank.floorReachedAt_s);
  if (floorFirst || bank.spentBy == SpentBy::nothing)
    return Limit::floor;
  if (bank.spentBy == SpentBy::unitCutoff)
    return Limit::unitCutoff;
  return bank.spentBy == SpentBy::cutoff ? Limit::cutoff : Limit::availability;
}

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
                         energyText(item.energy_J));
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

std::string bankClause(const Telling& telling) {
  const Night& night = telling.night;
  const BankOutcome& bank = night.outcome.bank;
  const bool touched = !std::isnan(bank.floorReachedAt_s) || !std::isnan(bank.spentAt_s);
  if (night.judgement.bank != Level::fails)
    return keepsClause(night);
  if (!touched)
    return sparedClause(night);
  switch (bankEnd(night)) {
    case Limit::availability:
      return availabilityClause(night);
    case Limit::cutoff:
      return cutoffClause(night);
    case Limit::unitCutoff:
      return unitCutoffClause(night);
    default:
      return floorClause(night);
  }
}

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
                     energyText(night.outcome.energy_J.unserved), since,
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
