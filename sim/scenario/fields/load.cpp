#include "build.h"
#include "cabin_lines.h"
#include "feeds.h"

namespace nightbank::scenario {
namespace {

using namespace build;

// Common practice, no source: a mix of heaters, motors and electronics.
Typical powerFactor(const Scenario&, const Load& load) {
  return isDirectCurrent(load.fedFrom) ? Typical{1.0, 1.0, 1.0} : Typical{0.95, 0.70, 1.0};
}

// The heat that leaks in goes with the difference to the inside: 40 % at 25 degC against 4 degC is
// 1.9 % per kelvin, and in the heat each watt-hour moves less. Common practice, no source.
Typical dutyPerKelvin(const Scenario&, const Load& load) {
  return load.dutyAt_degC.known() ? Typical{0.025, 0.015, 0.040} : Typical{};
}

}  // namespace

template <>
const Spec& specOf<Load>() {
  static const Spec spec{
      "a load",
      {
          value<&Load::name>("name", Kind::name, "what the answer calls it (your word)").required(),
          value<&Load::fedFrom>("fed_from", Kind::fedFrom,
                                "what can feed it: battery, inverter, generator (the wiring)")
              .filledBy<&fillFeeds<Load>>("inverter and generator, where there are such"),
          quantity<&Load::power_W>("power", Dim::power, above(0, 20e3),
                                   "while it is on (label, plug-in power meter)")
              .required()
              .oneOf(1, 'a'),
          current<&Load::current_A>("current", above(0, 500),
                                    "the same in amperes, at its own voltage (clamp meter, label)")
              .required()
              .oneOf(1, 'b'),
          share<&Load::duty>("duty", between(0, 1), "share of its hours that it is on (your log)")
              .byDefault(1, "100 %"),
          quantity<&Load::dutyAt_degC>(
              "duty_at", Dim::temperature, between(-40, 60),
              "outdoor temperature at which duty was watched, for a fridge "
              "or the like (thermometer in the shade)"),
          share<&Load::dutyPerKelvin>("duty_per_kelvin", between(0, 0.2),
                                      "what duty gains per kelvin above duty_at (your log)")
              .from<&dutyPerKelvin>("2.5 %, range 1.5 % to 4 %, where duty_at is given"),
          value<&Load::hours>("hours", Kind::hours, "when it is in use (your plan)")
              .filledBy<&fillAllDay<Load>>("always"),
          share<&Load::powerFactor>("power_factor", between(0.3, 1),
                                    "real / apparent power at mains (plug-in power meter)")
              .from<&powerFactor>("95 % at mains, range 70 % to 100 %")
              .seldom(),
          share<&Load::heatInside>("heat_inside", between(0, 1),
                                   "of its power, what warms the cabin (where it stands)")
              .from<&wholeHeatInside<Load>>("with a thermostat: 100 %, range 50 % to 100 %")
              .seldom(),
      },
      ""};
  return spec;
}

}  // namespace nightbank::scenario
