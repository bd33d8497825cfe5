#include "plan_schedule.h"

#include <algorithm>
#include <cmath>
#include <string>

#include <fmt/format.h>

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

using Entries = std::vector<scenario::ThermostatSpan>;

/// Two settings this close are one. [K]
constexpr double kSame_K = 1e-6;

/// What a thermostat asks for at a time of the day: the entry that began last.
double ownAt_degC(const Entries& entries, double clock_s) {
  const auto age_s = [&](const scenario::ThermostatSpan& entry) {
    return std::fmod(clock_s - entry.from_s.value_or(0.0) + kDay_s, kDay_s);
  };
  return std::min_element(entries.begin(), entries.end(),
                          [&](const auto& a, const auto& b) { return age_s(a) < age_s(b); })
      ->coolTo_degC.value;
}

bool isIn(const std::vector<ClockSpan>& hours, double clock_s) {
  return std::ranges::any_of(hours, [&](const ClockSpan& span) { return contains(span, clock_s); });
}

/// All that the file's thermostats ask for within the hours, rising, each once.
std::vector<double> ownWithin(const scenario::Scenario& given,
                              const std::vector<ClockSpan>& hours) {
  std::vector<double> all;
  for (const scenario::AirConditioner& unit : given.airConditioners) {
    if (unit.thermostat.empty())
      continue;
    for (const ClockSpan& span : hours)
      all.push_back(ownAt_degC(unit.thermostat, span.from_s));
    for (const scenario::ThermostatSpan& entry : unit.thermostat)
      if (entry.from_s && isIn(hours, *entry.from_s))
        all.push_back(entry.coolTo_degC.value);
  }
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end(),
                        [](double a, double b) { return std::abs(a - b) < kSame_K; }),
            all.end());
  return all;
}

/// Where a setting may change, rising, each once.
std::vector<double> edgesOf(const Entries& entries, const std::vector<ChosenSetpoint>& chosen) {
  std::vector<double> edges_s;
  for (const scenario::ThermostatSpan& entry : entries)
    edges_s.push_back(entry.from_s.value_or(0.0));
  for (const ChosenSetpoint& one : chosen)
    for (const ClockSpan& span : one.hours)
      for (const double edge_s : {span.from_s, span.to_s})
        edges_s.push_back(std::fmod(edge_s, kDay_s));
  std::sort(edges_s.begin(), edges_s.end());
  edges_s.erase(std::unique(edges_s.begin(), edges_s.end()), edges_s.end());
  return edges_s;
}

double settingAt_degC(const Entries& entries, const std::vector<ChosenSetpoint>& chosen,
                      double clock_s) {
  for (const ChosenSetpoint& one : chosen)
    if (!std::isnan(one.coolTo_degC) && isIn(one.hours, clock_s))
      return one.coolTo_degC;
  return ownAt_degC(entries, clock_s);
}

/// "[{from: "06:30", cool_to: 25 degC}, {from: "20:00", cool_to: 21 degC}]"
std::string entriesText(const Entries& entries, const std::vector<ChosenSetpoint>& chosen) {
  const std::vector<double> edges_s = edgesOf(entries, chosen);
  std::vector<std::pair<double, double>> kept;  // from, setting
  for (const double edge_s : edges_s) {
    const double setting_degC = settingAt_degC(entries, chosen, edge_s);
    if (kept.empty() || std::abs(kept.back().second - setting_degC) >= kSame_K)
      kept.emplace_back(edge_s, setting_degC);
  }
  if (kept.size() > 1 && std::abs(kept.front().second - kept.back().second) < kSame_K)
    kept.erase(kept.begin());  // it goes on over midnight
  std::string text = "[";
  for (const auto& [from_s, setting_degC] : kept)
    text += fmt::format("{}{{from: \"{}\", cool_to: {:.10g} degC}}", text.size() > 1 ? ", " : "",
                        clockText(from_s), setting_degC);
  return text + ']';
}

}  // namespace

Offer offerOf(const scenario::Scenario& given, const scenario::SetpointWindow& window) {
  Offer offer;
  offer.hours = *window.hours;
  const double low_degC = window.coolest_degC.value, high_degC = window.warmest_degC.value;
  for (int i = 0; low_degC + i * kSetpointStep_K < high_degC - kSame_K; ++i)
    offer.settings.push_back({low_degC + i * kSetpointStep_K, i % 2 == 0});
  offer.settings.push_back({high_degC, true});
  const std::vector<double> own = ownWithin(given, offer.hours);
  if (own.empty() || own.front() < low_degC - kSame_K || own.back() > high_degC + kSame_K)
    return offer;
  for (std::size_t i = 0; i < offer.settings.size(); ++i)
    if (own.size() == 1 && std::abs(offer.settings[i].coolTo_degC - own.front()) < kSame_K) {
      offer.settings[i].isWhole = true;
      offer.asInFile = i;
      return offer;
    }
  offer.asInFile = offer.settings.size();
  offer.settings.push_back({own.size() == 1 ? own.front() : Setting{}.coolTo_degC, true});
  return offer;
}

std::vector<scenario::Edit> setpointEdits(const scenario::Scenario& given,
                                          const scenario::Scenario& resolved,
                                          const std::vector<ChosenSetpoint>& chosen) {
  std::vector<scenario::Edit> edits;
  for (const scenario::AirConditioner& unit : given.airConditioners)
    if (!unit.thermostat.empty())
      edits.push_back({fmt::format("air_conditioners.{}.thermostat", unit.name),
                       entriesText(unit.thermostat, chosen)});
  if (!given.occupants->tooWarmAbove_degC.given)
    edits.push_back({"occupants.too_warm_above",
                     fmt::format("{:.10g} degC", resolved.occupants->tooWarmAbove_degC.value)});
  return edits;
}

}  // namespace nightbank
