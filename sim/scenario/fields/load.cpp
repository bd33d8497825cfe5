#include "build.h"
#include "feeds.h"

namespace nightbank::scenario {
namespace {

using namespace build;

void fillFeeds(const Scenario& soFar, Load& load) {
  if (!load.fedFrom.given)
    load.fedFrom = typicalFeeds(soFar);
}

void fillHours(const Scenario&, Load& load) {
  if (!load.hours)
    load.hours = wholeDay();
}

// Common practice, no source: a mix of heaters, motors and electronics.
Typical powerFactor(const Scenario&, const Load& load) {
  return isDirectCurrent(load.fedFrom) ? Typical{1.0, 1.0, 1.0} : Typical{0.95, 0.70, 1.0};
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
              .filledBy<&fillFeeds>("inverter and generator, where there are such"),
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
          value<&Load::hours>("hours", Kind::hours, "when it is in use (your plan)")
              .filledBy<&fillHours>("always"),
          share<&Load::powerFactor>("power_factor", between(0.3, 1),
                                    "real / apparent power at mains (plug-in power meter)")
              .from<&powerFactor>("95 % at mains, range 70 % to 100 %")
              .seldom(),
      },
      ""};
  return spec;
}

}  // namespace nightbank::scenario
