// The readers on real typical-year files, where NIGHTBANK_REAL_WEATHER names a folder of them. None
// is part of the project. That a stamp ends its hour shows in the files themselves: global is
// direct times the cosine of the zenith, plus diffuse, only with the sun half an hour before it.

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "support.h"
#include "weather_files.h"
#include <gtest/gtest.h>

#include "nightbank/weather/sun.h"

namespace nightbank {
namespace {

namespace fs = std::filesystem;

std::string textOf(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

// Root mean square of global - (direct cos z + diffuse) over hours with direct light and the sun
// over 10 deg, with the sun `before_s` before the stamp.
double closure_W_m2(const WeatherSeries& series, double before_s) {
  const double first_s = testing::instant_s(2025, 1, 1, 1.0);
  double squares = 0.0, count = 0.0;
  for (std::size_t i = 0; i < series.rows.size(); ++i) {
    const WeatherRow& row = series.rows[i];
    const double utc_s =
        first_s + static_cast<double>(i) * 3600.0 - before_s - series.utcOffset_s.value();
    const double zenith_deg =
        sunPosition(utc_s, series.latitude_deg, series.longitude_deg).zenith_deg;
    if (zenith_deg > 80.0 || !(row.direct_W_m2 > 0.0))
      continue;
    const double cosZenith = std::cos(zenith_deg * std::acos(-1.0) / 180.0);
    squares += std::pow(row.global_W_m2 - row.direct_W_m2 * cosZenith - row.diffuse_W_m2, 2);
    ++count;
  }
  return std::sqrt(squares / count);
}

TEST(SeriesReal, TheSunOfAStampIsHalfAnHourBeforeIt) {
  const char* const folder = std::getenv("NIGHTBANK_REAL_WEATHER");
  if (folder == nullptr)
    GTEST_SKIP() << "NIGHTBANK_REAL_WEATHER names no folder";
  int files = 0;
  for (const auto& entry : fs::directory_iterator(folder)) {
    const auto kind = entry.path().extension();
    if (kind != ".epw" && kind != ".CSV" && kind != ".csv")
      continue;
    SCOPED_TRACE(entry.path().filename().string());
    const WeatherSeries series = testing::seriesFrom(textOf(entry.path()));
    ASSERT_EQ(series.rows.size(), 8760U);
    const double half_W_m2 = closure_W_m2(series, 1800.0);
    const double none_W_m2 = closure_W_m2(series, 0.0);
    std::printf("%s: closes to %.1f W/m2 half an hour before the stamp, %.1f at it, %d filled\n",
                entry.path().filename().c_str(), half_W_m2, none_W_m2, series.filled);
    // 0.9 to 4.8 against 29 to 44 W/m2 in four such files (computed by an independent program).
    EXPECT_LT(half_W_m2, 5.0);
    EXPECT_GT(none_W_m2, 25.0);
    ++files;
  }
  EXPECT_GT(files, 0);
}

}  // namespace
}  // namespace nightbank
