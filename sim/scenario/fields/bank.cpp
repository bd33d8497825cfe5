#include <algorithm>
#include <array>

#include "bank_lines.h"

#include "nightbank/units/constants.h"

namespace nightbank::scenario {
namespace {

using namespace build;

constexpr std::array<std::string_view, 4> kChemistries = {"flooded", "agm", "gel", "lfp"};

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
  const Graded& lost = bank.batteries->stringsLost;
  const double strings = orOne(bank.batteries->inParallel) - (lost.known() ? lost.value : 0.0);
  return exactly(each.capacity_Ah.value * strings, each.capacity_Ah.grade);
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
      // IEEE Std 450 and 1188 have a lead battery replaced at 80 % (from memory).
      share<&Bank::ageing>("ageing", between(0.3, 1),
                           "share of the rated capacity that is left; worn out is 80 % (capacity "
                           "test)")
          .byDefault(1, "100 %, new"),
      // People mean a bank that was charged; its last percents are what lead misses most.
      share<&Bank::startAt>("start_at", between(0, 1),
                            "state of charge when the period begins (battery monitor)")
          .typically(1.0, 0.9, 1.0, "100 %, range 90 % to 100 %"),
      share<&Bank::maxDepthOfDischarge>("max_depth_of_discharge", between(0.05, 1),
                                        "the floor is what is left of 100 % (manual)")
          .from<&maxDepth>("50 %; lfp 80 %"),
  };
  for (const std::vector<Field>& more :
       {voltageLines(), chargeLines(), protectionLines(), rateLines()})
    std::ranges::copy(more, std::back_inserter(lines));
  lines.push_back(part<&Bank::monitor>("monitor", "a battery monitor, to see what it would show"));
  return lines;
}

}  // namespace

template <>
const Spec& specOf<Bank>() {
  static const Spec spec{"a bank", bankLines(), ""};
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
          quantity<&Batteries::stringsLost>("strings_lost", Dim::count, between(0, 99),
                                            "of these, switched off or dead (count them)")
              .byDefault(0, "0")
              .seldom(),
      },
      ""};
  return spec;
}

}  // namespace nightbank::scenario
