#include <cmath>

#include "plan_parts.h"
#include <fmt/format.h>

#include "nightbank/report/figures.h"
#include "nightbank/report/text.h"
#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

std::string settingText(const ChosenSetpoint& chosen, UnitSystem units) {
  return std::isnan(chosen.coolTo_degC) ? "as it is"
                                        : format(chosen.coolTo_degC, Dim::temperature, units);
}

}  // namespace

std::string hoursText(const std::vector<ClockSpan>& hours) {
  std::string text;
  for (const ClockSpan& span : hours)
    text += fmt::format("{}{}-{}", text.empty() ? "" : ", ", clockText(span.from_s),
                        clockText(span.to_s));
  return text;
}

std::string setpointSentence(const PlanAnswer& answer, UnitSystem units) {
  if (!answer.setpoints)
    return "";
  const std::vector<ChosenSetpoint>& chosen = answer.setpoints->chosen;
  std::string text;
  for (std::size_t i = 0; i < chosen.size(); ++i) {
    const char* before = i == 0                   ? "Set the thermostat to "
                         : i + 1 == chosen.size() ? " and to "
                                                  : ", to ";
    if (std::isnan(chosen[i].coolTo_degC))
      before = i == 0 ? "Leave the thermostat " : i + 1 == chosen.size() ? " and " : ", ";
    text += fmt::format("{}{} from {}", before, settingText(chosen[i], units),
                        hoursText(chosen[i].hours));
  }
  return text + ". ";
}

Section thermostatSection(const PlanAnswer& answer, UnitSystem units) {
  if (!answer.setpoints)
    return {};
  const PlanSetpoints& setpoints = *answer.setpoints;
  Section section{"Thermostat", "", {}, ""};
  for (const ChosenSetpoint& chosen : setpoints.chosen)
    section.points.push_back(
        fmt::format("{}  {}", hoursText(chosen.hours), settingText(chosen, units)));
  const double lookedAt = setpoints.tried + setpoints.bounded;
  section.tail = fmt::format("{:.0f} of {:.0f} combinations in steps of {:.1f} K were looked at",
                             lookedAt, setpoints.possible, setpoints.step_K);
  if (setpoints.bounded > 0.0)
    section.tail += fmt::format(
        ", {:.0f} of them only as far as a lower bound shows that they are no "
        "better",
        setpoints.bounded);
  section.tail += setpoints.isAll()
                      ? ": that is all of them."
                      : ", one window after the other: a better one may be among the rest, "
                        "and no bound is told.";
  return section;
}

std::string warmText(const PlanAnswer& answer) {
  const double warm_s = answer.plan.night.outcome.cabin.tooWarm_s;
  if (std::isinf(answer.mostWarm_s) || warm_s < 0.5 * kMinute_s)
    return "";
  return fmt::format("it is too warm inside for {}, {} are allowed", durationText(warm_s),
                     durationText(answer.mostWarm_s));
}

}  // namespace nightbank::report
