#include <algorithm>
#include <cmath>

#include "clauses.h"
#include <fmt/format.h>

#include "nightbank/report/figures.h"
#include "nightbank/report/text.h"

namespace nightbank::report {
namespace {

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

// " ends the night at 02:21, with 40 % still in the bank, 3 h too soon: short by 1.2 kWh"
std::string endsClause(const Night& night) {
  const BankOutcome& bank = night.outcome.bank;
  return fmt::format(" ends the night at {}, with {} still in the bank{}{}",
                     momentText(night.plant, bank.spentAt_s),
                     socText(socAt(night.plant, night.recorder.samples, bank.spentAt_s)),
                     tooSoon(night.plant, bank.spentAt_s), shortBy(night.outcome));
}

std::string cutoffClause(const Night& night) {
  return fmt::format("the inverter's low-voltage cut-off ({})",
                     format(night.plant.cutoff_V, Dim::voltage)) +
         endsClause(night);
}

// A direct-current unit's own cut-off; the first that has one told by its event.
std::string unitCutoffClause(const Night& night) {
  const auto& events = night.recorder.events;
  const auto event = std::ranges::find(events, EventKind::unitCutOff, &LoggedEvent::kind);
  const auto& units = night.plant.airConditioners;
  const std::string which = event == events.end()
                                ? "a unit's own low-voltage cut-off"
                                : fmt::format("the own low-voltage cut-off of '{}' ({})",
                                              printable(units[event->index].name),
                                              format(units[event->index].cutoff_V, Dim::voltage));
  return which + endsClause(night);
}

/// The margin counts what had no source too.
bool isFed(const Night& night) {
  return night.outcome.energy_J.unservedAtBank <= kUnservedWorthTelling_J;
}

std::string keepsClause(const Night& night) {
  const BankOutcome& bank = night.outcome.bank;
  const double share = night.judgement.marginShare;
  const std::string ofUsable = bank.usable_J > 0.0 && std::isfinite(share)
                                   ? fmt::format(" ({} of what it may give)", shareText(share))
                                   : "";
  const std::string keeps =
      fmt::format("keep{} {}{}{} above its floor ({})", isFed(night) ? "s" : "",
                  night.judgement.bank != Level::holds ? "only " : "",
                  energyText(std::max(0.0, bank.margin_J)), ofUsable, socText(bank.floorSoc));
  const std::string lowest = fmt::format("{} at the lowest, at {}", socText(bank.lowestSoc),
                                         momentText(night.plant, bank.lowestAt_s));
  return isFed(night) ? fmt::format("{} {}: {}", bankSubject(night), keeps, lowest)
                      : fmt::format("{} is at {}; had all been fed, it would {}",
                                    bankSubject(night), lowest, keeps);
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

}  // namespace nightbank::report
