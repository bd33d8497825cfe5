#include <algorithm>

#include <fmt/format.h>

#include "nightbank/report/warnings.h"
#include "nightbank/units/calendar.h"

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
    say("Duty and running watts are taken as given; nothing inside the cabin is simulated. A "
        "hotter night than the one watched takes more minutes and more watts.");
  }
  if (isLead(scenario.bank)) {
    say("The slow part of a lead battery's voltage drop is left out. Under load it reads 0.3 to "
        "0.7 V lower than here (12 V), so that a cut-off comes earlier, and the last fifth of a "
        "charge takes longer.");
  }
  if (anyCyclingLoad(scenario)) {
    say("Loads that cycle count with their mean power; their peaks are not held against any "
        "rating.");
  }
  say("The bank is taken at 25 degC throughout: cold takes capacity, and a cold or hot bank may "
      "refuse to charge.");
  return found;
}

}  // namespace nightbank::report
