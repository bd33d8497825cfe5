#include <algorithm>

#include <fmt/format.h>

#include "nightbank/report/warnings.h"
#include "nightbank/units/calendar.h"
#include "nightbank/units/quantity.h"

namespace nightbank::report {
namespace {

bool isLead(const scenario::Bank& bank) {
  return bank.chemistry.value != scenario::Chemistry::lfp;
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
    say("No start test is made: whether generator or inverter gets the compressor going is not "
        "judged here. Try one supervised start, bank low, on a hot afternoon.");
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
