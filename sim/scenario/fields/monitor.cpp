#include "build.h"

#include "nightbank/scenario/chemistry.h"
#include "nightbank/units/constants.h"

namespace nightbank::scenario {
namespace {

using namespace build;

// A setting is no guess: where it is left out, the monitor is taken as set to the bank.
Typical setTo(double value) {
  return {value, value, value};
}

Typical capacity(const Scenario& soFar, const Monitor&) {
  return setTo(soFar.bank.capacity_Ah.value);
}

Typical chargeEfficiency(const Scenario& soFar, const Monitor&) {
  return setTo(soFar.bank.chargeEfficiency.value);
}

// 0.2 V per 12 V below what the bank is charged to (common practice, no source), so that the
// charger does reach it.
Typical resetVoltage(const Scenario& soFar, const Monitor&) {
  const Bank& bank = soFar.bank;
  return setTo(bank.absorption_V.value -
               0.2 * twelveVoltUnits(bank.chemistry.value, bank.voltage_V.value));
}

}  // namespace

// Exponent: owners' manuals of two marine monitors (seen) count true ampere-hours and use it for
// the time to go only. Tail and time: common practice, no source.
template <>
const Spec& specOf<Monitor>() {
  static const Spec spec{
      "a monitor",
      {
          quantity<&Monitor::capacity_Ah>("capacity", Dim::charge, between(1, 1e5),
                                          "what 100 % stands for (monitor's settings)")
              .from<&capacity>("of the bank, new"),
          share<&Monitor::chargeEfficiency>("charge_efficiency", between(0.5, 1),
                                            "share of a charge it counts (monitor's settings)")
              .from<&chargeEfficiency>("of the bank"),
          quantity<&Monitor::peukertExponent>(
              "peukert_exponent", Dim::number, between(1, 2),
              "1 where it is for the time to go only (monitor's settings)")
              .byDefault(1, "1"),
          quantity<&Monitor::reset_V>("reset_voltage", Dim::voltage, above(0, 1000),
                                      "from here on it may go to 100 % (monitor's settings)")
              .from<&resetVoltage>("absorption less 0.2 V per 12 V"),
          share<&Monitor::resetCurrent>("reset_current", between(0.001, 0.5),
                                        "and at this tail, of its capacity (monitor's settings)")
              .byDefault(0.04, "4 %"),
          quantity<&Monitor::resetAfter_s>("reset_after", Dim::duration, between(0, kHour_s),
                                           "and after both lasted as long (monitor's settings)")
              .usually("min")
              .byDefault(180, "3 min"),
          quantity<&Monitor::currentOffset_A>(
              "current_offset", Dim::current, between(-50, 50),
              "read with all switched off, + for discharge (its display)")
              .byDefault(0, "0 A"),
      },
      ""};
  return spec;
}

}  // namespace nightbank::scenario
