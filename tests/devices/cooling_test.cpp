#include "nightbank/devices/cooling.h"

#include <cmath>
#include <stdexcept>

#include "draws.h"
#include <gtest/gtest.h>

#include "nightbank/numerics/root.h"
#include "nightbank/weather/humid_air.h"

namespace nightbank {
namespace {

constexpr double kSeaLevel_Pa = 101325.0;
constexpr CurveSet kSets[] = {CurveSet::packaged, CurveSet::window, CurveSet::split};

CoolingParams camper(CurveSet set, double sensibleShare = 0.75, double pressure_Pa = kSeaLevel_Pa) {
  return coolingParams(
      {.set = set, .rated_W = 3956.5, .sensibleShare = sensibleShare, .pressure_Pa = pressure_Pa});
}

// The same laws once more: exact saturation, nested bisections, nothing shared but the curves.
struct Reference {
  const CoolingParams& unit;
  double pressure_Pa;

  double saturated(double t_degC) const {
    return humidityRatio(saturationPressureOverWater_Pa(t_degC), pressure_Pa);
  }

  template <class F>
  static double bisected(F rising, double low, double high) {
    for (int i = 0; i < 100; ++i) {
      const double middle = 0.5 * (low + high);
      (rising(middle) < 0.0 ? low : high) = middle;
    }
    return high;
  }

  double ratioAt(double t_degC, double bulb_degC) const {  // ASHRAE eq. 33, in kJ
    return ((2501.0 - 2.326 * bulb_degC) * saturated(bulb_degC) - 1.006 * (t_degC - bulb_degC)) /
           (2501.0 + 1.86 * t_degC - 4.186 * bulb_degC);
  }

  // Coil temperature of a dry coil in air of wet bulb x.
  double dryCoil_degC(double t_degC, double w, double x, double outdoor_degC) const {
    const double taken_J_kg = unit.rated_W * curvesAt(unit, x, outdoor_degC).capacity /
                              unit.coilAir_kg_s / (1.0 - unit.bypassFactor);
    return t_degC - taken_J_kg / (1006.0 + 1860.0 * w);
  }

  Cooling at(double t_degC, double w, double outdoor_degC) const {
    double x = bisected([&](double bulb) { return ratioAt(t_degC, bulb) - w; }, -40.0, t_degC);
    const bool isDry = saturated(dryCoil_degC(t_degC, w, x, outdoor_degC)) >= w;
    if (isDry) {
      const auto wetness = [&](double bulb) {
        const double ratio = ratioAt(t_degC, bulb);
        return ratio - saturated(dryCoil_degC(t_degC, ratio, bulb, outdoor_degC));
      };
      x = bisected(wetness, x, t_degC);
    }
    const CurvePoint point = curvesAt(unit, x, outdoor_degC);
    Cooling cooling{.total_W = unit.rated_W * point.capacity, .powerRatio = point.power};
    cooling.sensible_W = cooling.total_W;
    if (isDry)
      return cooling;
    const double drop_J_kg = cooling.total_W / unit.coilAir_kg_s / (1.0 - unit.bypassFactor);
    const double coil_degC = bisected(
        [&](double t) {
          return enthalpy_J_kg(t, saturated(t)) - (enthalpy_J_kg(t_degC, w) - drop_J_kg);
        },
        -40.0, t_degC);
    cooling.sensible_W *=
        1.0 - (w - saturated(coil_degC)) * vapourEnthalpy_J_kg(t_degC) / drop_J_kg;
    return cooling;
  }
};

double ratioOf(double t_degC, double relative, double pressure_Pa) {
  return humidityRatio(relative * saturationPressureOverWater_Pa(t_degC), pressure_Pa);
}

TEST(Cooling, MeetsTheSlowSolution) {
  test::Draws draws(11);
  int dry = 0;
  for (int i = 0; i < 3000; ++i) {
    const double pressure_Pa = draws.between(75e3, 103e3);
    const CoolingParams unit = camper(kSets[i % 3], draws.between(0.65, 0.80), pressure_Pa);
    const double t_degC = draws.between(16.0, 38.0), outdoor_degC = draws.between(10.0, 50.0);
    const double w = ratioOf(t_degC, draws.between(0.05, 0.99), pressure_Pa);
    const Cooling fast = coolingAt(unit, t_degC, w, outdoor_degC);
    const Cooling slow = Reference{unit, pressure_Pa}.at(t_degC, w, outdoor_degC);
    EXPECT_NEAR(fast.total_W / slow.total_W, 1.0, 1e-7) << t_degC << ' ' << w;
    EXPECT_NEAR(fast.sensible_W / slow.total_W, slow.sensible_W / slow.total_W, 1e-7)
        << t_degC << ' ' << w;
    EXPECT_NEAR(fast.powerRatio, slow.powerRatio, 1e-7) << t_degC << ' ' << w;
    dry += fast.sensible_W == fast.total_W ? 1 : 0;
  }
  EXPECT_GT(dry, 600);
  EXPECT_LT(dry, 2400);
}

TEST(Cooling, ADryCoilDoesNotFeelTheHumidity) {
  for (const CurveSet set : kSets) {
    const CoolingParams unit = camper(set);
    const Cooling desert = coolingAt(unit, 25.0, 0.003, 30.0);
    const Cooling drier = coolingAt(unit, 25.0, 0.0, 30.0);
    EXPECT_EQ(desert.sensible_W, desert.total_W);
    EXPECT_NEAR(desert.total_W, drier.total_W, 1e-8);
    EXPECT_NEAR(desert.powerRatio, drier.powerRatio, 1e-11);
  }
}

// From dry to dripping in small steps: no step of the answer is larger than the slopes allow.
TEST(Cooling, ContinuousFromDryToWet) {
  constexpr double kStep = 1e-7;
  for (const CurveSet set : kSets) {
    const CoolingParams unit = camper(set);
    Cooling last = coolingAt(unit, 25.0, 0.0, 30.0);
    bool wasDry = true;
    for (double w = kStep; w < 0.02; w += kStep) {
      const Cooling now = coolingAt(unit, 25.0, w, 30.0);
      ASSERT_NEAR(now.total_W, last.total_W, 0.1) << w;
      ASSERT_NEAR(now.sensible_W, last.sensible_W, 0.1) << w;
      ASSERT_NEAR(now.powerRatio, last.powerRatio, 2e-5) << w;
      const bool isDry = now.sensible_W == now.total_W;
      ASSERT_TRUE(wasDry || !isDry) << w;
      wasDry = isDry;
      last = now;
    }
    EXPECT_FALSE(wasDry);
  }
}

// Second differences: a piecewise table with steps in it, or an unfinished iteration, would show.
TEST(Cooling, SmoothInTheState) {
  constexpr double kStep_K = 1e-3;
  const CoolingParams unit = camper(CurveSet::packaged);
  const auto bend = [&](double t_degC, auto member) {
    const auto at = [&](double shift_K) {
      return coolingAt(unit, t_degC + shift_K, 0.0115, 30.0).*member;
    };
    return at(kStep_K) - 2.0 * at(0.0) + at(-kStep_K);
  };
  for (double t_degC = 21.0; t_degC < 32.0; t_degC += 0.0137) {
    EXPECT_LT(std::abs(bend(t_degC, &Cooling::total_W)), 1e-4) << t_degC;
    EXPECT_LT(std::abs(bend(t_degC, &Cooling::sensible_W)), 1e-4) << t_degC;
  }
}

TEST(Cooling, SensibleShareFallsWithHumidity) {
  for (const CurveSet set : kSets) {
    const CoolingParams unit = camper(set);
    double last = 1.0;
    for (double relative = 0.55; relative < 0.95; relative += 0.05) {
      const Cooling cooling = coolingAt(unit, 25.0, ratioOf(25.0, relative, kSeaLevel_Pa), 30.0);
      const double share = cooling.sensible_W / cooling.total_W;
      EXPECT_LT(share, last) << relative;
      last = share;
    }
    EXPECT_LT(last, 0.6);
  }
}

TEST(Cooling, LessCapacityAndMoreInputForItTheHotterItIsOutside) {
  for (const CurveSet set : kSets) {
    const CoolingParams unit = camper(set);
    for (double t_degC = 18.0; t_degC <= 32.0; t_degC += 2.0) {
      for (double relative = 0.1; relative < 0.9; relative += 0.1) {
        const double w = ratioOf(t_degC, relative, kSeaLevel_Pa);
        Cooling last = coolingAt(unit, t_degC, w, 18.0);
        for (double outdoor_degC = 19.0; outdoor_degC <= 46.0; outdoor_degC += 1.0) {
          const Cooling now = coolingAt(unit, t_degC, w, outdoor_degC);
          EXPECT_LT(now.total_W, last.total_W);
          EXPECT_GT(now.powerRatio / now.total_W, last.powerRatio / last.total_W);
          EXPECT_GT(now.sensible_W, 0.0);
          EXPECT_LE(now.sensible_W, now.total_W);
          last = now;
        }
      }
    }
  }
}

TEST(Cooling, FoulingIsAHotterOutdoors) {
  CoolingRating rating{.rated_W = 3956.5, .fouling_K = 8.0};
  const CoolingParams dirty = coolingParams(rating);
  rating.fouling_K = 0.0;
  const CoolingParams clean = coolingParams(rating);
  const Cooling a = coolingAt(dirty, 25.0, 0.01, 30.0), b = coolingAt(clean, 25.0, 0.01, 38.0);
  EXPECT_EQ(a.total_W, b.total_W);
  EXPECT_EQ(a.powerRatio, b.powerRatio);
  EXPECT_LT(a.total_W, coolingAt(clean, 25.0, 0.01, 30.0).total_W);
}

TEST(Cooling, TellsWhereTheCurvesEnd) {
  const CoolingParams unit = camper(CurveSet::packaged);
  EXPECT_FALSE(coolingAt(unit, 25.0, 0.011, 30.0).outsideCurve);
  EXPECT_TRUE(coolingAt(unit, 25.0, 0.011, 17.0).outsideCurve);
  EXPECT_TRUE(coolingAt(unit, 25.0, 0.011, 47.0).outsideCurve);
  EXPECT_TRUE(coolingAt(unit, 32.0, 0.028, 30.0).outsideCurve);  // wet bulb 30
  EXPECT_TRUE(coolingAt(unit, 12.0, 0.007, 30.0).outsideCurve);
  EXPECT_FALSE(coolingAt(unit, 25.0, 0.0, 30.0).outsideCurve);  // dry coil, wet bulb replaced
}

TEST(Cooling, StaysFiniteFarOutside) {
  for (const CurveSet set : kSets) {
    const CoolingParams unit = camper(set);
    for (double t_degC = -40.0; t_degC <= 80.0; t_degC += 1.0) {
      for (double w = 0.0; w < 0.3; w += 0.007) {
        const Cooling cooling = coolingAt(unit, t_degC, w, t_degC - 10.0);
        EXPECT_GT(cooling.total_W, 0.0);
        EXPECT_GE(cooling.sensible_W, 0.0);
        EXPECT_LE(cooling.sensible_W, cooling.total_W);
        EXPECT_GT(cooling.powerRatio, 0.0);
        EXPECT_LT(cooling.powerRatio, 10.0);
      }
    }
  }
}

TEST(CoolingParams, WhatCannotBeIsRefused) {
  const auto refused = [](auto change) {
    CoolingRating rating{.rated_W = 3956.5};
    change(rating);
    EXPECT_THROW(coolingParams(rating), std::invalid_argument);
  };
  EXPECT_NO_THROW(coolingParams({.rated_W = 3956.5}));
  refused([](CoolingRating& r) { r.rated_W = 0.0; });
  refused([](CoolingRating& r) { r.rated_W = std::nan(""); });
  refused([](CoolingRating& r) { r.sensibleShare = 0.0; });
  refused([](CoolingRating& r) { r.sensibleShare = 0.95; });
  refused([](CoolingRating& r) { r.sensibleShare = 0.5; });
  refused([](CoolingRating& r) { r.airFlow_m3_s_W *= 0.2; });
  refused([](CoolingRating& r) { r.airFlow_m3_s_W = std::nan(""); });
  refused([](CoolingRating& r) { r.fouling_K = -1.0; });
  refused([](CoolingRating& r) { r.pressure_Pa = 20e3; });
  refused([](CoolingRating& r) { r.set = static_cast<CurveSet>(9); });
}

// Slopes by the chain rule against differences of the law itself, in moist air and in dry. Draws on
// which the coil turns dry, or the range of the curves ends, have a kink: left out.
TEST(CoolingTangent, IsTheSlopeOfTheLaw) {
  constexpr double kStep_K = 1e-3, kStepRatio = 1e-7;
  int compared = 0, dry = 0;
  for (const CurveSet set : kSets) {
    const CoolingParams unit = camper(set);
    test::Draws draws(11);
    for (int draw = 0; draw < 300; ++draw) {
      const double indoor_degC = draws.between(19.0, 33.0);
      const double ratio = draws.between(0.003, 0.016);
      const double outdoor_degC = draws.between(20.0, 45.0);
      const auto at = [&](double indoor_K, double moister, double outdoor_K) {
        return coolingAt(unit, indoor_degC + indoor_K, ratio + moister, outdoor_degC + outdoor_K);
      };
      const CoolingTangent tangent = coolingTangentAt(unit, indoor_degC, ratio, outdoor_degC);
      const Cooling here = at(0, 0, 0);
      if (here.outsideCurve)
        continue;
      EXPECT_DOUBLE_EQ(tangent.at.total_W, here.total_W);
      EXPECT_DOUBLE_EQ(tangent.at.sensible_W, here.sensible_W);
      const auto expectSlope = [&](const CoolingSlope& slope, const Cooling& less,
                                   const Cooling& more, double step, double scale) {
        const bool isDry = here.total_W == here.sensible_W;
        if ((less.total_W == less.sensible_W) != isDry ||
            (more.total_W == more.sensible_W) != isDry || less.outsideCurve || more.outsideCurve)
          return;
        ++compared;
        dry += isDry ? 1 : 0;
        EXPECT_NEAR(slope.total_W * scale, (more.total_W - less.total_W) / (2 * step) * scale,
                    1e-2);
        EXPECT_NEAR(slope.sensible_W * scale,
                    (more.sensible_W - less.sensible_W) / (2 * step) * scale, 1e-2);
        EXPECT_NEAR(slope.powerRatio * scale,
                    (more.powerRatio - less.powerRatio) / (2 * step) * scale, 1e-5);
      };
      expectSlope(tangent.perIndoorKelvin, at(-kStep_K, 0, 0), at(kStep_K, 0, 0), kStep_K, 1.0);
      expectSlope(tangent.perHumidityRatio, at(0, -kStepRatio, 0), at(0, kStepRatio, 0), kStepRatio,
                  1e-3);
      expectSlope(tangent.perOutdoorKelvin, at(0, 0, -kStep_K), at(0, 0, kStep_K), kStep_K, 1.0);
    }
  }
  EXPECT_GT(compared, 1500);
  EXPECT_GT(dry, 100);
}

}  // namespace
}  // namespace nightbank
