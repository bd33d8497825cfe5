#include <array>

#include "bank_lines.h"

#include "nightbank/units/constants.h"

namespace nightbank::scenario {
namespace build {
namespace {

constexpr std::array<std::string_view, 2> kRateModels = {"peukert", "two_well"};

// Deep-cycle labels mean 20 h; some mean 10 h. Of no weight where the exponent is 1.
Typical ratedOver(const Scenario&, const Bank& bank) {
  constexpr Typical kLead{20 * kHour_s, 10 * kHour_s, 20 * kHour_s};
  constexpr Typical kLfp{5 * kHour_s, 5 * kHour_s, 5 * kHour_s};
  return ByChemistry{kLead, kLead, kLead, kLfp}(bank);
}

// Flooded and gel: exponents worked out from 15 published pairs of 20 h capacity and reserve
// minutes in a battery monitor's manual; AGM: the same manual's setting, range of dealers' notes.
// LFP: the resistance counts the rest; an exponent beside it would count it twice.
Typical peukert(const Scenario&, const Bank& bank) {
  if (!bank.rates.empty() || bank.twoWell)
    return {};
  return ByChemistry{
      {1.20, 1.14, 1.28}, {1.11, 1.05, 1.15}, {1.12, 1.10, 1.14}, {1.00, 1.00, 1.00}}(bank);
}

// Whether Peukert's law may bind; rates may yet lead to the two wells.
bool followsRate(const Bank& bank) {
  return !bank.twoWell && (!bank.rates.empty() || bank.peukertExponent.value > 1.0);
}

// Common practice, no source: plates answer to the mean of a compressor's cycles.
Typical window(const Scenario&, const Bank& bank) {
  return orDefault(followsRate(bank), {1800, 900, 3600});
}

// Common practice, no source.
Typical recovery(const Scenario&, const Bank& bank) {
  return orDefault(followsRate(bank), {7200, 3600, 14400});
}

}  // namespace

std::vector<Field> rateLines() {
  return {
      quantity<&Bank::ratedOver_s>("rated_over", Dim::duration, between(kHour_s, 120 * kHour_s),
                                   "hours of discharge that the capacity is printed for (label)")
          .usually("h")
          .from<&ratedOver>("20 h, range 10 h to 20 h; lfp 5 h"),
      quantity<&Bank::peukertExponent>(
          "peukert_exponent", Dim::number, between(1, 2),
          "how capacity shrinks with current (manual, battery monitor)")
          .oneOf(2, 'a')
          .from<&peukert>("flooded 1.2, agm 1.11, gel 1.12, lfp 1"),
      list<&Bank::rates>("rates", "or capacities at two or more rates (data sheet)")
          .oneOf(2, 'b')
          .seldom(),
      part<&Bank::twoWell>("two_well", "or the constants of the kinetic model (a fit)")
          .oneOf(2, 'c')
          .seldom(),
      word<&Bank::rateModel>("rate_model", kRateModels,
                             "how rates act: lead with three or more rates that fit is two_well, "
                             "all else peukert (leave it out)")
          .seldom(),
      quantity<&Bank::peukertWindow_s>(
          "peukert_window", Dim::duration, between(0, 12 * kHour_s),
          "time over which the current is averaged for that (leave it out)")
          .usually("min")
          .from<&window>("30 min, range 15 min to 60 min")
          .seldom(),
      quantity<&Bank::recoveryTime_s>(
          "recovery_time", Dim::duration, between(1, 48 * kHour_s),
          "time in which a rest gives back what the rate withheld (leave it out)")
          .usually("h")
          .from<&recovery>("2 h, range 1 h to 4 h")
          .seldom(),
  };
}

}  // namespace build

using namespace build;

template <>
const Spec& specOf<Rate>() {
  static const Spec spec{
      "a rate",
      {
          quantity<&Rate::capacity_Ah>("capacity", Dim::charge, above(0, 1e5),
                                       "delivered at this rate (data sheet)")
              .required(),
          quantity<&Rate::over_s>("over", Dim::duration, between(kMinute_s, 120 * kHour_s),
                                  "hours of discharge (data sheet)")
              .usually("h")
              .required(),
          quantity<&Rate::downTo_V>("down_to", Dim::voltage, above(0, 1000),
                                    "end voltage of the test (data sheet)")
              .seldom(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<TwoWell>() {
  static const Spec spec{
      "the two wells",
      {
          quantity<&TwoWell::total_Ah>(
              "total", Dim::charge, above(0, 1e5),
              "both wells when full, at 25 degC: what an endless discharge "
              "would give; qmax (a fit to a data sheet)")
              .required(),
          share<&TwoWell::fastShare>("fast_share", between(0.01, 0.99),
                                     "of that at hand at once; c (a fit to a data sheet)")
              .required(),
          quantity<&TwoWell::refillTime_s>("refill_time", Dim::duration,
                                           between(kMinute_s, 240 * kHour_s),
                                           "in which the fast well refills from the slow one; 1/k "
                                           "of the model's k-prime (a fit to a data sheet)")
              .usually("min")
              .required(),
      },
      ""};
  return spec;
}

}  // namespace nightbank::scenario
