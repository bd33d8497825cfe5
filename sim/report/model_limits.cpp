#include <algorithm>

#include <fmt/format.h>

#include "nightbank/report/text.h"
#include "nightbank/report/warnings.h"
#include "nightbank/units/calendar.h"
#include "nightbank/units/quantity.h"

namespace nightbank::report {
namespace {

bool isLead(const scenario::Bank& bank) {
  return bank.chemistry.value != scenario::Chemistry::lfp;
}

// Names of the units at the mains whose start is tested, or is not: "'roof', 'bunk'".
std::string unitsWhoseStart(bool isTested, const Plant& plant) {
  std::string names;
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i) {
    const AirConditionerPlant& unit = plant.airConditioners[i];
    const bool tested = i < plant.start.units.size() && plant.start.units[i].isTested;
    if ((unit.feeds.inverter || unit.feeds.generator) && tested == isTested)
      names += fmt::format("{}'{}'", names.empty() ? "" : ", ", printable(unit.name));
  }
  return names;
}

bool anyCyclingLoad(const scenario::Scenario& scenario) {
  return std::any_of(scenario.loads.begin(), scenario.loads.end(), [](const scenario::Load& load) {
    return load.duty.known() && load.duty.value < 1.0;
  });
}

}  // namespace

std::vector<Warning> modelLimits(const Answer& answer) {
  const scenario::Scenario& scenario = answer.resolved;
  std::vector<Warning> found;
  const auto say = [&](std::string text) { found.push_back({"model", std::move(text)}); };
  if (!scenario.airConditioners.empty()) {
    const std::string untested = unitsWhoseStart(false, answer.night.plant);
    if (!untested.empty())
      say(fmt::format(
          "Whether {} starts was not tested: give its `starting: {{locked_rotor: ...}}` "
          "(LRA on the label), and each start is, at its own moment.",
          untested));
    if (!unitsWhoseStart(true, answer.night.plant).empty())
      say("A start is an event without duration and energy; what its dip does to other loads is "
          "left out, and none is tested on shore power.");
    say(answer.night.plant.hasCabin
            ? "The cabin is one body of air and one of walls and things, evenly warm each; doors "
              "that open, wind, and water that a fan blows off a wet coil are left out."
            : "Duty and running watts are taken as given; nothing inside the cabin is simulated. A "
              "hotter night than the one watched takes more minutes and more watts.");
  }
  if (isLead(scenario.bank)) {
    say("One law says for all lead batteries what they lose under load and how slowly they take "
        "the last fifth of a charge; makes and age differ. Read the volts at the posts after an "
        "hour of load, and time one full charge.");
  }
  if (anyCyclingLoad(scenario)) {
    say("Loads that cycle count with their mean power; their peaks are not held against any "
        "rating.");
  }
  say(
      fmt::format("The bank has one temperature for its charge and its voltages, {}; only whether "
                  "it lets a charge in follows the hours. Charging does not warm it.",
                  format(scenario.bank.temperature_degC.value, Dim::temperature)));
  return found;
}

}  // namespace nightbank::report
