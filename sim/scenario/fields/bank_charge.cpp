#include <algorithm>

#include "bank_lines.h"

#include "nightbank/units/constants.h"

namespace nightbank::scenario::build {
namespace {

// A charge factor of 1.05 to 1.15 for lead (abstract in J. Power Sources 113 (2003) 388); LFP data
// sheets print 100 %.
Typical chargeEfficiency(const Scenario& soFar, const Bank& bank) {
  return orDefault(
      isCharged(soFar),
      ByChemistry{
          {0.90, 0.85, 0.95}, {0.95, 0.90, 0.97}, {0.95, 0.90, 0.97}, {0.995, 0.98, 1.0}}(bank));
}

// Per 12 V at 25 degC: 14.4 to 14.8 V in absorption (makers' notes), AGM 14.25 to 14.85 V (data
// sheet), LFP 14.2 to 14.6 V (data sheet, battery management firmware). Gel: from memory.
Typical absorption(const Scenario& soFar, const Bank& bank) {
  return orDefault(isCharged(soFar), scaled(ByChemistry{{14.6, 14.4, 14.8},
                                                        {14.4, 14.25, 14.85},
                                                        {14.1, 14.0, 14.4},
                                                        {14.2, 14.2, 14.6}}(bank),
                                            units(bank)));
}

// LFP data sheets end the charge at 0.02 C; lead chargers at 1 to 4 % (common practice, no source).
Typical tailCurrent(const Scenario& soFar, const Bank&) {
  return orDefault(isCharged(soFar), {0.02, 0.01, 0.04});
}

// The ampere-hour law I = D / t, t one hour (US Navy rule, from memory); acceptance differs widely
// with age and make. LFP takes what it is given.
Typical acceptance(const Scenario& soFar, const Bank& bank) {
  return orDefault(isCharged(soFar) && !isLfp(bank), {kHour_s, 0.5 * kHour_s, 2.0 * kHour_s});
}

// Per 12 V at 25 degC: 13.4 to 13.7 V (data sheet of an AGM battery), 13.2 to 13.8 V (trade), LFP
// 13.4 to 13.6 V. A setting of the charger; a night hardly sees it.
Typical floating(const Scenario&, const Bank& bank) {
  return exactly(std::min(13.5 * units(bank), bank.absorption_V.value));
}

// -5 mV/K a cell: data sheets of an AGM and a flooded battery. A charger that does not compensate
// has 0.
Typical compensation(const Scenario&, const Bank& bank) {
  return exactly(isLfp(bank) ? 0.0 : 0.030 * units(bank));
}

// AGM and LFP: 3 % a month and less (data sheets); flooded: 5 to 15 % (from memory).
Typical selfDischarge(const Scenario&, const Bank& bank) {
  return ByChemistry{
      {0.07, 0.05, 0.15}, {0.03, 0.01, 0.04}, {0.03, 0.01, 0.04}, {0.02, 0.01, 0.03}}(bank);
}

}  // namespace

std::vector<Field> chargeLines() {
  return {
      quantity<&Bank::absorption_V>(
          "absorption", Dim::voltage, above(0, 1000),
          "charge voltage limit of the whole bank at 25 degC (charger's settings)")
          .from<&absorption>("per 12 V flooded 14.6 V, agm 14.4 V, gel 14.1 V, lfp 14.2 V")
          .seldom(),
      quantity<&Bank::float_V>("float", Dim::voltage, above(0, 1000),
                               "the same once the bank is full (charger's settings)")
          .from<&floating>("per 12 V 13.5 V")
          .seldom(),
      quantity<&Bank::compensation_V_K>(
          "compensation", Dim::voltage, between(0, 10),
          "by which the charger lowers both for each K above 25 degC; 0 V where it has no probe "
          "(charger's manual)")
          .from<&compensation>("per 12 V 30 mV; lfp 0 V")
          .seldom(),
      share<&Bank::chargeEfficiency>("charge_efficiency", between(0.5, 1),
                                     "ampere-hours out / in (battery monitor's settings)")
          .from<&chargeEfficiency>("flooded 90 %, agm and gel 95 %, lfp 99.5 %")
          .seldom(),
      share<&Bank::tailCurrent>("tail_current", between(0.001, 0.2),
                                "of the capacity an hour: below it the bank is full (manual)")
          .from<&tailCurrent>("2 %, range 1 % to 4 %")
          .seldom(),
      quantity<&Bank::chargeAcceptance_s>("charge_acceptance", Dim::duration,
                                          between(0, 24 * kHour_s),
                                          "at the charge voltage limit lead takes its missing Ah "
                                          "over this time as current; 0 h: any "
                                          "current (time the taper from 20 A to 7.4 A)")
          .usually("h")
          .from<&acceptance>("1 h, range 0.5 h to 2 h")
          .seldom(),
      share<&Bank::selfDischarge>("self_discharge", between(0, 0.9),
                                  "of the capacity, in 30 days at rest (data sheet)")
          .from<&selfDischarge>("flooded 7 %, agm and gel 3 %, lfp 2 %")
          .seldom(),
  };
}

}  // namespace nightbank::scenario::build
