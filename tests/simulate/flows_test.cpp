#include "nightbank/simulate/flows.h"

#include <cmath>

#include "../devices/draws.h"
#include "plants.h"
#include <gtest/gtest.h>

namespace nightbank {
namespace {

using namespace test;

// At half charge: 12.4 V.
State halfCharged() {
  State state;
  state.bank.soc = 0.5;
  return state;
}

Plant halfPlant(double resistance_ohm) {
  return idlePlant(kHour_s, gelBank(200.0, resistance_ohm));
}

State onShore() {
  State state = halfCharged();
  state.acInput = AcInput::shore;
  return state;
}

// A bus with everything on it, by chance.
struct Bus {
  Plant plant = halfPlant(0.004);
  State state;
  Demand demand;
};

Bus randomBus(Draws& draws) {
  Bus bus;
  bus.plant.bank.resistance_ohm = draws.between(0.0, 0.01);
  bus.plant.cableLoop_ohm = draws.between(0.0, 0.005);
  if (draws.coin())
    bus.plant.bank.ocv = lfpOcv();
  bus.plant.bank.absorption_V = draws.between(13.0, 14.4);
  bus.state.bank.soc = draws.between(0.15, 0.95);
  bus.demand.battery_W = draws.coin() ? draws.between(0.0, 800.0) : 0.0;
  bus.demand.inverterDc_W = draws.coin() ? draws.between(0.0, 2000.0) : 0.0;
  if (draws.coin())
    bus.plant.sun[0] = {0.0, 1000.0, 0.0, draws.between(0.0, 900.0), draws.between(-0.3, 0.3)};
  if (draws.coin()) {
    addCharger(bus.plant, draws.between(5.0, 100.0));
    bus.plant.charger.inputLimit_VA = draws.between(300.0, 1500.0);
    bus.state.acInput = AcInput::generator;
  }
  if (draws.coin()) {
    bus.plant.alternator_A = draws.between(5.0, 60.0);
    bus.plant.segments[0].alternator = true;
  }
  return bus;
}

// Mean of the curve over the charge that is moved, by Simpson's rule on many short parts.
double meanBySimpson_V(const BankParams& bank, double from, double to) {
  constexpr int kParts = 2000;
  double sum_V = 0.0;
  for (int i = 0; i < kParts; ++i) {
    const double a = from + (to - from) * i / kParts, b = from + (to - from) * (i + 1) / kParts;
    sum_V += (openCircuit_V(bank.ocv, a) + 4.0 * openCircuit_V(bank.ocv, 0.5 * (a + b)) +
              openCircuit_V(bank.ocv, b)) /
             6.0;
  }
  return sum_V / kParts;
}

double residual_A(const Bus& bus, const Flows& flows) {
  const double in_W = flows.sunOutput_W + flows.chargerOutput_W + flows.alternator_W;
  return flows.bankCurrent_A + (in_W - bus.demand.battery_W) / flows.bankVoltage_V -
         flows.inverterCurrent_A;
}

// What the inverter draws at the bank's end of its cable: its own power and the cable's heat.
double inverterResidual_W(const Bus& bus, const Flows& flows) {
  const double current_A = flows.inverterCurrent_A;
  return flows.bankVoltage_V * current_A - bus.plant.cableLoop_ohm * current_A * current_A -
         bus.demand.inverterDc_W;
}

TEST(Flows, CurrentsOfTheBusAddUpWithAnythingOnIt) {
  Draws draws(1);
  int limited = 0;
  for (int i = 0; i < 3000; ++i) {
    const Bus bus = randomBus(draws);
    const Flows flows = flowsAt(bus.plant, bus.state, bus.demand, 0.0, 0.0);
    ASSERT_FALSE(flows.collapsed) << i;
    EXPECT_NEAR(residual_A(bus, flows), 0.0, 1e-9) << i;
    EXPECT_NEAR(inverterResidual_W(bus, flows), 0.0, 1e-8) << i;
    EXPECT_NEAR(flows.bankVoltage_V,
                openCircuit_V(bus.plant.bank.ocv, bus.state.bank.soc) -
                    flows.bankCurrent_A * bus.plant.bank.resistance_ohm,
                1e-10)
        << i;
    limited += flows.atVoltageLimit ? 1 : 0;
  }
  EXPECT_GT(limited, 20);
}

TEST(Flows, OverASpanTheMeanVoltageIsThatOfTheChargeMoved) {
  Draws draws(2);
  for (int i = 0; i < 200; ++i) {
    const Bus bus = randomBus(draws);
    const double span_s = draws.between(1.0, 600.0);
    const Flows flows = flowsAt(bus.plant, bus.state, bus.demand, span_s, 0.0);
    const double end = socAfter(bus.plant.bank, bus.state.bank.soc, flows.bankCurrent_A, span_s);
    EXPECT_NEAR(residual_A(bus, flows), 0.0, 1e-9) << i;
    EXPECT_NEAR(flows.bankVoltage_V,
                meanBySimpson_V(bus.plant.bank, bus.state.bank.soc, end) -
                    flows.bankCurrent_A * bus.plant.bank.resistance_ohm,
                1e-5)
        << i;
  }
}

// A moment begins its solve at the current of the moment before, when other loads were on.
TEST(Flows, TheCurrentToBeginWithDoesNotMatter) {
  Draws draws(3);
  for (int i = 0; i < 3000; ++i) {
    Bus bus = randomBus(draws);
    const Flows fromRest = flowsAt(bus.plant, bus.state, bus.demand, 0.0, 0.0);
    Demand before;
    before.battery_W = draws.between(0.0, 3000.0);
    before.inverterDc_W = draws.between(0.0, 3000.0);
    const Flows other = flowsAt(bus.plant, bus.state, before, 0.0, 0.0);
    const Flows flows = flowsAt(bus.plant, bus.state, bus.demand, 0.0, other.bankCurrent_A);
    ASSERT_EQ(flows.collapsed, fromRest.collapsed) << i;
    EXPECT_NEAR(flows.bankCurrent_A, fromRest.bankCurrent_A, 1e-9) << i;
  }
}

TEST(Flows, BankAloneFeedsItsLoadsThroughItsResistance) {
  // 12.4 V, 0.02 ohm, 500 W: I = (12.4 - sqrt(12.4^2 - 4 x 0.02 x 500)) / 0.04 = 43.354 A.
  Demand demand;
  demand.battery_W = 500.0;
  const Flows flows = flowsAt(halfPlant(0.02), halfCharged(), demand, 0.0, 0.0);
  EXPECT_NEAR(flows.bankCurrent_A, 43.354, 0.0005);
  EXPECT_NEAR(flows.bankVoltage_V, 11.533, 0.0005);
}

TEST(Flows, CableTakesItsShareBySquareOfTheCurrent) {
  // 12.4 V, 0.02 ohm of cable, 1000 W: I = (12.4 - sqrt(12.4^2 - 4 x 0.02 x 1000)) / 0.04 = 95.291
  // A.
  Plant plant = halfPlant(0.0);
  plant.cableLoop_ohm = 0.02;
  Demand demand;
  demand.inverterDc_W = 1000.0;
  const Flows flows = flowsAt(plant, halfCharged(), demand, 0.0, 0.0);
  EXPECT_NEAR(flows.inverterCurrent_A, 95.291, 0.0005);
  EXPECT_NEAR(flows.bankVoltage_V * flows.bankCurrent_A - 1000.0, 0.02 * 95.291 * 95.291, 0.01);
  EXPECT_NEAR(flows.inverterVoltage_V, 12.4 - 0.02 * 95.291, 0.0005);
}

TEST(Flows, VoltageLimitIsHeldAndTheSourcesGiveWhatIsLeft) {
  Plant plant = halfPlant(0.02);
  plant.bank.absorption_V = 13.0;  // 0.6 V above: 30 A
  addCharger(plant, 100.0);
  Demand demand;
  demand.battery_W = 130.0;  // 10 A at the limit
  const Flows flows = flowsAt(plant, onShore(), demand, 0.0, 0.0);
  EXPECT_TRUE(flows.atVoltageLimit);
  EXPECT_NEAR(flows.bankCurrent_A, -30.0, 1e-9);
  EXPECT_NEAR(flows.bankVoltage_V, 13.0, 1e-9);
  EXPECT_NEAR(flows.chargerOutput_W, 40.0 * 13.0, 1e-6);
  EXPECT_NEAR(flows.input.real_W, 40.0 * 13.0 / 0.9, 1e-6);
}

TEST(Flows, BelowTheLimitTheChargerGivesItsCurrent) {
  Plant plant = halfPlant(0.002);
  addCharger(plant, 40.0);
  const Flows flows = flowsAt(plant, onShore(), {}, 0.0, 0.0);
  EXPECT_FALSE(flows.atVoltageLimit);
  EXPECT_NEAR(flows.bankCurrent_A, -40.0, 1e-9);
  EXPECT_NEAR(flows.bankVoltage_V, 12.48, 1e-9);
}

TEST(Flows, ChargerIsHeldToThePowerThatItsInputAllows) {
  // 400 VA x 0.95 x 0.9 = 342 W: 27.58 A at 12.4 V.
  Plant plant = halfPlant(0.0);
  addCharger(plant, 40.0);
  plant.charger.inputLimit_VA = 400.0;
  const Flows flows = flowsAt(plant, onShore(), {}, 0.0, 0.0);
  EXPECT_NEAR(flows.chargerOutput_W, 342.0, 1e-9);
  EXPECT_NEAR(flows.bankCurrent_A, -342.0 / 12.4, 1e-9);
  EXPECT_NEAR(std::hypot(flows.input.real_W, flows.input.reactive_VA), 400.0, 1e-9);
}

TEST(Flows, FullBankTakesNothing) {
  Plant plant = halfPlant(0.01);
  plant.sun[0] = {.array_W = 500.0, .output_W = 400.0};
  State state = halfCharged();
  state.bankFull = true;
  Demand demand;
  demand.battery_W = 100.0;
  const Flows flows = flowsAt(plant, state, demand, 0.0, 0.0);
  EXPECT_EQ(flows.bankCurrent_A, 0.0);
  EXPECT_NEAR(flows.sunOutput_W, 100.0, 1e-9);
  EXPECT_NEAR(flows.sunArray_W, 125.0, 1e-9);  // in proportion
  EXPECT_NEAR(flows.sunArrayAvailable_W, 500.0, 1e-9);
}

TEST(Flows, FullBankHelpsWhereTheSourcesFallShort) {
  Plant plant = halfPlant(0.0);
  plant.sun[0] = {.array_W = 40.0, .output_W = 40.0};
  State state = halfCharged();
  state.bankFull = true;
  Demand demand;
  demand.battery_W = 100.0;
  const Flows flows = flowsAt(plant, state, demand, 0.0, 0.0);
  EXPECT_NEAR(flows.bankCurrent_A, 60.0 / 12.4, 1e-9);
  EXPECT_NEAR(flows.sunOutput_W, 40.0, 1e-9);
}

TEST(Flows, SunIsUsedFirstThenTheChargerThenTheAlternator) {
  Plant plant = halfPlant(0.0);
  plant.sun[0] = {.array_W = 124.0, .output_W = 124.0};  // 10 A
  addCharger(plant, 20.0);
  plant.alternator_A = 30.0;
  plant.segments[0].alternator = true;
  State state = onShore();
  state.bankFull = true;
  Demand demand;
  const double used_A[][4] = {{5.0, 5.0, 0.0, 0.0},
                              {25.0, 10.0, 15.0, 0.0},
                              {45.0, 10.0, 20.0, 15.0},
                              {60.0, 10.0, 20.0, 30.0}};
  for (const auto& [load_A, sun_A, charger_A, alternator_A] : used_A) {
    demand.battery_W = load_A * 12.4;
    const Flows flows = flowsAt(plant, state, demand, 0.0, 0.0);
    EXPECT_NEAR(flows.sunOutput_W, sun_A * 12.4, 1e-8) << load_A;
    EXPECT_NEAR(flows.chargerOutput_W, charger_A * 12.4, 1e-8) << load_A;
    EXPECT_NEAR(flows.alternator_W, alternator_A * 12.4, 1e-8) << load_A;
  }
}

// E^2 / 4R = 12.4^2 / 0.08 = 1922 W is the most that a resistance of 0.02 ohm lets through.
TEST(Flows, CollapseIsTheSquareOfTheVoltageOverFourResistances) {
  Demand demand;
  demand.battery_W = 1921.9;
  EXPECT_FALSE(flowsAt(halfPlant(0.02), halfCharged(), demand, 0.0, 0.0).collapsed);
  demand.battery_W = 1922.1;
  EXPECT_TRUE(flowsAt(halfPlant(0.02), halfCharged(), demand, 0.0, 0.0).collapsed);
}

TEST(Flows, NothingOnTheBusNothingFlows) {
  const Flows flows = flowsAt(halfPlant(0.02), halfCharged(), {}, 300.0, 5.0);
  EXPECT_NEAR(flows.bankCurrent_A, 0.0, 1e-12);
  EXPECT_NEAR(flows.bankVoltage_V, 12.4, 1e-12);
}

// 10 A from a tied array: the amperes do not hang on the bank's voltage, the watts do.
TEST(Flows, TiedArrayGivesACurrent) {
  Plant plant = halfPlant(0.0);
  plant.sun[0].tied_A = 10.0;
  State state = halfCharged();
  const Flows half = flowsAt(plant, state, {}, 0.0, 0.0);
  EXPECT_NEAR(half.bankCurrent_A, -10.0, 1e-9);
  EXPECT_NEAR(half.sunArray_W, 124.0, 1e-9);
  EXPECT_NEAR(half.sunOutput_W, 124.0, 1e-9);  // no loss of a controller
  state.bank.soc = 0.9;
  const Flows nearlyFull = flowsAt(plant, state, {}, 0.0, 0.0);
  EXPECT_NEAR(nearlyFull.bankCurrent_A, -10.0, 1e-9);
  EXPECT_NEAR(nearlyFull.sunArray_W, 10.0 * openCircuit_V(plant.bank.ocv, 0.9), 1e-9);
}

}  // namespace
}  // namespace nightbank
