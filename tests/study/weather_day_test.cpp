// The night at a percentile of the energy asked for, on weather of made-up numbers.

#include "nightbank/study/weather_day.h"

#include "../weather/weather_files.h"
#include "nights.h"
#include <gtest/gtest.h>

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

// A load that works the harder the hotter it is.
std::string coldBox(const std::string& file) {
  return "period: {night_of: 2026-07-18}\n"
         "site: {utc_offset: -7 h}\n"
         "weather: {file: {path: made_up.csv" +
         file +
         "}}\n"
         "loads: [{name: box, fed_from: battery, power: 60 W, duty: 50 %, duty_at: 25 degC, "
         "duty_per_kelvin: 1 %}]\n"
         "bank: {chemistry: lfp, voltage: 12.8 V, capacity: 200 Ah}\n";
}

// One temperature a night, from noon to noon, unlike in all 31 around 18 July. `at` is the
// distance from the 18th.
template <class OfNight>
WeatherSeries seriesOf(OfNight ofNight) {
  return testing::seriesFrom(testing::epwText([&](int i) {
    testing::FileHour hour;
    const int night = (i + 1 + 12) / 24 - 199;  // 18 July is day 198 from 0
    hour.outdoor = fmt::format("{:.1f}", ofNight(night));
    return hour;
  }));
}

double hotter(int night) {
  return night < -15 || night > 15 ? 20.0 : 20.0 + (night * 7 % 31 + 31) % 31 * 0.5;
}

OnWeatherDay chosen(const std::string& file, const WeatherSeries& series) {
  return onWeatherDay(scenarioOf(coldBox(file)), series);
}

// The night of the window whose place by temperature is `rank`: here heat alone decides.
Date dateOfRank(int rank, int within) {
  std::vector<std::pair<double, int>> nights;
  for (int night = -within; night <= within; ++night)
    nights.emplace_back(hotter(night), night);
  std::sort(nights.begin(), nights.end());
  return dateOfDay(daysSince1970({2026, 7, 18}) +
                   nights.at(static_cast<std::size_t>(rank - 1)).second);
}

TEST(WeatherDay, IsTheNearestRankOfTheWindow) {
  const WeatherSeries series = seriesOf(hotter);
  // Ranks by hand: ceil(0.9 31) = 28, ceil(0.5 31) = 16.
  for (const auto& [share, rank] :
       {std::pair{"100 %", 31}, {"90 %", 28}, {"50 %", 16}, {"0 %", 1}}) {
    const OnWeatherDay on = chosen(fmt::format(", hottest: {}", share), series);
    EXPECT_EQ(on.day.rank, rank);
    EXPECT_EQ(on.day.nights, 31);
    EXPECT_TRUE(on.day.isOfAnyYear);
    EXPECT_EQ(on.day.date, dateOfRank(rank, 15)) << share;
  }
  const OnWeatherDay narrow = chosen(", hottest: 90 %, within: 5 d", series);
  EXPECT_EQ(narrow.day.nights, 11);
  EXPECT_EQ(narrow.day.rank, 10);
  EXPECT_EQ(narrow.day.date, dateOfRank(10, 5));
}

TEST(WeatherDay, RanksByEnergyAndNotByTemperature) {
  // The box runs from 02:00 to 03:00 alone, and then the nights that are hotter else are colder.
  const WeatherSeries series = testing::seriesFrom(testing::epwText([](int i) {
    testing::FileHour hour;
    const int night = (i + 1 + 12) / 24 - 199;
    const bool runs = i % 24 + 1 >= 2 && i % 24 + 1 <= 3;
    hour.outdoor = fmt::format("{:.1f}", runs ? 40.0 - 0.2 * hotter(night) : 2.0 * hotter(night));
    return hour;
  }));
  std::string yaml = coldBox(", hottest: 100 %");
  yaml.replace(yaml.find("power: 60 W"), 11, "power: 60 W, hours: [\"02:00-03:00\"]");
  EXPECT_EQ(onWeatherDay(scenarioOf(yaml), series).day.date, dateOfRank(1, 15));
}

TEST(WeatherDay, TheAnswerIsThatOfItsDay) {
  const WeatherSeries series = seriesOf(hotter);
  const auto searched = answerNight(scenarioOf(coldBox(", hottest: 90 %")), &series);
  const Answer& answer = std::get<Answer>(searched);
  const Date date = answer.weatherDay.value().date;
  const auto direct = answerNight(
      scenarioOf(coldBox(fmt::format(", day: 2026-{:02}-{:02}", date.month, date.day))), &series);
  EXPECT_EQ(std::get<Answer>(direct).night.outcome.bank.margin_J,
            answer.night.outcome.bank.margin_J);
  EXPECT_EQ(std::get<Answer>(direct).weatherDay.value().rank, 0);
  EXPECT_EQ(answer.night.plant.outdoor_degC.front(), answer.night.plant.outdoor_degC.back());
}

TEST(WeatherDay, AsksForWhatIsNotServedToo) {
  // The same loads on a bank that is soon empty: what is asked for stays, up to the voltage's part.
  const WeatherSeries series = seriesOf(hotter);
  const auto asked_J = [&](const std::string& capacity) {
    std::string yaml = coldBox(", day: 2026-07-18");
    yaml.replace(yaml.find("200 Ah"), 6, capacity);
    return energyAskedFor_J(std::get<Answer>(answerNight(scenarioOf(yaml), &series)).night);
  };
  EXPECT_NEAR(asked_J("5 Ah"), asked_J("200 Ah"), 1e-6 * asked_J("200 Ah"));
}

TEST(WeatherDay, NightsThatTheFileDoesNotHaveAreLeftOut) {
  std::string text = "time,outdoor degC\n";
  for (int hour = 0; hour < 72; ++hour)
    text += fmt::format("2026-07-{}T{:02}:00,{}\n", 17 + hour / 24, hour % 24, 20 + hour / 24);
  const WeatherSeries series = testing::seriesFrom(text);
  const OnWeatherDay on = chosen(", hottest: 100 %", series);
  EXPECT_EQ(on.day.nights, 2);  // of the 17th and the 18th
  EXPECT_EQ(on.day.date, (Date{2026, 7, 18}));
  EXPECT_FALSE(on.day.isOfAnyYear);
  const auto refused = answerNight(
      scenarioOf("period: {night_of: 2025-07-18}\n" + coldBox(", hottest: 90 %").substr(31)),
      &series);
  const scenario::Problem problem = std::get<std::vector<scenario::Problem>>(refused).front();
  EXPECT_EQ(problem.path, "weather.file");
  EXPECT_NE(problem.message.find("expected 2025-07-18 17:00 to 2025-07-19 09:00"),
            std::string::npos)
      << problem.message;
}

TEST(WeatherDay, ACabinIsFollowedForAWholeDay) {
  std::string text = "time,outdoor degC,global W/m2\n";
  for (int hour = 17; hour < 34; ++hour)
    text += fmt::format("2026-07-{} {:02}:00,{},0\n", 18 + hour / 24, hour % 24, 52 - hour);
  const WeatherSeries series = testing::seriesFrom(text);
  const auto answered = [&](const std::string& more) {
    return answerNight(
        scenarioOf("site: {latitude: 32.2, longitude: -110.9, utc_offset: -7 h}\n"
                   "period: {night_of: 2026-07-18}\n"
                   "weather: {file: {path: made_up.csv}}\n"
                   "cabin: {length: 6 m, built_for: three_season" +
                   more +
                   "}\n"
                   "air_conditioners: [{name: roof, hours: [\"21:30-06:30\"], running: {current: "
                   "12 A}, thermostat: 24 degC}]\n"
                   "bank: {chemistry: lfp, voltage: 12.8 V, capacity: 400 Ah}\n"
                   "inverter: {continuous: 2000 W}\n"),
        &series);
  };
  const auto refused = answered("");
  ASSERT_TRUE(std::holds_alternative<std::vector<scenario::Problem>>(refused));
  EXPECT_EQ(std::get<std::vector<scenario::Problem>>(refused).front().message,
            "weather.file has the weather from 2026-07-18 17:00 to 2026-07-19 09:00; expected "
            "2026-07-18 17:00 to 2026-07-19 17:00, the scenario's period on the clock of the file; "
            "the cabin is first followed for a whole day, unless cabin.start_at is given");
  EXPECT_TRUE(std::holds_alternative<Answer>(answered(", start_at: 30 degC")));
}

}  // namespace
}  // namespace nightbank
