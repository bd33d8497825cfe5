#include "nightbank/devices/peukert.h"

#include <cmath>
#include <stdexcept>

#include "draws.h"
#include <gtest/gtest.h>

namespace nightbank {
namespace {

using test::Draws;
using test::kInfinity;
using test::kNan;

TEST(Peukert, CapacityFallsStrictlyWithCurrentAboveTheRatedOne) {
  Draws draws(1);
  for (int i = 0; i < 2000; ++i) {
    const double capacity_Ah = draws.between(20.0, 800.0), hours_h = draws.between(1.0, 100.0);
    const double k = draws.between(1.01, 1.6);
    const double current_A = capacity_Ah / hours_h * draws.overDecades(1.0, 50.0);
    EXPECT_GT(peukertCapacity_Ah(capacity_Ah, hours_h, k, current_A),
              peukertCapacity_Ah(capacity_Ah, hours_h, k, current_A * 1.01));
  }
}

TEST(Peukert, CapacityIsTheLabelsUpToTheRatedCurrent) {
  for (const double current_A : {0.01, 1.0, 4.99, 5.0})
    EXPECT_EQ(peukertCapacity_Ah(100.0, 20.0, 1.3, current_A), 100.0);
  EXPECT_NEAR(peukertCapacity_Ah(100.0, 20.0, 1.3, 5.0 * (1.0 + 1e-12)), 100.0, 1e-9);
}

TEST(Peukert, CapacityIsCurrentTimesRuntime) {
  Draws draws(2);
  for (int i = 0; i < 2000; ++i) {
    const double k = draws.between(1.0, 2.0), current_A = draws.overDecades(0.1, 500.0);
    EXPECT_NEAR(peukertCapacity_Ah(200.0, 10.0, k, current_A) /
                    (current_A * peukertRuntime_h(200.0, 10.0, k, current_A)),
                1.0, 1e-13);
  }
}

TEST(Peukert, ExponentOneIsAmpereHoursAlone) {
  for (const double current_A : {0.3, 5.0, 17.0, 250.0})
    EXPECT_NEAR(peukertRuntime_h(100.0, 20.0, 1.0, current_A), 100.0 / current_A, 1e-12);
}

TEST(Peukert, TwoRuntimesGiveTheExponentBack) {
  Draws draws(3);
  for (int i = 0; i < 2000; ++i) {
    const double k = draws.between(1.0, 2.0);
    const double first_A = draws.between(5.0, 50.0), second_A = draws.between(51.0, 500.0);
    EXPECT_NEAR(peukertExponent(peukertRuntime_h(100.0, 20.0, k, first_A), first_A,
                                peukertRuntime_h(100.0, 20.0, k, second_A), second_A),
                k, 1e-10);
  }
}

TEST(Peukert, AnotherHourRatingOfTheSameBatteryLastsAsLong) {
  Draws draws(4);
  for (int i = 0; i < 2000; ++i) {
    const double k = draws.between(1.0, 1.6), other_h = draws.between(1.0, 100.0);
    const double other_Ah = peukertRebased_Ah(100.0, 20.0, k, other_h);
    const double current_A = std::max(5.0, other_Ah / other_h) * draws.between(1.01, 20.0);
    EXPECT_NEAR(peukertRuntime_h(other_Ah, other_h, k, current_A) /
                    peukertRuntime_h(100.0, 20.0, k, current_A),
                1.0, 1e-12);
  }
}

TEST(Peukert, OneAmpereFormIsTheSameLawForACapacityStatedAtOneAmpere) {
  const double oneAmpere_Ah = std::pow(5.0, 1.3) * 20.0;  // Cp = I_R^k H
  EXPECT_NEAR(peukertOneAmpereRuntime_h(oneAmpere_Ah, 1.3, 40.0),
              peukertRuntime_h(100.0, 20.0, 1.3, 40.0), 1e-12);
}

TEST(Peukert, RefusesWhatIsOutOfRange) {
  for (const double bad : {0.0, -5.0, kInfinity, kNan}) {
    EXPECT_THROW(peukertRuntime_h(bad, 20.0, 1.2, 5.0), std::invalid_argument);
    EXPECT_THROW(peukertRuntime_h(100.0, bad, 1.2, 5.0), std::invalid_argument);
    EXPECT_THROW(peukertRuntime_h(100.0, 20.0, 1.2, bad), std::invalid_argument);
    EXPECT_THROW(peukertCapacity_Ah(100.0, 20.0, 1.2, bad), std::invalid_argument);
    EXPECT_THROW(peukertOneAmpereRuntime_h(bad, 1.2, 5.0), std::invalid_argument);
    EXPECT_THROW(peukertOneAmpereRuntime_h(100.0, 1.2, bad), std::invalid_argument);
    EXPECT_THROW(peukertExponent(bad, 5.0, 10.0, 9.0), std::invalid_argument);
    EXPECT_THROW(peukertExponent(20.0, bad, 10.0, 9.0), std::invalid_argument);
    EXPECT_THROW(peukertExponent(20.0, 5.0, bad, 9.0), std::invalid_argument);
    EXPECT_THROW(peukertExponent(20.0, 5.0, 10.0, bad), std::invalid_argument);
    EXPECT_THROW(peukertRebased_Ah(100.0, 20.0, 1.2, bad), std::invalid_argument);
  }
  for (const double bad : {0.99, 2.01, -1.0, kInfinity, kNan}) {
    EXPECT_THROW(peukertRuntime_h(100.0, 20.0, bad, 5.0), std::invalid_argument);
    EXPECT_THROW(peukertCapacity_Ah(100.0, 20.0, bad, 5.0), std::invalid_argument);
    EXPECT_THROW(peukertOneAmpereRuntime_h(100.0, bad, 5.0), std::invalid_argument);
    EXPECT_THROW(peukertRebased_Ah(100.0, 20.0, bad, 10.0), std::invalid_argument);
  }
  EXPECT_THROW(peukertExponent(20.0, 5.0, 10.0, 5.0), std::invalid_argument);
}

TEST(Peukert, NamesTheArgumentThatItRefuses) {
  try {
    peukertRuntime_h(100.0, 20.0, 2.5, 5.0);
    FAIL() << "an exponent of 2.5 was accepted";
  } catch (const std::invalid_argument& error) {
    EXPECT_STREQ(error.what(), "Peukert exponent is 2.5; expected 1 to 2");
  }
}

}  // namespace
}  // namespace nightbank
