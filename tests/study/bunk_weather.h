#pragma once

#include "nightbank/units/constants.h"

namespace nightbank::test {

// Outdoors, by the hour, of the night on paper that several tests follow. Invented data.
inline constexpr const char* kOutdoors = R"(time,outdoor degC,dew_point degC,cloud %,global W/m2
2026-08-10 21:30,33,10,100,0
2026-08-10 22:30,32,10,100,0
2026-08-10 23:30,31,10,100,0
2026-08-11 00:30,30,10,100,0
2026-08-11 01:30,29,10,100,0
2026-08-11 02:30,28,10,100,0
2026-08-11 03:30,27,10,100,0
2026-08-11 04:30,26.2,10,100,0
2026-08-11 05:30,25.5,10,100,0
2026-08-11 06:30,25,10,100,0
2026-08-11 07:30,25,10,100,0
)";

/// Hour of the clock of a time since that night's dusk, 21:30; below 0 before midnight.
inline double clock_h(double since_s) {
  return 21.5 + since_s / kHour_s - 24.0;
}

}  // namespace nightbank::test
