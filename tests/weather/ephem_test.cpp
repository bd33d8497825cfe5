// The sun against python3-ephem (Debian), an independent program that is run here: 200 instants
// from 2024 to 2040 all over the earth. Without the program the test fails: tools/test installs it.

#include <cmath>
#include <cstdio>
#include <memory>
#include <string>

#include <gtest/gtest.h>

#include "nightbank/weather/sun.h"

namespace nightbank {
namespace {

TEST(Ephem, ZenithsAreWithinAHundredthOfADegree) {
  // Debian's own python, which has Debian's packages; another may come first in the path.
  const std::string command =
      "/usr/bin/python3 '" NIGHTBANK_SOURCE_DIR "/tests/weather/ephem_positions.py'";
  FILE* const output = ::popen(command.c_str(), "r");
  ASSERT_NE(output, nullptr);
  int count = 0;
  double worst_deg = 0.0;
  double utc_s = 0.0, latitude_deg = 0.0, longitude_deg = 0.0, zenith_deg = 0.0, azimuth_deg = 0.0;
  while (std::fscanf(output, "%lf %lf %lf %lf %lf", &utc_s, &latitude_deg, &longitude_deg,
                     &zenith_deg, &azimuth_deg) == 5) {
    const SunPosition sun = sunPosition(utc_s, latitude_deg, longitude_deg);
    const double off_deg = std::abs(sun.zenith_deg - zenith_deg);
    EXPECT_LT(off_deg, 0.01) << utc_s << " at " << latitude_deg << ", " << longitude_deg;
    const double sideways_deg = std::remainder(sun.azimuth_deg - azimuth_deg, 360.0) *
                                std::sin(zenith_deg * std::acos(-1.0) / 180.0);
    EXPECT_LT(std::abs(sideways_deg), 0.01) << utc_s << " at " << latitude_deg;
    worst_deg = std::max(worst_deg, off_deg);
    ++count;
  }
  EXPECT_EQ(::pclose(output), 0) << "python3-ephem is missing";
  EXPECT_EQ(count, 200);
  std::printf("zenith within %.4f deg of python3-ephem\n", worst_deg);
}

}  // namespace
}  // namespace nightbank
