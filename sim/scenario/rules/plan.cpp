#include "../fields/cabin_lines.h"
#include "rules.h"
#include <fmt/format.h>

#include "nightbank/units/quantity.h"

namespace nightbank::scenario {
namespace {

bool overlap(const std::vector<ClockSpan>& a, const std::vector<ClockSpan>& b) {
  for (const ClockSpan& one : a)
    for (const ClockSpan& other : b)
      if (contains(one, other.from_s) || contains(other, one.from_s))
        return true;
  return false;
}

void checkWindows(const Rules& rules, const std::vector<SetpointWindow>& windows) {
  for (std::size_t i = 0; i < windows.size(); ++i) {
    const SetpointWindow& window = windows[i];
    const std::string path = fmt::format("plan.setpoints[{}]", i);
    if (window.coolest_degC.given && window.warmest_degC.given &&
        window.coolest_degC.value > window.warmest_degC.value)
      rules.error(path + ".coolest", path + ".warmest",
                  fmt::format("{}.coolest is {}, above its warmest, {}", path,
                              format(window.coolest_degC.value, Dim::temperature),
                              format(window.warmest_degC.value, Dim::temperature)));
    for (std::size_t j = 0; j < i; ++j)
      if (window.hours && windows[j].hours && overlap(*window.hours, *windows[j].hours))
        rules.error(path + ".hours", fmt::format("plan.setpoints[{}].hours", j),
                    fmt::format("{}.hours are partly those of another window; each hour has one "
                                "setting",
                                path));
  }
}

}  // namespace

void checkPlan(const Rules& rules) {
  if (!rules.given.plan)
    return;
  const Plan& plan = *rules.given.plan;
  constexpr std::size_t kMostWindows = 8;
  if (plan.setpoints.size() > kMostWindows)
    return rules.error("plan.setpoints", "",
                       fmt::format("plan.setpoints has {} items; at most {}", plan.setpoints.size(),
                                   kMostWindows));
  checkWindows(rules, plan.setpoints);
  const bool asksComfort = plan.tooWarm_s.given || !plan.setpoints.empty();
  if (hasThermostat(rules.given)) {
    if (asksComfort && !rules.given.occupants)
      rules.error("plan", "",
                  "plan has setpoints or too_warm_at_most, and nobody for whom it gets too warm; "
                  "give occupants, such as 'occupants: {too_warm_above: 27 degC}'");
    return;
  }
  if (!plan.setpoints.empty())
    rules.error("plan.setpoints", "",
                "plan.setpoints needs an air conditioner with a thermostat: there is none to set");
  if (plan.tooWarm_s.given)
    rules.error("plan.too_warm_at_most", "",
                "plan.too_warm_at_most needs an air conditioner with a thermostat: without one no "
                "cabin is simulated");
}

}  // namespace nightbank::scenario
