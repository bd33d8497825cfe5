// Which law says what is at hand, from what a scenario gives. Rates: data sheet of a 12 V, 55 Ah
// AGM battery at 20 degC, constant current down to 1.80 V a cell (seen).

#include <stdexcept>
#include <string>
#include <variant>

#include <gtest/gtest.h>

#include "nightbank/devices/two_well_capacity.h"
#include "nightbank/scenario/document.h"
#include "nightbank/scenario/reader.h"
#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/simulate/simulate.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

const std::string kSheet =
    "rates: [{capacity: 55.4 Ah, over: 20 h}, {capacity: 53.4 Ah, over: 10 h}, {capacity: 50 Ah, "
    "over: 8 h}, {capacity: 44.35 Ah, over: 5 h}, {capacity: 40.5 Ah, over: 3 h}, {capacity: 34.6 "
    "Ah, over: 2 h}, {capacity: 27.6 Ah, over: 1 h}]";

Plant plantOfRates(const std::string& rates, const std::string& load = "24 W") {
  const std::string text =
      "period: {from: 2031-07-10 00:00, to: 2031-07-10 12:00}\n"
      "loads: [{name: lamp, fed_from: battery, power: " +
      load +
      "}]\n"
      "bank: {chemistry: agm, voltage: 12 V, capacity: 55.4 Ah, temperature: 25 degC, "
      "max_depth_of_discharge: 100 %, start_at: 100 %, " +
      rates + "}\n";
  const scenario::Parsed parsed = scenario::parseDocument(text, "rates.yaml");
  const scenario::ReadResult read = scenario::readScenario(std::get<scenario::Document>(parsed));
  EXPECT_TRUE(read.scenario) << text;
  return derive(scenario::resolve(*read.scenario));
}

// The fit to the rows from 1 h to 20 h (computed): c 0.316, k 1.40 /h, at 59.8 Ah in all; here a
// few of the rows, and what the wells give in 20 h is the label's capacity.
TEST(DeriveRates, ASheetThatFitsMakesTwoWells) {
  const BankParams bank = plantOfRates(kSheet).bank;
  ASSERT_TRUE(bank.hasWells);
  EXPECT_NEAR(bank.wells.fastShare, 0.316, 0.02);
  EXPECT_NEAR(bank.wells.rate_1_s * kHour_s, 1.40, 0.15);
  EXPECT_NEAR(bank.wells.total_Ah, 59.8, 0.6);
  EXPECT_NEAR(deliveredCapacity_Ah(bank.wells, 20.0), 55.4, 1e-9);
  EXPECT_EQ(bank.peukert.exponent, 1.0);
}

// Two rates give a line, and so an exponent: 20 h and 5 h of the sheet 1.191 (computed).
TEST(DeriveRates, TwoRatesMakeAnExponent) {
  const BankParams bank =
      plantOfRates("rates: [{capacity: 55.4 Ah, over: 20 h}, {capacity: 44.35 Ah, over: 5 h}]")
          .bank;
  EXPECT_FALSE(bank.hasWells);
  EXPECT_NEAR(bank.peukert.exponent, 1.191, 0.001);
  EXPECT_FALSE(plantOfRates(kSheet + ", rate_model: peukert").bank.hasWells);
}

// Its rates at 1, 10 and 20 h have no two wells (computed): asked for, that is said in words.
TEST(DeriveRates, RatesWithoutTwoWellsAreAnExponentOrARefusal) {
  const std::string three =
      "rates: [{capacity: 55.4 Ah, over: 20 h}, {capacity: 53.4 Ah, over: 10 h}, {capacity: 27.6 "
      "Ah, over: 1 h}]";
  EXPECT_FALSE(plantOfRates(three).bank.hasWells);
  EXPECT_GT(plantOfRates(three).bank.peukert.exponent, 1.1);
  try {
    plantOfRates(three + ", rate_model: two_well");
    FAIL() << "not refused";
  } catch (const Underivable& refusal) {
    EXPECT_EQ(refusal.path, "bank.rates");
    EXPECT_EQ(std::string(refusal.what()).find("bank.rates do not make two wells: no two wells"),
              0U)
        << refusal.what();
  }
}

TEST(DeriveRates, ConstantsAreTakenAsTheyAre) {
  const BankParams bank =
      plantOfRates("two_well: {total: 59.845 Ah, fast_share: 31.61 %, refill_time: 42.93 min}")
          .bank;
  ASSERT_TRUE(bank.hasWells);
  EXPECT_EQ(bank.wells.fastShare, 0.3161);
  EXPECT_NEAR(deliveredCapacity_Ah(bank.wells, 20.0), 55.4, 1e-9);
}

double spentAfter_h(const Plant& plant) {
  Recorder recorder = makeRecorder(plant);
  return simulate(plant, recorder).bank.spentAt_s / kHour_s;
}

// The engine's own night: a steady 30 A empties the wells first, the same 30 A for two thirds of
// the time later, and their mean of 20 A last (computed from the fit: 0.892, 1.327 and 1.608 h).
TEST(DeriveRates, CyclingIsPunishedLessThanSteadyAndMoreThanItsMean) {
  const auto at = [](double current_A, double on_s, double off_s) {
    Plant plant = plantOfRates(kSheet);
    plant.bank.overvoltage = {};
    plant.bank.resistance_ohm = 0.0;
    plant.bank.selfDischarge_A = 0.0;
    const double soc[] = {0.0, 1.0}, flat_V[] = {12.0, 12.0 + 1e-9};
    plant.bank.ocv = ocvCurve(soc, flat_V);
    Segment segment = plant.segments.front();
    plant.segments.clear();
    for (double t_s = 0.0; t_s < plant.span_s; t_s += on_s + off_s) {
      segment.start_s = t_s;
      segment.loads = 1;
      segment.wants = {};
      segment.wants.byFeeds[indexOf({.battery = true})] = {12.0 * current_A, 0.0};
      plant.segments.push_back(segment);
      if (off_s == 0.0)
        break;
      segment.start_s = t_s + on_s;
      segment.loads = 0;
      segment.wants = {};
      plant.segments.push_back(segment);
    }
    return spentAfter_h(plant);
  };
  const double steady_h = at(30.0, 1.0, 0.0);
  const double cycling_h = at(30.0, 1200.0, 600.0);
  const double mean_h = at(20.0, 1.0, 0.0);
  EXPECT_NEAR(steady_h, 0.892, 0.03);
  EXPECT_NEAR(cycling_h, 1.327, 0.04);
  EXPECT_NEAR(mean_h, 1.608, 0.05);
  EXPECT_LT(steady_h, cycling_h);
  EXPECT_LT(cycling_h, mean_h);
}

}  // namespace
}  // namespace nightbank
