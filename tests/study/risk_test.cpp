#include "nightbank/study/risk.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <string>
#include <string_view>

#include "nights.h"
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "nightbank/simulate/derive_sun_track.h"
#include "nightbank/units/constants.h"
#include "nightbank/weather/weather_series.h"

namespace nightbank {
namespace {

// Two loads on a bank through a night of ten hours. What else could fall anywhere is held by a
// spread of nothing to speak of.
std::string lamps(const std::string& risk, const std::string& bank = "") {
  return R"(title: Two lamps
period: {from: 2031-07-18 20:00, to: 2031-07-19 06:00}
loads:
  - {name: a, fed_from: battery, power: 60 W}
  - {name: b, fed_from: battery, power: 80 W}
bank: {chemistry: lfp, voltage: 12.8 V, capacity: 200 Ah, start_at: 100 %, resistance: 2 mohm,
       self_discharge: 2 %, max_depth_of_discharge: 50 %)" +
         bank + R"(}
risk:
  - {path: bank.resistance, spread: 0.001 %}
  - {path: bank.self_discharge, spread: 0.00001 %}
)" + risk;
}

const char* const kHeldLoads = R"(  - {path: loads.a.power, spread: 0.001 %}
  - {path: loads.b.power, spread: 0.001 %}
)";
const char* const kHeldBank = "  - {path: bank.capacity, spread: 0.001 %}\n";

RiskAnswer riskOf(const std::string& yaml, const RiskOptions& options = {}) {
  auto answered = answerRisk(scenarioOf(yaml), nullptr, options);
  if (!std::holds_alternative<RiskAnswer>(answered))
    throw std::runtime_error(std::get<std::vector<scenario::Problem>>(answered).front().message);
  return std::get<RiskAnswer>(std::move(answered));
}

const DrawnInput* inputAt(const RiskAnswer& answer, std::string_view path) {
  const auto found = std::ranges::find(answer.inputs, path, &DrawnInput::path);
  return found == answer.inputs.end() ? nullptr : &*found;
}

const InputWeight* weightAt(const RiskAnswer& answer, std::string_view path) {
  for (const InputWeight& weight : answer.weights)
    if (answer.inputs[weight.input].path == path)
      return &weight;
  return nullptr;
}

// The charge that the night takes is C0 = 0.5 * 200 Ah * (1 - margin / usable) at the scenario's
// capacity; a bank holds where half of its capacity is more. By hand, with the capacity between 80
// and 200 Ah and most likely 200 Ah, F(x) = ((x - 80) / 120)^2.
TEST(Risk, ChanceOfTheFloorIsThatOfTheCapacity) {
  const Night usual = ranOf(lamps(""));
  const double used = usual.outcome.bank.startSoc - usual.outcome.bank.lowestSoc;
  const double enough_Ah = used * 200.0 / 0.5;
  ASSERT_GT(enough_Ah, 90.0);
  ASSERT_LT(enough_Ah, 290.0);
  const double low_Ah = 0.6 * enough_Ah, high_Ah = 1.4 * enough_Ah;
  const double capacity_Ah = 200.0;
  const std::string risk = std::string(kHeldLoads) +
                           "  - {path: bank.capacity, low: " + std::to_string(low_Ah) +
                           " Ah, high: " + std::to_string(high_Ah) + " Ah}\n";
  ASSERT_GT(capacity_Ah, low_Ah);
  ASSERT_LT(capacity_Ah, high_Ah);
  const double span = high_Ah - low_Ah;
  const double below =
      enough_Ah < capacity_Ah
          ? std::pow(enough_Ah - low_Ah, 2) / span / (capacity_Ah - low_Ah)
          : 1.0 - std::pow(high_Ah - enough_Ah, 2) / span / (high_Ah - capacity_Ah);
  const RiskAnswer answer = riskOf(lamps(risk), {.nights = 2000});
  EXPECT_EQ(answer.floor.trials, 2000);
  // The interval of 2000 nights is four points wide; the voltage of a smaller bank under the same
  // load moves the limit by less than a point.
  EXPECT_NEAR(answer.floor.share(), 1.0 - below, 0.04);
  EXPECT_LT(answer.floor.range.low, answer.floor.share());
  EXPECT_GT(answer.floor.range.high, answer.floor.share());
  EXPECT_LT(answer.floor.range.high - answer.floor.range.low, 0.05);
  // The floor, 50 %, is the edge of the tenth bin; one night may lie on it.
  const auto floorBin = answer.lowestCounts.begin() + 10;
  EXPECT_EQ(std::reduce(floorBin, answer.lowestCounts.end(),
                        std::reduce(answer.lowestCounts.begin(), floorBin)),
            2000);
  EXPECT_NEAR(static_cast<double>(std::reduce(answer.lowestCounts.begin(), floorBin)),
              static_cast<double>(answer.floor.trials - answer.floor.successes), 1.0);
}

// By hand: standard deviations of 3 and 4 W through the same hours make 9/25 and 16/25 of the
// variance; 1.645 deviations either way are 5 and 95 %, 10 h of them the energy.
TEST(Risk, SharesAndWeightsOfTwoLoads) {
  const RiskAnswer answer =
      riskOf(lamps(std::string(kHeldBank) + "  - {path: loads.a.power, spread: 3 W}\n"
                                            "  - {path: loads.b.power, spread: 5 %}\n"),
             {.nights = 4096, .threads = 2});
  ASSERT_GE(answer.weights.size(), 2U);
  EXPECT_EQ(answer.inputs[answer.weights[0].input].path, "loads.b.power");
  EXPECT_EQ(answer.inputs[answer.weights[1].input].path, "loads.a.power");
  const InputWeight* a = weightAt(answer, "loads.a.power");
  const InputWeight* b = weightAt(answer, "loads.b.power");
  ASSERT_TRUE(a && b && a->hasShares && b->hasShares);
  EXPECT_EQ(answer.shareNights, 1024);
  EXPECT_NEAR(a->shares.first, 0.36, 0.03);
  EXPECT_NEAR(b->shares.first, 0.64, 0.03);
  EXPECT_NEAR(a->shares.total, 0.36, 0.03);
  EXPECT_GT(a->low_J, a->high_J);  // more power, less left
  EXPECT_NEAR(a->moved_J() / kWattHour_J, 2 * 1.6449 * 3.0 * 10.0, 2.0);
  EXPECT_NEAR(b->moved_J() / kWattHour_J, 2 * 1.6449 * 4.0 * 10.0, 2.0);
}

// Percentiles of the end: a normal one with a standard deviation of 5 W in 140 W.
TEST(Risk, PercentilesOfTheMorning) {
  const RiskAnswer answer =
      riskOf(lamps(std::string(kHeldBank) + "  - {path: loads.a.power, spread: 3 W}\n"
                                            "  - {path: loads.b.power, spread: 5 %}\n"),
             {.nights = 4096, .isEven = true});
  const double used = 1.0 - answer.endSoc.middle;
  EXPECT_NEAR(answer.endSoc.high - answer.endSoc.low, used * 2 * 1.6449 * 5.0 / 140.0, 1.5e-3);
  EXPECT_NEAR(answer.endSoc.low, answer.lowestSoc.low, 1e-9);  // nothing charges it
  EXPECT_FALSE(answer.hasGenerator);
  EXPECT_FALSE(answer.hasStart);
  const double deviation = used * 5.0 / 140.0;
  const auto below = [&](double soc) {  // the normal distribution
    return 0.5 * std::erfc((answer.endSoc.middle - soc) / (deviation * std::sqrt(2.0)));
  };
  for (std::size_t i = 0; i < answer.endCounts.size(); ++i) {
    const double low = 0.05 * static_cast<double>(i);
    EXPECT_NEAR(static_cast<double>(answer.endCounts[i]) / 4096.0, below(low + 0.05) - below(low),
                0.01)
        << i;
  }
}

void expectSame(const RiskAnswer& a, const RiskAnswer& b) {
  EXPECT_EQ(a.floor.successes, b.floor.successes);
  EXPECT_EQ(a.night.successes, b.night.successes);
  EXPECT_EQ(a.start.successes, b.start.successes);
  EXPECT_EQ(a.endSoc.low, b.endSoc.low);
  EXPECT_EQ(a.margin_J.middle, b.margin_J.middle);
  EXPECT_EQ(a.engine_s.high, b.engine_s.high);
  ASSERT_EQ(a.weights.size(), b.weights.size());
  for (std::size_t i = 0; i < a.weights.size(); ++i) {
    EXPECT_EQ(a.weights[i].input, b.weights[i].input);
    EXPECT_EQ(a.weights[i].low_J, b.weights[i].low_J);
    EXPECT_EQ(a.weights[i].shares.first, b.weights[i].shares.first);
  }
}

const char* const kTrailer = R"(title: A trailer
period: {night_of: 2031-07-18}
weather: {design_day: {high: 36 degC, low: 21 degC}}
air_conditioners: [{name: roof, hours: ["21:30-06:30"], running: {current: 9 A measured}}]
bank: {chemistry: agm, voltage: 24 V, capacity: 300 Ah}
inverter: {continuous: 2000 W}
charger: {output_current: 40 A}
generator: {continuous: 2200 W, rule: {start_below: 60 %}}
)";

TEST(Risk, IsTheSameOnAnyNumberOfThreads) {
  const RiskAnswer one = riskOf(kTrailer, {.nights = 100, .threads = 1});
  expectSame(one, riskOf(kTrailer, {.nights = 100, .threads = 2}));
  expectSame(one, riskOf(kTrailer, {.nights = 100, .threads = 7}));
  const RiskAnswer other = riskOf(kTrailer, {.nights = 100, .seed = 2});
  EXPECT_NE(one.endSoc.low, other.endSoc.low);
}

TEST(Risk, WhatIsDrawnAndAsWhat) {
  const RiskAnswer answer = riskOf(kTrailer, {.nights = 20});
  ASSERT_TRUE(inputAt(answer, "air_conditioners.roof.running.current"));
  EXPECT_EQ(inputAt(answer, "air_conditioners.roof.running.current")->as, DrawnAs::measured);
  EXPECT_NEAR(inputAt(answer, "air_conditioners.roof.running.current")->spread.deviation, 0.18,
              1e-12);
  ASSERT_TRUE(inputAt(answer, "bank.capacity"));
  EXPECT_NEAR(inputAt(answer, "bank.capacity")->spread.deviation, 15.0, 1e-9);
  ASSERT_TRUE(inputAt(answer, "weather.design_day.high"));
  EXPECT_EQ(inputAt(answer, "weather.design_day.high")->spread.deviation, kNameplateSpread_K);
  ASSERT_TRUE(inputAt(answer, "bank.charge_efficiency"));
  EXPECT_EQ(inputAt(answer, "bank.charge_efficiency")->as, DrawnAs::typical);
  ASSERT_TRUE(inputAt(answer, "air_conditioners.roof.fan.mode"));
  EXPECT_TRUE(inputAt(answer, "air_conditioners.roof.fan.mode")->isWord());
  const DrawnInput* duty = inputAt(answer, "air_conditioners.roof.duty");
  ASSERT_TRUE(duty);
  EXPECT_EQ(duty->as, DrawnAs::duty);
  EXPECT_EQ(duty->spread.low, 0.4);
  EXPECT_EQ(duty->spread.high, 1.0);
  // A choice, a setting, a definition.
  for (const char* path :
       {"generator.rule.start_below", "bank.voltage", "bank.max_depth_of_discharge", "mains"})
    EXPECT_FALSE(inputAt(answer, path)) << path;
  for (const DrawnInput& one : answer.inputs)
    EXPECT_EQ(std::ranges::count(answer.inputs, one.path, &DrawnInput::path), 1) << one.path;
}

TEST(Risk, AnInputAskedForIsDrawnOnce) {
  const RiskAnswer answer =
      riskOf(std::string(kTrailer) +
                 "risk: [{path: air_conditioners.roof.duty, low: 50 %, high: 60 %}, {path: "
                 "bank.capacity, spread: 30 Ah}]\n",
             {.nights = 20});
  ASSERT_TRUE(inputAt(answer, "air_conditioners.roof.duty"));
  EXPECT_EQ(inputAt(answer, "air_conditioners.roof.duty")->as, DrawnAs::asked);
  EXPECT_EQ(inputAt(answer, "bank.capacity")->spread.deviation, 30.0);
}

// The start asks for more the higher the locked-rotor current, and nothing else of the night does.
TEST(Risk, TheStartHasWeightsOfItsOwn) {
  const RiskAnswer answer = riskOf(kTrailer, {.nights = 100});
  ASSERT_TRUE(answer.hasStart);
  EXPECT_EQ(answer.start.trials, answer.floor.trials);
  const InputWeight* locked = weightAt(answer, "air_conditioners.roof.starting.locked_rotor");
  ASSERT_TRUE(locked);
  EXPECT_LT(locked->startHigh, locked->startLow);
  EXPECT_EQ(locked->low_J, locked->high_J);
}

// A fridge that follows the heat on a file's night of 30 degC; drawn nights are as far off it as a
// forecast errs.
std::string onFile(const std::string& warmer) {
  return R"(
period: {from: 2026-07-06 00:00, to: 2026-07-06 20:00}
site: {latitude: 35, longitude: -100, utc_offset: -6 h}
weather: {file: {path: own.csv)" +
         warmer + R"(}}
loads: [{name: box, fed_from: battery, power: 60 W, duty: 40 %, duty_at: 30 degC, duty_per_kelvin: 4 %}]
bank: {chemistry: lfp, voltage: 12.8 V, capacity: 120 Ah}
)";
}

WeatherSeries evenSeries() {
  std::string text = "time,outdoor degC,dew_point degC,cloud %,global W/m2\n";
  for (int day = 5; day <= 8; ++day)
    for (int hour = 0; hour < 24; ++hour)
      text += fmt::format("2026-07-{:02} {:02}:00,30,10,0,0\n", day, hour);
  return std::get<WeatherSeries>(parseWeather(text));
}

RiskAnswer riskOnFile(const std::string& warmer) {
  const WeatherSeries series = evenSeries();
  auto answered = answerRisk(scenarioOf(onFile(warmer)), &series, {.nights = 64});
  return std::get<RiskAnswer>(std::move(answered));
}

// By hand: 1.645 deviations of 2 K, both ways, are 6.58 K; 4 % of 60 W a kelvin through 20 h.
TEST(Risk, AWeatherFileIsOffAsAForecastIs) {
  const RiskAnswer answer = riskOnFile("");
  ASSERT_TRUE(inputAt(answer, "weather.file.warmer"));
  EXPECT_EQ(inputAt(answer, "weather.file.warmer")->spread.deviation, 2.0);
  ASSERT_TRUE(inputAt(answer, "weather.file.cloudier"));
  EXPECT_EQ(inputAt(answer, "weather.file.cloudier")->spread.deviation, kNameplateCloud);
  const InputWeight* weight = weightAt(answer, "weather.file.warmer");
  ASSERT_TRUE(weight);
  EXPECT_GT(weight->low_J, weight->high_J);  // warmer, less left
  EXPECT_NEAR(weight->moved_J() / kWattHour_J, 2 * 1.6449 * 2.0 * 0.04 * 60.0 * 20.0, 8.0);
}

// A day that was measured on the spot is known better; one that is given is drawn once, around it.
TEST(Risk, TheOffsetThatIsGivenIsDrawnByItsGrade) {
  const RiskAnswer answer = riskOnFile(", warmer: 1.5 K measured");
  ASSERT_TRUE(inputAt(answer, "weather.file.warmer"));
  EXPECT_EQ(inputAt(answer, "weather.file.warmer")->as, DrawnAs::measured);
  EXPECT_EQ(inputAt(answer, "weather.file.warmer")->spread.middle, 1.5);
  EXPECT_EQ(inputAt(answer, "weather.file.warmer")->spread.deviation, kMeasuredSpread_K);
  EXPECT_EQ(std::ranges::count(answer.inputs, "weather.file.warmer", &DrawnInput::path), 1);
}

TEST(Risk, TellsHowFarItIsUpToTheEnd) {
  std::size_t last = 0, of = 0;
  const Progress progress = [&](std::size_t done, std::size_t all) {
    EXPECT_GT(done, last);
    EXPECT_LE(done, all);
    last = done;
    of = all;
  };
  riskOf(kTrailer, {.nights = 300, .threads = 3, .progress = progress});
  EXPECT_EQ(last, of);
  EXPECT_GT(of, 300U);  // those behind the shares too
}

// Shares are of at most 1024 nights, and only where they are asked for; nothing else hangs on them.
TEST(Risk, SharesAreLeftOutWhereNobodyAsks) {
  const RiskAnswer with = riskOf(kTrailer, {.nights = 300});
  const RiskAnswer without = riskOf(kTrailer, {.nights = 300, .withShares = false});
  EXPECT_EQ(with.shareNights, 64);
  EXPECT_EQ(without.shareNights, 0);
  EXPECT_EQ(with.floor.successes, without.floor.successes);
  ASSERT_EQ(with.weights.size(), without.weights.size());
  EXPECT_TRUE(with.weights.front().hasShares);
  for (std::size_t i = 0; i < without.weights.size(); ++i) {
    EXPECT_FALSE(without.weights[i].hasShares);
    EXPECT_EQ(with.weights[i].low_J, without.weights[i].low_J);
  }
}

// The draws run on a grid of an hour, whatever the scenario's step: the usual night is the
// engine's.
TEST(Risk, TheStepOfTheOutputDoesNotMoveTheDraws) {
  const RiskAnswer fine = riskOf(lamps(kHeldLoads), {.nights = 64});
  std::string yaml = lamps(kHeldLoads);
  const std::string period = "to: 2031-07-19 06:00";
  yaml.replace(yaml.find(period), period.size(), period + ", step: 60 s");
  const RiskAnswer finer = riskOf(yaml, {.nights = 64});
  EXPECT_EQ(fine.margin_J.middle, finer.margin_J.middle);
  EXPECT_NEAR(fine.usualMargin_J, ranOf(lamps(kHeldLoads)).outcome.bank.margin_J,
              2e-5 * 2560.0 * kWattHour_J);
}

TEST(Risk, ANightThatCannotBeIsAProblem) {
  const scenario::Scenario given = scenarioOf(lamps(""));
  scenario::Scenario broken = given;
  broken.bank.voltage_V.value = -1.0;  // not what the reader lets through
  EXPECT_TRUE(std::holds_alternative<std::vector<scenario::Problem>>(
      answerRisk(broken, nullptr, {.nights = 5})));
}

}  // namespace
}  // namespace nightbank
