#include "nightbank/report/weather_line.h"

#include "sample_answer.h"
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "nightbank/report/json.h"
#include "nightbank/report/report.h"
#include "nightbank/report/text.h"

namespace nightbank::report {
namespace {

using testing_support::answerOf;
using testing_support::sampleNight;

Answer onDay(const WeatherDay& day, const std::string& path = "years/flat.epw") {
  Answer answer = answerOf(sampleNight());
  answer.resolved.weather.emplace().file.emplace().path = path;
  answer.weatherDay = day;
  return answer;
}

TEST(WeatherLine, NamesDayFileAndRank) {
  const auto line = [](const Answer& answer) {
    return weatherLine(answer.resolved, answer.weatherDay);
  };
  EXPECT_EQ(line(answerOf(sampleNight())), "");
  EXPECT_EQ(line(onDay({{2031, 7, 6}, true})), "Weather of 6 Jul from years/flat.epw\n");
  EXPECT_EQ(line(onDay({{2031, 7, 6}, false})), "Weather of 6 Jul 2031 from years/flat.epw\n");
  EXPECT_EQ(line(onDay({{2031, 7, 6}, true, 28, 31})),
            "Weather of 6 Jul from years/flat.epw: rank 28 of 31 nights by the energy asked\n"
            "  for\n");
  // Whatever a file is called.
  const std::string wide = line(onDay({{2031, 7, 6}, true}, std::string(200, 'x') + "\x1b[31m"));
  EXPECT_EQ(wide.find('\x1b'), std::string::npos);
  for (std::size_t at = 0, end = 0; at < wide.size(); at = end + 1) {
    end = wide.find('\n', at);
    EXPECT_LE(end - at, static_cast<std::size_t>(kTextWidth));
  }
}

TEST(WeatherLine, StandsBelowTheVerdict) {
  const Answer answer = onDay({{2031, 7, 6}, true});
  const std::string text = textReport(answer, {});
  EXPECT_NE(text.find("\n\nWeather of 6 Jul from years/flat.epw\n\n"), std::string::npos) << text;
  EXPECT_EQ(text.find("no weather was given"), std::string::npos);
}

TEST(WeatherLine, JsonHasFileDateAndRank) {
  const auto weatherOf = [](const Answer& answer) {
    return nlohmann::json::parse(json(answer)).at("weather");
  };
  EXPECT_TRUE(weatherOf(answerOf(sampleNight())).is_null());
  const nlohmann::json searched = weatherOf(onDay({{2031, 7, 6}, true, 28, 31}));
  EXPECT_EQ(searched.at("file"), "years/flat.epw");
  EXPECT_EQ(searched.at("from_date"), "07-06");
  EXPECT_EQ(searched.at("rank"), 28);
  EXPECT_EQ(searched.at("nights"), 31);
  const nlohmann::json own = weatherOf(onDay({{2031, 7, 6}, false}));
  EXPECT_EQ(own.at("from_date"), "2031-07-06");
  EXPECT_TRUE(own.at("rank").is_null());
}

}  // namespace
}  // namespace nightbank::report
