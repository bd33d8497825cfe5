#include "nightbank/report/trip.h"

#include "sample_answer.h"
#include <gtest/gtest.h>

namespace nightbank::report {
namespace {

using testing_support::answerOf;
using testing_support::sampleNight;

// Two evenings and nights, by the half hour, down by a point a sample from 18:00 on 11 May.
Night twoNights() {
  Night night = sampleNight();
  night.plant.span_s = 38.0 * kHour_s;
  night.recorder.samples.clear();
  for (int i = 0; i < 76; ++i) {
    Sample sample;
    sample.start_s = i * 1800.0;
    sample.span_s = 1800.0;
    sample.socEnd = 1.0 - 0.01 * (i + 1);
    sample.solar_J = i == 40 ? 2.0 * kKilowattHour_J : 0.0;
    sample.engine_s = i < 2 ? 1800.0 : 0.0;
    night.recorder.samples.push_back(sample);
  }
  return night;
}

// By hand: 06:00 on 12 May is 12 h or 24 samples on, 20:00 26 h or 52; the day ends at 30 h or 60.
// Without a place dawn and dusk go by the clock, and without weather there is no way on.
TEST(TripTable, DaysByHand) {
  const Answer answer = answerOf(twoNights());
  EXPECT_EQ(tripTable(answer, answer.night, UnitSystem::metric),
            "Day by day (charge at 06:00 and 20:00)\n"
            "          dawn  dusk  lowest  sun kWh  engine h    L  engine on\n"
            "  11 May     -  96 %    88 %     0.00       1.0  0.6  18:00-19:00\n"
            "  12 May  76 %  48 %    40 %     2.00       0.0  0.0\n"
            "  13 May  28 %     -    24 %     0.00       0.0  0.0\n"
            "  Fuel for the trip: 0.6 L, within one tank.\n");
}

// By hand: 27 L less the 5 L of the tank are 22 L, two cans of 20 L.
TEST(TripTable, CansHoldWhatIsBesideTheTank) {
  Answer answer = answerOf(twoNights());
  answer.night.outcome.generator.fuel_m3 = 27.0 * kLitre_m3;
  answer.night.recorder.events = {{20.0 * kHour_s, EventKind::tankFilled, 0, 0.5}};
  const std::string text = tripTable(answer, answer.night, UnitSystem::metric);
  EXPECT_NE(text.find("Fuel for the trip: 27 L, a full tank of 5 L and 22 L in 2 cans of 20 L."),
            std::string::npos)
      << text;
  EXPECT_NE(text.find("Filled\n  at 12 May 14:00."), std::string::npos) << text;
}

TEST(TripTable, ASingleNightHasNone) {
  const Answer answer = answerOf(sampleNight());
  EXPECT_EQ(tripTable(answer, answer.night, UnitSystem::metric), "");
}

}  // namespace
}  // namespace nightbank::report
