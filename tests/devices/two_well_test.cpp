#include "nightbank/devices/two_well.h"

#include <cmath>
#include <stdexcept>

#include "draws.h"
#include <gtest/gtest.h>

#include "nightbank/devices/two_well_capacity.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

TwoWellParams drawnWells(test::Draws& draws) {
  return {.total_Ah = draws.overDecades(1.0, 1000.0),
          .fastShare = draws.between(0.05, 0.95),
          .rate_1_s = draws.overDecades(0.05, 50.0) / kHour_s};
}

double sum_Ah(const TwoWellState& state) {
  return state.fast_Ah + state.slow_Ah;
}

TEST(TwoWell, ChargeIsKept) {
  test::Draws draws(11);
  for (int i = 0; i < 2000; ++i) {
    const TwoWellParams wells = drawnWells(draws);
    const double current_A = draws.between(-0.5, 2.0) * wells.total_Ah;
    const double span_s = draws.overDecades(1e-3, 36000.0);
    const TwoWellState after = advanced(wells, fullWells(wells), current_A, span_s);
    EXPECT_NEAR(sum_Ah(after), wells.total_Ah - current_A * span_s / kHour_s,
                1e-12 * wells.total_Ah * (1.0 + span_s / kHour_s));
  }
}

TEST(TwoWell, HoweverASpanIsCutTheEndIsTheSame) {
  test::Draws draws(12);
  for (int i = 0; i < 2000; ++i) {
    const TwoWellParams wells = drawnWells(draws);
    const double current_A = draws.between(-0.2, 0.5) * wells.total_Ah;
    const double span_s = draws.overDecades(1.0, 7200.0);
    const double first_s = draws.between(0.0, 1.0) * span_s;
    const TwoWellState once = advanced(wells, fullWells(wells), current_A, span_s);
    const TwoWellState twice = advanced(
        wells, advanced(wells, fullWells(wells), current_A, first_s), current_A, span_s - first_s);
    EXPECT_NEAR(once.fast_Ah, twice.fast_Ah, 1e-11 * wells.total_Ah);
  }
}

// At rest the heads approach each other from both sides and never cross; at the greatest currents
// the fast well ends just empty, or just full.
TEST(TwoWell, WellsStayWithinTheirBounds) {
  test::Draws draws(13);
  for (int i = 0; i < 2000; ++i) {
    const TwoWellParams wells = drawnWells(draws);
    const double fastFull_Ah = wells.fastShare * wells.total_Ah;
    const TwoWellState state{draws.between(0.0, 1.0) * fastFull_Ah,
                             draws.between(0.0, 1.0) * (wells.total_Ah - fastFull_Ah)};
    const double span_s = draws.overDecades(1.0, 36000.0);
    const TwoWellState rested = advanced(wells, state, 0.0, span_s);
    const double before =
        state.fast_Ah / fastFull_Ah - state.slow_Ah / (wells.total_Ah - fastFull_Ah);
    const double after =
        rested.fast_Ah / fastFull_Ah - rested.slow_Ah / (wells.total_Ah - fastFull_Ah);
    EXPECT_NEAR(after, before * std::exp(-wells.rate_1_s * span_s), 1e-12);
    const double most_A = greatestDischarge_A(wells, state, span_s);
    EXPECT_NEAR(advanced(wells, state, most_A, span_s).fast_Ah, 0.0, 1e-9 * wells.total_Ah);
    const double least_A = greatestCharge_A(wells, state, span_s);
    EXPECT_NEAR(advanced(wells, state, least_A, span_s).fast_Ah, fastFull_Ah,
                1e-9 * wells.total_Ah);
  }
}

// dq1/dt = -I from full wells: over a microsecond the slow well has not moved yet.
TEST(TwoWell, AVanishingSpanTakesFromTheFastWellAlone) {
  const TwoWellParams wells{60.0, 0.35, 0.4 / kHour_s};
  const double moved_Ah = 10.0 * 1e-6 / kHour_s;
  const TwoWellState after = advanced(wells, fullWells(wells), 10.0, 1e-6);
  EXPECT_NEAR(21.0 - after.fast_Ah, moved_Ah, 1e-14);
  EXPECT_NEAR(after.slow_Ah, 39.0, 1e-14);
}

TEST(TwoWell, RefusesWellsThatNoneHas) {
  EXPECT_NO_THROW(validate(TwoWellParams{60.0, 0.35, 1e-4}));
  EXPECT_THROW(validate(TwoWellParams{0.0, 0.35, 1e-4}), std::invalid_argument);
  EXPECT_THROW(validate(TwoWellParams{60.0, 0.0, 1e-4}), std::invalid_argument);
  EXPECT_THROW(validate(TwoWellParams{60.0, 1.0, 1e-4}), std::invalid_argument);
  EXPECT_THROW(validate(TwoWellParams{60.0, 0.35, 0.0}), std::invalid_argument);
}

}  // namespace
}  // namespace nightbank
