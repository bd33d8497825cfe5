#include "build.h"

namespace nightbank::scenario {
namespace {

using namespace build;

// Common practice, no source: a clean lug under its torque 0.05 mohm, a tired switch 0.5 mohm.
Typical joint(const Scenario&, const Cable& cable) {
  return cable.joints.value > 0.0 ? Typical{0.0002, 0.00005, 0.0005} : Typical{};
}

// Common practice, no source: what makers of strip and blade fuses print lies around 80 mV.
Typical fuseDrop(const Scenario&, const Cable& cable) {
  return cable.fuse_A.known() ? Typical{0.080, 0.040, 0.150} : Typical{};
}

}  // namespace

template <>
const Spec& specOf<Losses>() {
  static const Spec spec{
      "the losses of an inverter",
      {
          quantity<&Losses::idle_W>("idle", Dim::power, between(0, 1000),
                                    "drawn while on, with nothing to feed (manual)")
              .required(),
          share<&Losses::linear>("linear", between(0, 1), "of what it gives (data sheet)")
              .required(),
          share<&Losses::quadratic>("quadratic", between(0, 1),
                                    "of what it gives, at continuous power; at half of that half "
                                    "as much (data sheet)")
              .required(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<Search>() {
  static const Spec spec{
      "a search mode",
      {
          quantity<&Search::below_W>("below", Dim::power, above(0, 500),
                                     "a load below this does not wake it: it does not run and "
                                     "counts as not served (settings)")
              .required(),
          quantity<&Search::draws_W>("draws", Dim::power, between(0, 200),
                                     "drawn while it waits for a load (manual, battery monitor)")
              .required(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<Cable>() {
  static const Spec spec{
      "a cable",
      {
          pair<&Cable::resistance_ohm_m, &Cable::size>("size", Kind::wireSize,
                                                       "of one conductor (print on its jacket)")
              .required(),
          quantity<&Cable::oneWay_m>("one_way", Dim::length, above(0, 100),
                                     "length from bank to inverter, once (tape)")
              .required(),
          quantity<&Cable::fuse_A>("fuse", Dim::current, between(1, 2000),
                                   "rating of the fuse in it, none where left out (print on it)"),
          quantity<&Cable::joints>("joints", Dim::count, between(0, 100),
                                   "lugs, bars and switches in both conductors (count them)")
              .byDefault(0, "0"),
          quantity<&Cable::joint_ohm>("joint_resistance", Dim::resistance, between(0, 0.1),
                                      "of each joint (millivolts across it / amperes)")
              .from<&joint>("0.2 mohm where joints are given, range 0.05 mohm to 0.5 mohm")
              .seldom(),
          quantity<&Cable::fuseDrop_V>("fuse_drop", Dim::voltage, between(0, 1),
                                       "across the fuse at its rating (data sheet)")
              .from<&fuseDrop>("0.08 V where a fuse is given, range 0.04 V to 0.15 V")
              .seldom(),
          quantity<&Cable::conductor_degC>("temperature", Dim::temperature, between(-40, 150),
                                           "of the conductor under load (infrared thermometer)")
              .byDefault(75, "75 degC")
              .seldom(),
      },
      ""};
  return spec;
}

}  // namespace nightbank::scenario
