#include "nightbank/devices/cabin.h"

#include <cmath>

#include <gtest/gtest.h>

namespace nightbank {
namespace {

// C_a 150 kJ/K, C_m 1.5 MJ/K, H_oa 45, H_am 200, H_om 40 W/K. Temperatures by the exact matrix
// exponential, computed independently of this project.
CabinParams example() {
  return {150e3, 1.5e6, 45.0, 200.0, 40.0, 37.0, 0.0};
}

CabinHeat from(const CabinParams& p, double outdoor_degC, double toAir_W) {
  return {{p.outdoorAir_W_K * outdoor_degC + toAir_W}, {p.outdoorMass_W_K * outdoor_degC}, 0.0};
}

constexpr double kFade_s = 45.0;

CabinCourse over(const CabinParams& p, double slope_W_K, const CabinTemperatures& start,
                 const CabinHeat& heat, double span_s) {
  const CabinModes modes = modesOf(p, slope_W_K);
  return course(modes, cabinSpan(modes, fadeOver(kFade_s, span_s), span_s), start, heat);
}

TEST(CabinPublished, RatesOfTheMatrix) {
  const CabinModes modes = modesOf(example(), 0.0);
  EXPECT_NEAR(modes.rate_1_s[0], -4.7870133005e-5, 1e-14);
  EXPECT_NEAR(modes.rate_1_s[1], -1.745463200328e-3, 1e-14);
}

TEST(CabinPublished, MatrixExponential) {
  struct Row {
    double span_s, air_degC, mass_degC;
  };

  constexpr Row kRows[] = {{60, 24.254943, 25.991479},
                           {300, 25.054047, 25.975586},
                           {3600, 27.017459, 26.459319},
                           {86400, 29.943438, 29.932742}};
  const CabinParams p = example();
  for (const Row& row : kRows) {
    const CabinTemperatures end = over(p, 0.0, {24.0, 26.0}, from(p, 30.0, 0.0), row.span_s).end;
    EXPECT_NEAR(end.air_degC, row.air_degC, 5e-7) << row.span_s;
    EXPECT_NEAR(end.mass_degC, row.mass_degC, 5e-7) << row.span_s;
  }
}

TEST(CabinPublished, SteadyStateUnderCooling) {
  const CabinParams p = example();
  const CabinTemperatures end =
      over(p, 0.0, {24.0, 26.0}, from(p, 30.0, -2700.0), 400.0 * 86400.0).end;
  EXPECT_NEAR(end.air_degC, -4.468085, 5e-7);
  EXPECT_NEAR(end.mass_degC, 1.276596, 5e-7);
}

CabinHeat everything(const CabinParams& p) {
  CabinHeat heat = from(p, 31.0, -900.0);
  heat.toAir.perSecond = -0.02;
  heat.toMass.perSecond = 0.03;
  heat.toAir.perSecond2 = 4e-5;
  heat.toMass.perSecond2 = -6e-5;
  heat.toAir.perSecond3 = -1e-8;
  heat.toMass.perSecond3 = 2e-8;
  heat.fading_W = -2500.0;
  return heat;
}

TEST(CabinPublished, SixtyMinutesAreOneHour) {
  const CabinParams p = example();
  CabinHeat heat = everything(p);
  const CabinCourse whole = over(p, 130.0, {24.0, 26.0}, heat, 3600.0);
  CabinTemperatures now{24.0, 26.0};
  double sum_Ks = 0.0;
  for (int i = 0; i < 60; ++i) {
    const CabinCourse minute = over(p, 130.0, now, heat, 60.0);
    sum_Ks += 60.0 * minute.mean.air_degC;
    now = minute.end;
    for (Supply* supply : {&heat.toAir, &heat.toMass}) {
      const auto [at, slope, square, cube] = *supply;
      *supply = {at + 60.0 * (slope + 60.0 * (square + 60.0 * cube)),
                 slope + 60.0 * (2.0 * square + 60.0 * 3.0 * cube), square + 60.0 * 3.0 * cube,
                 cube};
    }
    heat.fading_W *= std::exp(-60.0 / kFade_s);
  }
  EXPECT_NEAR(now.air_degC, whole.end.air_degC, 1e-9);
  EXPECT_NEAR(now.mass_degC, whole.end.mass_degC, 1e-9);
  EXPECT_NEAR(sum_Ks / 3600.0, whole.mean.air_degC, 1e-9);
}

// What went in and out is what the nodes hold more: with every term at work.
TEST(CabinPublished, HeatBalanceCloses) {
  const CabinParams p = example();
  for (const double span_s : {1e-3, 1.0, 40.0, 299.0, 5000.0}) {
    for (const double slope_W_K : {0.0, 130.0}) {
      const CabinHeat heat = everything(p);
      const CabinTemperatures start{24.0, 26.0};
      const auto [end, mean] = over(p, slope_W_K, start, heat, span_s);
      const double held_J = p.air_J_K * (end.air_degC - start.air_degC) +
                            p.mass_J_K * (end.mass_degC - start.mass_degC);
      const double lost_W_K = p.outdoorAir_W_K + slope_W_K;
      const double in_J =
          span_s *
              (heat.toAir.at + 0.5 * span_s * (heat.toAir.perSecond + heat.toMass.perSecond) +
               span_s * span_s * (heat.toAir.perSecond2 + heat.toMass.perSecond2) / 3.0 +
               span_s * span_s * span_s * (heat.toAir.perSecond3 + heat.toMass.perSecond3) / 4.0 +
               heat.toMass.at - lost_W_K * mean.air_degC - p.outdoorMass_W_K * mean.mass_degC) -
          heat.fading_W * kFade_s * -std::expm1(-span_s / kFade_s);
      EXPECT_NEAR(held_J, in_J, 1e-9 * p.mass_J_K) << span_s;
    }
  }
}

TEST(CabinPublished, OneNodeMeetsItsClosedForm) {
  const double t_s = 200.0, r = 1.0 / 600.0, f = 1.0 / kFade_s;
  const double expected = 3.0 * std::exp(-r * t_s) + 0.02 / r * (1.0 - std::exp(-r * t_s)) -
                          0.005 * (std::exp(-f * t_s) - std::exp(-r * t_s)) / (r - f);
  EXPECT_NEAR(course(nodeSpan(r, fadeOver(kFade_s, t_s), t_s), 3.0, {0.02}, 0.005).end, expected,
              1e-12);
  // The same pace of node and fading: t e^(-rate t).
  EXPECT_NEAR(course(nodeSpan(f, fadeOver(kFade_s, 90.0), 90.0), 0.0, {}, 0.005).end,
              -0.005 * 90.0 * std::exp(-2.0), 1e-15);
  // A node that nothing holds back.
  const NodeCourse free =
      course(nodeSpan(0.0, fadeOver(kFade_s, 100.0), 100.0), 1.0, {0.01, 1e-4, 3e-6}, 0.0);
  EXPECT_NEAR(free.end, 1.0 + 1.0 + 0.5 + 1.0, 1e-12);
  EXPECT_NEAR(free.mean, 1.0 + 0.5 + 1e-4 * 1e4 / 6.0 + 0.25, 1e-12);
}

}  // namespace
}  // namespace nightbank
