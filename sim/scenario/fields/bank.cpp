#include <algorithm>
#include <array>

#include "build.h"

#include "nightbank/scenario/chemistry.h"
#include "nightbank/units/constants.h"

namespace nightbank::scenario {
namespace {

using namespace build;

constexpr std::array<std::string_view, 4> kChemistries = {"flooded", "agm", "gel", "lfp"};

// One value per chemistry.
struct ByChemistry {
  Typical flooded, agm, gel, lfp;

  const Typical& operator()(const Bank& bank) const {
    switch (bank.chemistry.value) {
      case Chemistry::flooded:
        return flooded;
      case Chemistry::agm:
        return agm;
      case Chemistry::gel:
        return gel;
      case Chemistry::lfp:
        return lfp;
    }
    return lfp;
  }
};

Typical scaled(const Typical& typical, double factor) {
  return {typical.value * factor, typical.low * factor, typical.high * factor};
}

Typical exactly(double value, Grade grade) {
  return {value, value, value, grade};
}

double units(const Bank& bank) {
  return twelveVoltUnits(bank.chemistry.value, bank.voltage_V.value);
}

double orOne(const Graded& count) {
  return count.known() ? count.value : 1.0;
}

// What follows from the batteries, or from the energy on the label.
Typical voltage(const Scenario&, const Bank& bank) {
  if (!bank.batteries)
    return {};
  const BatteryUnit& each = bank.batteries->each;
  return exactly(each.voltage_V.value * orOne(bank.batteries->inSeries), each.voltage_V.grade);
}

Typical capacity(const Scenario&, const Bank& bank) {
  if (bank.energy_J.given)
    return exactly(bank.energy_J.value / kWattHour_J / bank.voltage_V.value, bank.energy_J.grade);
  if (!bank.batteries)
    return {};
  const BatteryUnit& each = bank.batteries->each;
  return exactly(each.capacity_Ah.value * orOne(bank.batteries->inParallel),
                 each.capacity_Ah.grade);
}

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
  if (!bank.rates.empty())
    return {};
  return ByChemistry{
      {1.20, 1.14, 1.28}, {1.11, 1.05, 1.15}, {1.12, 1.10, 1.14}, {1.00, 1.00, 1.00}}(bank);
}

bool followsRate(const Bank& bank) {
  return !bank.rates.empty() || bank.peukertExponent.value > 1.0;
}

bool isCharged(const Scenario& scenario) {
  return scenario.charger || scenario.alternator || !scenario.solar.empty();
}

// What is of no weight is no guess.
Typical orDefault(bool isGuess, const Typical& typical) {
  return isGuess ? typical : Typical{typical.value, typical.value, typical.value};
}

// Common practice, no source: plates answer to the mean of a compressor's cycles.
Typical window(const Scenario&, const Bank& bank) {
  return orDefault(followsRate(bank), {1800, 900, 3600});
}

// Common practice, no source.
Typical recovery(const Scenario&, const Bank& bank) {
  return orDefault(followsRate(bank), {7200, 3600, 14400});
}

// Per 12 V and ampere-hour. Lead: a 55 Ah AGM battery's data sheet, 7.5 mohm charged; the high end
// stands for the polarisation that a plain resistance leaves out (mean voltages of the same sheet).
// LFP: 0.4 to 0.6 (from memory), a 20 Ah data sheet's limit of 1.0.
Typical resistance(const Scenario&, const Bank& bank) {
  constexpr Typical kLead{0.41, 0.30, 2.0};
  constexpr Typical kLfp{0.5, 0.3, 1.0};
  return scaled(ByChemistry{kLead, kLead, kLead, kLfp}(bank), units(bank) / bank.capacity_Ah.value);
}

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

// Half a lead bank is the usual plan, four fifths of LFP: a choice, no guess.
Typical maxDepth(const Scenario&, const Bank& bank) {
  constexpr Typical kHalf{0.5, 0.5, 0.5};
  return ByChemistry{kHalf, kHalf, kHalf, {0.8, 0.8, 0.8}}(bank);
}

Line capacityLine() {
  return quantity<&Bank::capacity_Ah>("capacity", Dim::charge, between(1, 1e5),
                                      "as rated, at 25 degC; or in kWh (label)")
      .required()
      .oneOf(1, 'a')
      .from<&capacity>("of the batteries");
}

Line energyLine() {
  return quantity<&Bank::energy_J>("capacity", Dim::energy, between(36e3, 3.6e10),
                                   "as rated, at 25 degC; or in Ah (label)")
      .required()
      .oneOf(1, 'a');
}

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

std::vector<Field> bankLines() {
  std::vector<Field> lines = {
      word<&Bank::chemistry>("chemistry", kChemistries, "sets the typical values (label)")
          .required(),
      quantity<&Bank::voltage_V>("voltage", Dim::voltage, above(0, 1000),
                                 "of the whole bank, as printed (label)")
          .required()
          .oneOf(1, 'a')
          .from<&voltage>("of the batteries"),
      capacityLine(),
      energyLine(),
      part<&Bank::batteries>("batteries", "or one battery and how many of them")
          .required()
          .oneOf(1, 'b'),
      // People mean a bank that was charged; its last percents are what lead misses most.
      share<&Bank::startAt>("start_at", between(0, 1),
                            "state of charge when the period begins (battery monitor)")
          .typically(1.0, 0.9, 1.0, "100 %, range 90 % to 100 %"),
      share<&Bank::maxDepthOfDischarge>("max_depth_of_discharge", between(0.05, 1),
                                        "the floor is what is left of 100 % (manual)")
          .from<&maxDepth>("50 %; lfp 80 %"),
      quantity<&Bank::resistance_ohm>("resistance", Dim::resistance, between(0, 10),
                                      "of the whole bank (data sheet, battery tester)")
          .from<&resistance>("per 12 V 0.41 ohm Ah / capacity, range 0.3 to 2; lfp 0.5, 0.3 to 1"),
      quantity<&Bank::absorption_V>("absorption", Dim::voltage, above(0, 1000),
                                    "charge voltage limit of the whole bank (charger's settings)")
          .from<&absorption>("per 12 V flooded 14.6 V, agm 14.4 V, gel 14.1 V, lfp 14.2 V")
          .seldom(),
      share<&Bank::chargeEfficiency>("charge_efficiency", between(0.5, 1),
                                     "ampere-hours out / in (battery monitor's settings)")
          .from<&chargeEfficiency>("flooded 90 %, agm and gel 95 %, lfp 99.5 %")
          .seldom(),
      share<&Bank::tailCurrent>("tail_current", between(0.001, 0.2),
                                "of the capacity an hour: below it the bank is full (manual)")
          .from<&tailCurrent>("2 %, range 1 % to 4 %")
          .seldom(),
  };
  std::ranges::copy(rateLines(), std::back_inserter(lines));
  return lines;
}

}  // namespace

template <>
const Spec& specOf<Bank>() {
  static const Spec spec{"a bank", bankLines(), ""};
  return spec;
}

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
const Spec& specOf<BatteryUnit>() {
  static const Spec spec{
      "a battery",
      {
          quantity<&BatteryUnit::voltage_V>("voltage", Dim::voltage, above(0, 100),
                                            "of one battery, as printed (label)")
              .required(),
          quantity<&BatteryUnit::capacity_Ah>("capacity", Dim::charge, between(1, 1e4),
                                              "of one battery, as rated (label)")
              .required(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<Batteries>() {
  static const Spec spec{
      "batteries",
      {
          part<&Batteries::each>("each", "one of them").required(),
          quantity<&Batteries::inSeries>("in_series", Dim::count, between(1, 400),
                                         "how many in a string (count them)")
              .byDefault(1, "1"),
          quantity<&Batteries::inParallel>("in_parallel", Dim::count, between(1, 100),
                                           "how many strings (count them)")
              .byDefault(1, "1"),
      },
      ""};
  return spec;
}

}  // namespace nightbank::scenario
