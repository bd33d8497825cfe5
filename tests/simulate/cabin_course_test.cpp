#include <array>
#include <cmath>
#include <vector>

#include "plants.h"
#include <gtest/gtest.h>

#include "nightbank/simulate/heat.h"

// The cabin's equations once more, by the classical Runge-Kutta method in steps of half a second
// and with switches located by halving: nothing of the engine in it but the coil's own law.
namespace nightbank {
namespace {

using namespace test;

// Air and mass [degC], humidity ratio, energy of the units [J].
using Course = std::array<double, 4>;

struct FineUnit {
  bool calls = false, runs = false;
  double startedAt_s = 0.0, lockedUntil_s = 0.0;
  double missing_W = 0.0, missingLatent_W = 0.0;
  int starts = 0;
};

class FineCabin {
 public:
  explicit FineCabin(const Plant& plant) : plant_(plant), units_(plant.airConditioners.size()) {
    now_ = {plant.cabin.start.temperatures.air_degC, plant.cabin.start.temperatures.mass_degC,
            plant.cabin.start.humidityRatio, 0.0};
  }

  void run() {
    constexpr double kStep_s = 0.5, kLocated_s = 1e-7;
    while (time_s_ < plant_.span_s - 1e-9) {
      switchUnits();
      const auto step = static_cast<double>(std::floor(time_s_ / kStep_s + 1e-6));
      double most_s = std::min((step + 1.0) * kStep_s, plant_.span_s) - time_s_;
      for (const FineUnit& unit : units_)  // ends of rests
        if (unit.calls && !unit.runs && unit.lockedUntil_s > time_s_)
          most_s = std::min(most_s, unit.lockedUntil_s - time_s_);
      if (isBeyond(moved(most_s), time_s_ + most_s)) {
        double least_s = 0.0;
        while (most_s - least_s > kLocated_s) {
          const double middle_s = 0.5 * (least_s + most_s);
          (isBeyond(moved(middle_s), time_s_ + middle_s) ? most_s : least_s) = middle_s;
        }
      }
      now_ = moved(most_s);
      time_s_ += most_s;
    }
  }

  double energy_J() const { return now_[3]; }

  int starts() const {
    int sum = 0;
    for (const FineUnit& unit : units_)
      sum += unit.starts;
    return sum;
  }

  double air_degC() const { return now_[0]; }

  double humidityRatio() const { return now_[2]; }

 private:
  const AirConditionerPlant& of(std::size_t unit) const { return plant_.airConditioners[unit]; }

  // Kelvin above the switching point ahead: upper while it rests, below 0 of the lower while it
  // calls.
  bool turns(std::size_t i, const Course& at, double time_s) const {
    const ThermostatPlant& own = of(i).thermostat;
    const double above_K = at[0] + own.sensorOffset_K - own.coolTo_degC[0];
    if (!units_[i].calls)
      return above_K >= 0.5 * own.band_K;
    const bool mustRun = units_[i].runs && time_s < units_[i].startedAt_s + own.leastOn_s - 1e-6;
    return !mustRun && above_K <= -0.5 * own.band_K;
  }

  bool isBeyond(const Course& at, double time_s) const {
    for (std::size_t i = 0; i < units_.size(); ++i)
      if (turns(i, at, time_s))
        return true;
    return false;
  }

  void switchUnits() {
    for (std::size_t i = 0; i < units_.size(); ++i) {
      FineUnit& unit = units_[i];
      if (turns(i, now_, time_s_)) {
        unit.calls = !unit.calls;
        if (unit.runs)
          unit.lockedUntil_s = time_s_ + of(i).thermostat.leastOff_s;
        unit.runs = false;
      }
      if (!unit.calls || unit.runs || time_s_ < unit.lockedUntil_s - 1e-6)
        continue;
      const Cooling full = coolingAt(of(i).thermostat.cooling, now_[0], now_[2], outdoor(time_s_));
      const double delivered = of(i).thermostat.delivered;
      unit = {true,
              true,
              time_s_,
              0.0,
              delivered * full.sensible_W,
              delivered * (full.total_W - full.sensible_W),
              unit.starts + 1};
    }
  }

  double onGridOf(double time_s, double a, double b) const {
    return a + (b - a) * (time_s / 300.0 - std::floor(time_s / 300.0));
  }

  double outdoor(double time_s) const {
    const auto i = static_cast<std::size_t>(time_s / 300.0);
    return onGridOf(time_s, plant_.outdoor_degC[i], plant_.outdoor_degC[i + 1]);
  }

  Course slope(const Course& at, double time_s) const {
    const CabinParams& p = plant_.cabin.params;
    const auto cell = static_cast<std::size_t>(time_s / 300.0);
    const HeatKnot &a = plant_.cabin.knots[cell], &b = plant_.cabin.knots[cell + 1];
    const double outside_degC = outdoor(time_s);
    const Segment& s = plant_.segments[0];
    const double warmer_K = at[0] - 24.0;
    double air_W = s.gain_W + s.people.sensible_W + s.people.perKelvin_W * warmer_K +
                   p.outdoorAir_W_K * (outside_degC - at[0]) + p.airMass_W_K * (at[1] - at[0]) +
                   onGridOf(time_s, a.toAir_W, b.toAir_W);
    double vapour_W = s.people.latent_W - s.people.perKelvin_W * warmer_K;
    double power_W = 0.0;
    for (std::size_t i = 0; i < units_.size(); ++i) {
      if (!units_[i].runs)
        continue;
      const AirConditionerPlant& unit = of(i);
      const Cooling full = coolingAt(unit.thermostat.cooling, at[0], at[2], outside_degC);
      const double left = std::exp(-(time_s - units_[i].startedAt_s) / plant_.cabin.fade_s);
      const double delivered = unit.thermostat.delivered;
      air_W -= delivered * full.sensible_W - units_[i].missing_W * left;
      vapour_W -= delivered * (full.total_W - full.sensible_W) - units_[i].missingLatent_W * left;
      power_W += unit.running.real_W +
                 unit.compressor.real_W * (full.powerRatio / unit.readingRatio - 1.0);
    }
    const double mass_W = p.airMass_W_K * (at[0] - at[1]) +
                          p.outdoorMass_W_K * (outside_degC - at[1]) +
                          onGridOf(time_s, a.toMass_W, b.toMass_W);
    // Enthalpy of vapour at 25 degC: ASHRAE Handbook - Fundamentals (2021), ch. 1, eq. 30.
    const double vapour_kg_s =
        vapour_W / (2501e3 + 1860.0 * 25.0) +
        p.outdoorAir_kg_s * (onGridOf(time_s, a.outdoorRatio, b.outdoorRatio) - at[2]);
    return {air_W / p.air_J_K, mass_W / p.mass_J_K, vapour_kg_s / p.moist_kg, power_W};
  }

  Course moved(double span_s) const {
    const auto by = [&](const Course& slope, double factor) {
      Course sum = now_;
      for (std::size_t i = 0; i < sum.size(); ++i)
        sum[i] += factor * slope[i];
      return sum;
    };
    const double last_s = time_s_ + span_s - 1e-9;  // still of this interval of the grid
    const double half = 0.5 * span_s;
    const Course a = slope(now_, time_s_), b = slope(by(a, half), time_s_ + half),
                 c = slope(by(b, half), time_s_ + half), d = slope(by(c, span_s), last_s);
    Course sum = now_;
    for (std::size_t i = 0; i < sum.size(); ++i)
      sum[i] += span_s / 6.0 * (a[i] + 2.0 * b[i] + 2.0 * c[i] + d[i]);
    return sum;
  }

  const Plant& plant_;
  std::vector<FineUnit> units_;
  Course now_{};
  double time_s_ = 0.0;
};

// A trailer's cabin on a night that cools from 33 to 25 degC. `ratio`: of the air outdoors.
Plant nightPlant(double ratio, double sensibleShare = 0.75) {
  Plant plant = idlePlant(8.0 * kHour_s, gelBank(5000.0, 1e-4));
  addCabin(plant,
           {.air_J_K = 1.3e5,
            .mass_J_K = 1.1e6,
            .outdoorAir_W_K = 35.0,
            .airMass_W_K = 330.0,
            .outdoorMass_W_K = 70.0,
            .moist_kg = 330.0,
            .outdoorAir_kg_s = 0.009},
           27.0);
  plant.cabin.fade_s = 45.0;
  for (std::size_t i = 0; i < plant.outdoor_degC.size(); ++i) {
    plant.outdoor_degC[i] = 25.0 + 8.0 * std::exp(-static_cast<double>(i) / 40.0);
    plant.cabin.knots[i].outdoorRatio = ratio;
  }
  plant.cabin.start.humidityRatio = ratio;
  during(plant, 0.0, plant.span_s, [](Segment& s) { s.gain_W = 150.0; });
  addThermostat(plant, {.battery = true}, 1200.0, 3500.0, 24.0);
  plant.airConditioners[0].thermostat.cooling =
      coolingParams({.rated_W = 3500.0, .sensibleShare = sensibleShare});
  plant.airConditioners[0].thermostat.leastOff_s = 180.0;
  return plant;
}

void expectSameCourse(const Plant& plant) {
  FineCabin fine(plant);
  fine.run();
  const Night night = run(plant);
  double energy_J = 0.0;
  int starts = 0;
  for (const AirConditionerOutcome& unit : night.recorder.airConditioners) {
    energy_J += unit.energy_J;
    starts += unit.starts;
  }
  EXPECT_GT(starts, 10);
  EXPECT_EQ(starts, fine.starts());
  EXPECT_NEAR(energy_J, fine.energy_J(), 5e-5 * fine.energy_J());
  const CabinState& end = night.outcome.cabin.end;
  EXPECT_NEAR(end.temperatures.air_degC, fine.air_degC(), 0.002);
  EXPECT_NEAR(end.humidityRatio, fine.humidityRatio(), 1e-5);
}

// The first unit runs.
State coolingState(const Plant& plant) {
  State state;
  state.cabin = plant.cabin.start;
  state.airConditioners[0].compressorOn = state.airConditioners[0].inHours = true;
  state.airConditioners[0].feed = Feed::battery;
  return state;
}

// The curves of an instant are asked for once, unless the air is not what it was.
TEST(CabinCourse, ItsLawKeepsTheCurvesOfAnInstant) {
  const Plant plant = nightPlant(0.013);
  State state = coolingState(plant);
  const HeatLaw before = heatLawAt(plant, state);
  state.cabin.temperatures.air_degC += 1.0;
  HeatLaw law = before;
  findHeatLaw(plant, state, Curves::kept, law);
  EXPECT_EQ(law.cooling_W.at, before.cooling_W.at);
  findHeatLaw(plant, state, Curves::anew, law);
  EXPECT_GT(law.cooling_W.at, before.cooling_W.at + 1.0);
  HeatLaw later = before;
  state.time_s += 1.0;
  findHeatLaw(plant, state, Curves::kept, later);
  EXPECT_NEAR(later.cooling_W.at, law.cooling_W.at, 0.1);
}

// A unit that has just started, on its bend: the rates at the end of a course are the slopes
// between courses a little shorter and a little longer.
TEST(CabinCourse, ItsRatesAreItsSlopes) {
  const Plant plant = nightPlant(0.013);
  State state = coolingState(plant);
  AirConditionerState& unit = state.airConditioners[0];
  unit.missing_W = 2000.0;
  unit.missingLatent_W = 700.0;
  const HeatLaw law = heatLawAt(plant, state);
  const CurveBend bend{.cooling_W = {-2e-3, 3e-6}, .drying_W = {1e-3, -2e-6}};
  constexpr double kSpan_s = 90.0, kLittle_s = 0.05;
  const auto endAfter = [&](double span_s) {
    return heatCourse(plant, state, law, bend, span_s).end;
  };
  const CabinState shorter = endAfter(kSpan_s - kLittle_s), longer = endAfter(kSpan_s + kLittle_s);
  const HeatCourse course = heatCourse(plant, state, law, bend, kSpan_s);
  const double warms_K_s =
      (longer.temperatures.air_degC - shorter.temperatures.air_degC) / (2.0 * kLittle_s);
  const double wets_1_s = (longer.humidityRatio - shorter.humidityRatio) / (2.0 * kLittle_s);
  EXPECT_LT(warms_K_s, -1e-3);
  EXPECT_NEAR(course.endRate_K_s, warms_K_s, 2e-3 * std::abs(warms_K_s));
  EXPECT_LT(wets_1_s, -1e-8);
  EXPECT_NEAR(course.endRatioRate_1_s, wets_1_s, 1e-2 * std::abs(wets_1_s));
}

// The bend takes the course to the curves and to their slopes.
TEST(CabinCourse, ItsBendMeetsTheCurvesAtItsEnd) {
  const Plant plant = nightPlant(0.013);
  const State state = coolingState(plant);
  const HeatLaw law = heatLawAt(plant, state);
  constexpr double kSpan_s = 240.0;
  const HeatCourse straight = heatCourse(plant, state, law, {}, kSpan_s);
  const auto lawAt = [&](const HeatCourse& course) {
    State end = state;
    end.cabin = course.end;
    end.time_s += course.span_s;
    return heatLawAt(plant, end);
  };
  const double outdoor_K_s = (plant.outdoor_degC[1] - plant.outdoor_degC[0]) / kOutdoorGrid_s;
  const CurveBend bend = bendTo(plant, law, straight, lawAt(straight), outdoor_K_s);
  const double missed_W = lawAt(straight).cooling_W.at - straight.endCooling_W;
  EXPECT_NEAR(bend.cooling_W.at(kSpan_s), missed_W, 1e-9 * std::abs(missed_W));
  // Half way the cubic is near what the curve does there; a parabola would miss by 8 %.
  const HeatCourse half = heatCourse(plant, state, law, {}, 0.5 * kSpan_s);
  const double missedHalf_W = lawAt(half).cooling_W.at - half.endCooling_W;
  EXPECT_GT(std::abs(missedHalf_W), 0.1 * std::abs(missed_W));
  EXPECT_NEAR(bend.cooling_W.at(0.5 * kSpan_s), missedHalf_W, 2e-2 * std::abs(missed_W));
}

TEST(CabinCourse, WithAWetCoil) {
  expectSameCourse(nightPlant(0.016));
}

TEST(CabinCourse, WithADryCoil) {
  const Plant plant = nightPlant(0.004);
  expectSameCourse(plant);
  EXPECT_LT(run(plant).outcome.cabin.latent_J, 1e-3 * run(plant).outcome.cabin.cooling_J);
}

TEST(CabinCourse, WithTwoUnits) {
  Plant plant = nightPlant(0.012);
  during(plant, 0.0, plant.span_s, [](Segment& s) { s.gain_W = 3500.0; });
  addThermostat(plant, {.battery = true}, 700.0, 2500.0, 24.6);
  AirConditionerPlant& second = plant.airConditioners[1];
  second.thermostat.cooling = coolingParams({.set = CurveSet::window, .rated_W = 2500.0});
  second.thermostat.leastOff_s = 120.0;
  second.thermostat.delivered = 0.9;
  expectSameCourse(plant);
}

TEST(CabinCourse, WithSun) {
  Plant plant = nightPlant(0.010);
  for (std::size_t i = 0; i < plant.outdoor_degC.size(); ++i) {
    const double bell = std::sin(3.14159 * static_cast<double>(i) / 96.0);
    plant.cabin.knots[i].toAir_W = 150.0 * bell;
    plant.cabin.knots[i].toMass_W = 900.0 * bell;
  }
  expectSameCourse(plant);
}

TEST(CabinCourse, WithPeople) {
  Plant plant = nightPlant(0.013);
  during(plant, 0.0, plant.span_s, [](Segment& s) { s.people = {280.0, 180.0, -18.7}; });
  plant.airConditioners[0].thermostat.sensorOffset_K = 0.7;
  plant.airConditioners[0].thermostat.leastOn_s = 240.0;
  expectSameCourse(plant);
}

}  // namespace
}  // namespace nightbank
