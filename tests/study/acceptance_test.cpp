#include "nights.h"
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "nightbank/units/constants.h"

/// Three outfits worked out on paper, from YAML to the judgement of the run on its numbers.
/// Invented data; the arithmetic stands beside each. Tolerances: energy 3 %, times 10 min.
namespace nightbank {
namespace {

/// A stall on one small generator, 200 m, 36 degC: cooling 1450 W, fridge 250, lights 120, till 60.
///
///     running  1450 + 250 + 120 + 60 = 1880 W
///     worth    1800 (1 - 0.035 * 656.2 ft / 1000) (1 - 0.01 * (96.8 - 77) / 10) = 1724 W
///
/// So it trips, soft starter or not. With fridge and till on the battery it carries 1570 W, 91 %.
std::string smallStall(const std::string& fridgeAndTill) {
  return R"(
title: stall
site: {elevation: 200 m}
period: {from: 2026-08-01 17:00, to: 2026-08-02 01:00}
weather: {constant: {temperature: 36 degC}}
air_conditioners:
  - {name: roof, fed_from: generator, running: {power: 1450 W, power_factor: 100 %}, duty: 100 %}
loads:
  - {name: fridge, fed_from: )" +
         fridgeAndTill + R"(, power: 250 W, power_factor: 100 %}
  - {name: lights, fed_from: generator, power: 120 W, power_factor: 100 %}
  - {name: till, fed_from: )" +
         fridgeAndTill + R"(, power: 60 W, power_factor: 100 %}
bank: {chemistry: lfp, voltage: 12.8 V, capacity: 300 Ah}
generator: {continuous: 1800 W, run: ["17:00-01:00"]}
)";
}

TEST(FoodStall, RunsAboveWhatTheGeneratorIsWorthAndTrips) {
  const Answer answer = answerOf(smallStall("generator"));
  const SourceOutcome& generator =
      answer.night.outcome.sources[static_cast<int>(Source::generator)];
  EXPECT_EQ(answer.night.judgement.level, Level::fails);
  EXPECT_EQ(answer.night.judgement.limit, Limit::generatorRating);
  EXPECT_NEAR(generator.firstTripLoad_VA, 1880.0, 0.5);
  EXPECT_NEAR(generator.firstTripLimit_VA, 1724.0, 0.5);
  EXPECT_TRUE(generator.shutOff);
}

TEST(FoodStall, CarriesTheRestAtNinetyOnePercent) {
  const Answer answer = answerOf(smallStall("battery"));
  EXPECT_EQ(answer.night.outcome.sources[static_cast<int>(Source::generator)].trips, 0);
  EXPECT_NEAR(answer.night.outcome.generator.highestShare, 0.91, 0.005);
  EXPECT_EQ(answer.night.judgement.rating, Level::holds);
}

/// A van that sleeps by day, 08:00 to 15:00, no engine: 25.6 V 280 Ah LFP down to 20 %,
/// direct-current cooling 650 W at 60 % and 70 W for 7 h, 45 W in the other 17 h; 600 W of
/// array, 5.8 peak sun hours, 75 % all in, half of it under the canopy.
///
///     need   7 (390 + 70) + 17 * 45 = 3985 Wh a day
///     sun    600 * 5.8 * 0.75 * 0.5 = 1305 Wh     deficit 2680 Wh a day
///     bank   0.8 * 280 Ah * 26.4 V  = 5.9 kWh     2.2 days: two sleeps, the third fails
///     in a clearing: sun 2610 Wh, deficit 1375 Wh, 4.3 days: four sleeps
std::string shadedVan(const std::string& shade) {
  return R"(
title: van
period: {from: 2026-07-01 08:00, to: 2026-07-07 08:00}
weather: {constant: {temperature: 25 degC, peak_sun_hours: 5.8 h}}
air_conditioners:
  - {name: roof, fed_from: battery, hours: ["08:00-15:00"], running: {power: 650 W}, duty: 60 %, fan: {mode: auto}}
loads:
  - {name: sleeping, fed_from: battery, power: 70 W, hours: ["08:00-15:00"]}
  - {name: watching, fed_from: battery, power: 45 W, hours: ["15:00-08:00"]}
bank: {chemistry: lfp, voltage: 25.6 V, capacity: 280 Ah, max_depth_of_discharge: 80 %, resistance: 0.001 mohm, charge_efficiency: 100 %}
solar: [{name: roof, rated: 600 W, derate: 75 %, conversion: 100 %, temperature_coefficient: 0 %/K)" +
         shade + R"(}]
)";
}

constexpr const char* kUnderCanopy = ", shade: [{hours: ['00:00-24:00'], share: 50 %}]";

constexpr double kSleepBegins_s = 0.0, kSleepEnds_s = 7 * kHour_s;

int sleepsBeforeFloor(const Answer& answer) {
  int sleeps = 0;
  for (double day_s = 0.0; day_s + kSleepEnds_s <= answer.night.outcome.bank.floorReachedAt_s;
       day_s += kDay_s)
    ++sleeps;
  return sleeps;
}

TEST(DaySleepersVan, HoldsTwoSleepsUnderTheCanopyAndNotTheThird) {
  const Answer answer = answerOf(shadedVan(kUnderCanopy));
  EXPECT_EQ(sleepsBeforeFloor(answer), 2);
  const double thirdSleep_s = 2 * kDay_s + kSleepBegins_s;
  EXPECT_GT(answer.night.outcome.bank.floorReachedAt_s, thirdSleep_s);
  EXPECT_EQ(answer.night.judgement.limit, Limit::floor);
}

TEST(DaySleepersVan, HoldsFourSleepsInAClearing) {
  EXPECT_EQ(sleepsBeforeFloor(answerOf(shadedVan(""))), 4);
}

TEST(DaySleepersVan, NeedsAndGetsWhatThePaperSays) {
  const Answer oneDay = [] {
    std::string yaml = shadedVan(kUnderCanopy);
    yaml.replace(yaml.find("2026-07-07"), 10, "2026-07-02");
    return answerOf(yaml);
  }();
  const Night& night = oneDay.night;
  double need_J = night.recorder.airConditioners[0].energy_J;
  for (const double load_J : night.recorder.loads_J)
    need_J += load_J;
  EXPECT_NEAR(need_J / kWattHour_J, 3985.0, 0.03 * 3985.0);
  EXPECT_NEAR(night.outcome.energy_J.solar / kWattHour_J, 1305.0, 0.5);
  EXPECT_NEAR(-night.outcome.energy_J.bankChange / kWattHour_J, 2680.0, 0.03 * 2680.0);
}

/// A radio trailer in smoke, five days round the clock: 51.2 V 200 Ah LFP down to 20 %, 220 W of
/// radios and 480 W of cooling on the direct-current side; 1.2 kW of array, 5.5 peak sun hours, 75
/// %, smoke takes 55 %; a 2.7 kW set runs 2 x 2 h a day through a 92 % charger.
///
///     need  700 * 24 = 16.80 kWh a day        sun 1.2 * 5.5 * 0.75 * 0.45 = 2.23
///     each engine hour into the bank 2.7 * 0.92 = 2.48; four give 9.94; short by 4.63 kWh a day
///     bank  0.8 * 200 Ah * 52.8 V = 8.4 kWh (8.19 at the label's voltage): 1.8 days
constexpr const char* kRadioTrailer = R"(
title: radios
period: {from: 2026-08-10 20:00, to: 2026-08-15 20:00}
weather: {constant: {temperature: 25 degC, peak_sun_hours: 5.5 h}}
loads:
  - {name: radios, fed_from: battery, power: 220 W}
  - {name: cooling, fed_from: battery, power: 480 W}
bank: {chemistry: lfp, voltage: 51.2 V, capacity: 200 Ah, max_depth_of_discharge: 80 %, resistance: 0.001 mohm, charge_efficiency: 100 %}
charger: {output_current: 100 A, efficiency: 92 %, power_factor: 100 %, input_limit: 22.5 A at 120 V, ramp: 0 s}
solar: [{name: roof, rated: 1200 W, derate: 75 %, conversion: 100 %, temperature_coefficient: 0 %/K, shade: [{hours: ["00:00-24:00"], share: 55 %}]}]
generator: {continuous: 3000 W, run: ["06:00-08:00", "18:00-20:00"], fuel: {burns: [{load: 0 %, rate: 0.15 gal/h}, {load: 90 %, rate: 0.40 gal/h}]}}
)";

/// The engine's four hours in 24 short runs, so that only the sun comes in a lump.
std::string tenMinutesAnHour() {
  std::string hours;
  for (int hour = 0; hour < 24; ++hour)
    hours += fmt::format("{}'{:02}:00-{:02}:10'", hour == 0 ? "" : ", ", hour, hour);
  std::string yaml = kRadioTrailer;
  const std::string lumps = R"("06:00-08:00", "18:00-20:00")";
  return yaml.replace(yaml.find(lumps), lumps.size(), hours);
}

/// The paper spreads the sun evenly and says 1.8 days. It comes in a lump: in the 13.3 h from 20:00
/// to its rise the even sum has counted 2.23 * 13.3 / 24 = 1.23 kWh that are not there yet, and the
/// floor is met before that sun: 1.8 - 1.23 / 4.63 = 1.53 days.
TEST(RadioTrailer, MeetsItsFloorAsThePaperSaysLessTheSunThatIsNotUpYet) {
  const Answer answer = answerOf(tenMinutesAnHour());
  EXPECT_NEAR(answer.night.outcome.bank.floorReachedAt_s / kDay_s, 1.8 - 1.23 / 4.63, 0.05);
  EXPECT_EQ(answer.night.judgement.limit, Limit::floor);
}

/// In two long runs the second night is too much: 8.4 - 4.6 = 3.8 kWh are left at 20:00, gone at
/// 0.7 kW in 5.4 h: after 1.22 days.
TEST(RadioTrailer, MeetsItsFloorInTheSecondNightWhereTheEngineRunsTwice) {
  const Answer answer = answerOf(kRadioTrailer);
  EXPECT_NEAR(answer.night.outcome.bank.floorReachedAt_s / kDay_s, 1.22, 0.03);
  EXPECT_EQ(answer.night.judgement.level, Level::fails);
}

TEST(RadioTrailer, GivesThePaperSumsInItsFirstDay) {
  std::string yaml = kRadioTrailer;
  yaml.replace(yaml.find("2026-08-15 20:00"), 16, "2026-08-11 20:00");
  const Night night = answerOf(yaml).night;
  EXPECT_NEAR(night.outcome.energy_J.solar / kKilowattHour_J, 2.2275, 1e-3);
  EXPECT_NEAR(night.outcome.energy_J.generator / kKilowattHour_J, 4 * 2.7, 1e-3);
  EXPECT_NEAR(night.outcome.energy_J.chargerLoss / kKilowattHour_J, 4 * 2.7 * 0.08, 1e-3);
  EXPECT_NEAR(-night.outcome.energy_J.bankChange / kKilowattHour_J, 4.63, 0.03 * 4.63);
  EXPECT_NEAR(night.outcome.generator.fuel_m3 / kUsGallon_m3, 4 * 0.40, 1e-3);
}

}  // namespace
}  // namespace nightbank
