#include <algorithm>
#include <array>
#include <limits>

#include "build.h"
#include "cabin_lines.h"

#include "nightbank/units/constants.h"

namespace nightbank::scenario {
namespace {

using namespace build;

// Parts that every scenario has.
void fillSite(const Scenario&, Scenario& scenario) {
  if (!scenario.site)
    scenario.site.emplace();
}

void fillWeather(const Scenario&, Scenario& scenario) {
  if (!scenario.weather)
    scenario.weather.emplace().constant.emplace();
}

// Common practice, no source.
Typical count(const Scenario& soFar, const Occupants&) {
  return withThermostat(soFar, {2.0, 1.0, 4.0});
}

// A choice, no guess: what the thermostat asks for, and something.
Typical tooWarm(const Scenario& soFar, const Occupants&) {
  double highest_degC = -std::numeric_limits<double>::infinity();
  for (const AirConditioner& unit : soFar.airConditioners)
    for (const ThermostatSpan& span : unit.thermostat)
      highest_degC = std::max(highest_degC, span.coolTo_degC.value);
  const double limit_degC = highest_degC + 2.0;
  return withThermostat(soFar, {limit_degC, limit_degC, limit_degC});
}

}  // namespace

template <>
const Spec& specOf<Scenario>() {
  static const Spec spec{
      "a scenario",
      {
          value<&Scenario::title>("title", Kind::text, "what the answer is headed by (your words)"),
          quantity<&Scenario::mains_V>("mains", Dim::voltage, between(90, 260),
                                       "voltage of the sockets, 120 V or 230 V (label of the A/C)")
              .byDefault(120, "120 V"),
          part<&Scenario::site>("site", "where it stands, and the rules there")
              .filledBy<&fillSite>(""),
          part<&Scenario::period>("period", "the night, or a span of days").required(),
          part<&Scenario::weather>("weather", "one of: design_day, constant, file (forecast)")
              .filledBy<&fillWeather>("constant"),
          part<&Scenario::occupants>("occupants", "who sleeps there, and when"),
          part<&Scenario::cabin>("cabin", "what is cooled; with a thermostat (tape measure)"),
          list<&Scenario::airConditioners>("air_conditioners", "up to 8, each with a name"),
          list<&Scenario::loads>("loads", "whatever else draws power, up to 32, each with a name"),
          part<&Scenario::bank>("bank", "the batteries").required(),
          part<&Scenario::inverter>("inverter", "makes mains from the bank"),
          part<&Scenario::charger>("charger", "charges the bank from generator or shore power"),
          list<&Scenario::solar>("solar", "arrays, up to 8, each with a name"),
          part<&Scenario::generator>("generator", "an engine that makes mains"),
          part<&Scenario::alternator>("alternator", "charging while driving"),
          part<&Scenario::shore>("shore", "mains from a socket, where there is one"),
          list<&Scenario::variants>("variants", "named changes, up to 64, for 'nightbank compare'")
              .seldom(),
          part<&Scenario::prices>("prices", "what things cost, by your own quotes").seldom(),
          list<&Scenario::risk>("risk", "how far off single numbers may be, for nightbank risk")
              .seldom(),
          part<&Scenario::sizing>("sizing", "what could be bought, for 'nightbank size'").seldom(),
          part<&Scenario::plan>("plan", "what 'nightbank plan' aims at").seldom(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<Period>() {
  static const Spec spec{
      "a period",
      {
          value<&Period::nightOf>("night_of", Kind::date,
                                  "17:00 of that day to 09:00 of the next (calendar)")
              .required()
              .oneOf(1, 'a'),
          value<&Period::from_s>("from", Kind::dateTime, "start, local time (calendar)")
              .required()
              .oneOf(1, 'b'),
          value<&Period::to_s>("to", Kind::dateTime, "end, local time (calendar)")
              .required()
              .oneOf(1, 'b'),
          quantity<&Period::step_s>("step", Dim::duration, between(1, kHour_s),
                                    "grid of the output; does not move the answer (your choice)")
              .byDefault(300, "300 s")
              .seldom(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<Occupants>() {
  static const Spec spec{
      "the occupants",
      {
          value<&Occupants::atHome>("at_home", Kind::hours,
                                    "when somebody is there; A/C hours follow (your plan)"),
          value<&Occupants::asleep>("asleep", Kind::hours,
                                    "when people sleep: an engine then is cautioned (your plan)"),
          quantity<&Occupants::count>("count", Dim::count, between(0, 100),
                                      "how many; each warms the cabin (your plan)")
              .from<&count>("with a thermostat: 2, range 1 to 4"),
          quantity<&Occupants::tooWarmAbove_degC>("too_warm_above", Dim::temperature,
                                                  between(10, 50),
                                                  "what they bear inside (your choice)")
              .from<&tooWarm>("with a thermostat: 2 K above its highest setting"),
      },
      ""};
  return spec;
}

}  // namespace nightbank::scenario
