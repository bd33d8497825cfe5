#include "bank_lines.h"

#include "nightbank/units/constants.h"

namespace nightbank::scenario::build {
namespace {

// Per 12 V and ampere-hour. Lead: a 55 Ah AGM battery's data sheet, 7.5 mohm charged; cold and low
// charge raise it by half to twice (from memory). LFP: 0.4 to 0.6 (from memory), a 20 Ah data
// sheet's limit of 1.0.
Typical resistance(const Scenario&, const Bank& bank) {
  constexpr Typical kLead{0.41, 0.30, 0.80};
  constexpr Typical kLfp{0.5, 0.3, 1.0};
  return scaled(ByChemistry{kLead, kLead, kLead, kLfp}(bank), units(bank) / bank.capacity_Ah.value);
}

// Six cells of 2 R T / F at 25 degC (Butler-Volmer, symmetric). The range covers the mean voltages
// of a 55 Ah AGM battery's data sheet at 15 rates and a spread between makes that is a guess.
Typical polarisation(const Scenario&, const Bank& bank) {
  constexpr Typical kLead{0.308, 0.22, 0.40};
  constexpr Typical kLfp{0.0, 0.0, 0.0};
  return scaled(ByChemistry{kLead, kLead, kLead, kLfp}(bank), units(bank));
}

// Half an hour to an hour in which a lead battery's voltage settles; common practice, no source.
Typical polarisationTime(const Scenario&, const Bank& bank) {
  return orDefault(!isLfp(bank), {1800, 900, 3600});
}

}  // namespace

std::vector<Field> voltageLines() {
  return {
      quantity<&Bank::resistance_ohm>("resistance", Dim::resistance, between(0, 10),
                                      "of the whole bank (data sheet, battery tester)")
          .from<&resistance>(
              "per 12 V 0.41 ohm Ah / capacity, range 0.3 to 0.8; lfp 0.5, 0.3 to 1"),
      quantity<&Bank::polarisation_V>(
          "polarisation", Dim::voltage, between(0, 100),
          "voltage scale of what lead loses under load beside its resistance (leave it out)")
          .from<&polarisation>("per 12 V 0.308 V, range 0.22 V to 0.4 V; lfp 0")
          .seldom(),
      quantity<&Bank::polarisationTime_s>(
          "polarisation_time", Dim::duration, between(kMinute_s, 12 * kHour_s),
          "in which two fifths of it build up and fade (leave it out)")
          .usually("min")
          .from<&polarisationTime>("30 min, range 15 min to 60 min")
          .seldom(),
  };
}

}  // namespace nightbank::scenario::build
