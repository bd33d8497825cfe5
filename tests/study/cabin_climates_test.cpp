#include <cmath>
#include <string>

#include "nights.h"
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "nightbank/units/constants.h"
#include "nightbank/weather/clear_sky.h"
#include "nightbank/weather/humid_air.h"

// One trailer in a humid night by the coast and in a dry one of the high desert: what the moisture
// does to its air conditioner. Invented data.
namespace nightbank {
namespace {

struct Place {
  std::string site, day;
};

const Place kCoast{"{latitude: 29, longitude: -95, elevation: 3 m, utc_offset: -6 h}",
                   "{high: 33 degC, low: 27 degC, dew_point: 25 degC}"};
const Place kDesert{"{latitude: 36, longitude: -112, elevation: 1800 m, utc_offset: -7 h}",
                    "{high: 36 degC, low: 19 degC, dew_point: 2 degC}"};

Night nightAt(const Place& place, double people = 2) {
  return ranOf(fmt::format(R"(
site: {}
period: {{from: 2031-07-18 20:00, to: 2031-07-19 07:00}}
weather: {{design_day: {}}}
occupants: {{count: {}}}
cabin: {{length: 6 m, built_for: three_season}}
air_conditioners:
  - {{name: roof, cooling: 13500 BTU/h, running: {{power: 1400 W}}, thermostat: 24 degC}}
bank: {{chemistry: lfp, voltage: 12.8 V, capacity: 2000 Ah}}
inverter: {{continuous: 3000 W}}
)",
                           place.site, place.day, people));
}

// Share of the time within [from, to) of the period for which the compressor ran.
double dutyWithin(const Night& night, double from_h, double to_h) {
  double on_s = 0.0;
  for (const Sample& sample : night.recorder.samples)
    if (sample.start_s >= from_h * kHour_s && sample.start_s < to_h * kHour_s)
      on_s += sample.compressor_s;
  return on_s / ((to_h - from_h) * kHour_s);
}

double latentShare(const Night& night) {
  const CabinOutcome& cabin = night.outcome.cabin;
  return cabin.latent_J / (cabin.latent_J + cabin.cooling_J);
}

// The moisture that leaks in and that people give off is to be taken out again, hour by hour.
TEST(CabinClimates, OnTheCoastTheCoilDriesAllNight) {
  const Night night = nightAt(kCoast);
  for (int hour = 3; hour < 10; ++hour)
    EXPECT_GT(dutyWithin(night, hour, hour + 1), 0.15) << hour;
  EXPECT_GT(latentShare(night), 0.25);  // of a coil rated 23 %
  EXPECT_LT(latentShare(night), 0.45);
  Place drier = kCoast;
  drier.day = "{high: 33 degC, low: 27 degC, dew_point: 8 degC}";
  EXPECT_LT(dutyWithin(nightAt(drier), 3, 10), 0.95 * dutyWithin(night, 3, 10));
}

TEST(CabinClimates, OnTheCoastTheCabinIsNeitherDryNorWet) {
  const Night night = nightAt(kCoast);
  for (const Sample& sample : night.recorder.samples) {
    if (sample.start_s < 2 * kHour_s)
      continue;
    const double humidity =
        relativeHumidity(sample.indoor_degC, sample.humidityRatio, standardPressure_Pa(3.0));
    EXPECT_GT(humidity, 0.45) << sample.start_s;
    EXPECT_LT(humidity, 0.70) << sample.start_s;
    // Outdoors, saturated at 25 degC, is wetter throughout.
    EXPECT_LT(sample.humidityRatio, saturationRatio(25.0, standardPressure_Pa(3.0)));
  }
}

// Two sleepers are the only moisture; without them there is none to be had.
TEST(CabinClimates, InTheDesertTheCoilRunsDry) {
  const Night empty = nightAt(kDesert, 0);
  EXPECT_GT(empty.recorder.airConditioners[0].starts, 3);
  EXPECT_LT(latentShare(empty), 1e-3);
  const double slept = latentShare(nightAt(kDesert));
  EXPECT_GT(slept, latentShare(empty));
  EXPECT_LT(slept, 0.5 * latentShare(nightAt(kCoast)));
}

TEST(CabinClimates, InTheDesertTheNightCoolsByItself) {
  const Night night = nightAt(kDesert);
  EXPECT_GT(dutyWithin(night, 0, 1), 0.2);
  EXPECT_EQ(dutyWithin(night, 5, 10), 0.0);
}

}  // namespace
}  // namespace nightbank
