#include "rules.h"
#include <fmt/format.h>

namespace nightbank::scenario {
namespace {

/// A key that says nothing without another one: it would be left aside in silence.
struct Beside {
  std::string_view key;
  bool isGiven;
  std::string_view needed;
  bool isThere;
};

void check(const Rules& rules, const std::string& part, std::initializer_list<Beside> all) {
  for (const Beside& one : all)
    if (one.isGiven && !one.isThere)
      rules.error(fmt::format("{}.{}", part, one.key), "",
                  fmt::format("{}.{} needs {} beside it", part, one.key, one.needed));
}

}  // namespace

void checkBeside(const Rules& rules) {
  const Scenario& given = rules.given;
  if (given.inverter && given.inverter->cable) {
    const Cable& cable = *given.inverter->cable;
    check(rules, "inverter.cable",
          {{"joint_resistance", cable.joint_ohm.given, "joints", cable.joints.given},
           {"fuse_drop", cable.fuseDrop_V.given, "fuse", cable.fuse_A.given}});
  }
  for (std::size_t i = 0; i < given.solar.size(); ++i) {
    const Array& array = given.solar[i];
    const bool hasOpen = rules.resolved.solar[i].openCircuit_V.known();
    check(rules, pathIn(given, "solar", i),
          {{"voc", array.openCircuit_V.given, "vmp", array.maximumPower_V.given},
           {"voc_coefficient", array.openCircuitCoefficient_1_K.given, "vmp", hasOpen},
           {"voltage_limit", array.voltageLimit_V.given, "vmp", hasOpen}});
  }
  for (std::size_t i = 0; i < given.loads.size(); ++i) {
    const Load& load = given.loads[i];
    check(rules, pathIn(given, "loads", i),
          {{"duty_per_kelvin", load.dutyPerKelvin.given, "duty_at", load.dutyAt_degC.given},
           {"duty_at", load.dutyAt_degC.given, "duty", load.duty.given}});
  }
}

}  // namespace nightbank::scenario
