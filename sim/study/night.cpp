#include "night.h"

#include <algorithm>
#include <stdexcept>

#include "nightbank/scenario/resolve.h"

namespace nightbank {

Night nightOf(const scenario::Scenario& given, const WeatherSeries* series,
              const DeriveOptions& options) {
  Night night{derive(scenario::resolve(given), series, options), {}, {}, {}, {}, {}};
  night.recorder = makeRecorder(night.plant, night.plant.hasMonitor);
  night.outcome = simulate(night.plant, night.recorder);
  night.judgement = judge(night.outcome);
  night.coast = worstCoast(night.plant, night.recorder);
  night.monitor = watched(night.plant, night.recorder, night.outcome);
  return night;
}

std::optional<Variation> varied(const NightBase& base, std::span<const scenario::Edit> edits) {
  const scenario::ReadResult edited = scenario::apply(base.given, edits);
  if (!edited.scenario)
    return std::nullopt;
  try {
    const Plant plant = derive(scenario::resolve(*edited.scenario), base.series, base.lent());
    Recorder recorder = makeRecorder(plant);
    const Outcome outcome = simulate(plant, recorder);
    return Variation{judge(outcome).level, outcome.bank.margin_J, outcome.generator.asleep_s};
  } catch (const std::invalid_argument&) {
    return std::nullopt;  // an end that no device could have
  }
}

bool dutyIsUnknown(const scenario::Scenario& given) {
  return std::any_of(given.airConditioners.begin(), given.airConditioners.end(),
                     [](const auto& unit) { return unit.duty.empty() && unit.thermostat.empty(); });
}

scenario::Scenario withDuty(scenario::Scenario given, double share) {
  for (scenario::AirConditioner& unit : given.airConditioners) {
    if (!unit.duty.empty() || !unit.thermostat.empty())
      continue;
    scenario::DutySpan span;
    span.share.value = share;
    span.share.given = true;  // a guess, but one that both ends of the answer already span
    unit.duty.push_back(span);
  }
  return given;
}

}  // namespace nightbank
