// The cloud factor over the hours of real typical-year files, where NIGHTBANK_REAL_WEATHER names a
// folder of them. None is part of the project.

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "support.h"
#include <gtest/gtest.h>

#include "nightbank/weather/cloud.h"
#include "nightbank/weather/sun.h"

namespace nightbank {
namespace {

namespace fs = std::filesystem;
using Fields = std::vector<std::string>;

struct Site {
  double latitude_deg, longitude_deg, utcOffset_h, elevation_m;
};

struct Hour {
  unsigned month, day;
  double end_h;  ///< local standard time at the end of the hour
  double global_W_m2;
  double opaqueTenths;
};

struct TypicalYear {
  Site site{};
  std::vector<Hour> hours;
};

Fields split(const std::string& line) {
  Fields fields;
  std::istringstream text(line);
  for (std::string field; std::getline(text, field, ',');) {
    fields.push_back(field);
  }
  return fields;
}

double number(const std::string& text) {
  return std::strtod(text.c_str(), nullptr);
}

unsigned whole(const std::string& text) {
  return static_cast<unsigned>(std::atoi(text.c_str()));
}

// Columns of the two formats as their published manuals give them (seen in the files).
TypicalYear readYear(const fs::path& path) {
  const bool isEpw = path.extension() == ".epw";
  std::ifstream file(path);
  TypicalYear year;
  std::string line;
  for (int row = 1; std::getline(file, line); ++row) {
    const Fields field = split(line);
    if (row == 1 && isEpw) {
      year.site = {number(field.at(6)), number(field.at(7)), number(field.at(8)),
                   number(field.at(9))};
    } else if (row == 1) {
      const std::size_t n = field.size();
      year.site = {number(field.at(n - 3)), number(field.at(n - 2)), number(field.at(n - 4)),
                   number(field.at(n - 1))};
    } else if (isEpw && row > 8) {
      year.hours.push_back({whole(field.at(1)), whole(field.at(2)), number(field.at(3)),
                            number(field.at(13)), number(field.at(23))});
    } else if (!isEpw && row > 2) {
      year.hours.push_back({whole(field.at(0)), whole(field.at(0).substr(3)), number(field.at(1)),
                            number(field.at(4)), number(field.at(28))});
    }
  }
  return year;
}

struct Error {
  double energyRatio;  ///< modelled over measured
  double rms_W_m2;
};

// Sun at the middle of the hour, Linke turbidity 3, sun over 10 deg.
Error errorOf(const TypicalYear& year, double (*factor)(double)) {
  const Site& site = year.site;
  double measured_W_m2 = 0.0;
  double modelled_W_m2 = 0.0;
  double squares = 0.0;
  double count = 0.0;
  for (const Hour& hour : year.hours) {
    const double local_s = testing::instant_s(2025, hour.month, hour.day, hour.end_h - 0.5);
    const SunPosition sun =
        sunPosition(local_s - 3600.0 * site.utcOffset_h, site.latitude_deg, site.longitude_deg);
    if (sun.zenith_deg > 80.0 || !(hour.opaqueTenths >= 0.0 && hour.opaqueTenths <= 10.0)) {
      continue;
    }
    const double day =
        (testing::instant_s(2025, hour.month, hour.day) - testing::instant_s(2025, 1, 1)) / 86400.0;
    const Irradiance clear = clearSky(
        sun.zenith_deg, extraterrestrial_W_m2(static_cast<int>(day) + 1), site.elevation_m, 3.0);
    const double model_W_m2 = factor(hour.opaqueTenths / 10.0) * clear.global_W_m2;
    measured_W_m2 += hour.global_W_m2;
    modelled_W_m2 += model_W_m2;
    squares += std::pow(model_W_m2 - hour.global_W_m2, 2);
    ++count;
  }
  return {modelled_W_m2 / measured_W_m2, std::sqrt(squares / count)};
}

TEST(CloudReal, FactorMeetsTheEnergyOfTypicalYears) {
  const char* const folder = std::getenv("NIGHTBANK_REAL_WEATHER");
  if (folder == nullptr) {
    GTEST_SKIP() << "NIGHTBANK_REAL_WEATHER names no folder";
  }
  int files = 0;
  for (const auto& entry : fs::directory_iterator(folder)) {
    const auto kind = entry.path().extension();
    if (kind != ".epw" && kind != ".CSV" && kind != ".csv") {
      continue;
    }
    SCOPED_TRACE(entry.path().filename().string());
    const TypicalYear year = readYear(entry.path());
    ASSERT_GE(year.hours.size(), 8760U);
    const Error ours = errorOf(year, cloudFactor);
    const Error published = errorOf(year, kastenCzeplak);
    std::printf("%s: energy %.3f, rms %.1f W/m2; as published %.3f, %.1f W/m2\n",
                entry.path().filename().c_str(), ours.energyRatio, ours.rms_W_m2,
                published.energyRatio, published.rms_W_m2);
    EXPECT_NEAR(ours.energyRatio, 1.0, 0.1);
    EXPECT_LT(ours.rms_W_m2, published.rms_W_m2);
    ++files;
  }
  EXPECT_GT(files, 0);
}

}  // namespace
}  // namespace nightbank
