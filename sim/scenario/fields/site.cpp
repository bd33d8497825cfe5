#include <algorithm>
#include <array>
#include <cmath>

#include "build.h"
#include "cabin_lines.h"

#include "nightbank/units/constants.h"

namespace nightbank::scenario {
namespace {

using namespace build;

/// Above any that was ever measured.
constexpr double kHighestDewPoint_degC = 35.0;

constexpr std::array<std::string_view, 3> kAir = {"dry", "average", "humid"};
constexpr std::array<std::string_view, 6> kHaze = {"mountain", "desert", "average",
                                                   "humid",    "hazy",   "smoke"};

// Half of mankind lives below 194 m: J. E. Cohen, C. Small, "Hypsographic demography", PNAS 95
// (1998) 14009-14014 (from memory). The high end: common practice, no source. Only an engine's
// output hangs on it.
Typical elevation(const Scenario& soFar, const Site&) {
  if (soFar.generator)
    return {200.0, 0.0, 1500.0};
  return {200.0, 200.0, 200.0};
}

/// Whether sun and cloud matter: to solar arrays, and to a cabin.
bool seesSky(const Scenario& soFar) {
  return !soFar.solar.empty() || hasThermostat(soFar);
}

// The sun's hour angle moves 15 degrees an hour; clocks keep to half hours. Summer time, or a zone
// drawn to the east, puts them up to an hour ahead. Only the sun's place hangs on it.
Typical utcOffset(const Scenario& soFar, const Site& site) {
  if (!site.longitude_deg.known())
    return {0.0, 0.0, 0.0};
  const double halfHours = std::round(site.longitude_deg.value / 7.5);
  const double offset_s = 0.5 * kHour_s * halfHours;
  const double latest_s = seesSky(soFar) ? offset_s + kHour_s : offset_s;
  return {offset_s, offset_s, latest_s};
}

// Common practice, no source.
Typical haze(const Scenario& soFar, const DesignDay&) {
  const auto average = static_cast<double>(Haze::average);
  if (!seesSky(soFar))
    return {average, average, average};
  return {average, static_cast<double>(Haze::desert), static_cast<double>(Haze::hazy)};
}

// Common practice, no source: a hot day is a fair one.
Typical cloud(const Scenario& soFar, const DesignDay&) {
  if (!seesSky(soFar))
    return {0.2, 0.2, 0.2};
  return {0.2, 0.0, 0.6};
}

// Common practice, no source. Only a cabin takes up moisture.
Typical air(const Scenario& soFar, const DesignDay& day) {
  const auto average = static_cast<double>(Air::average);
  if (day.dewPoint_degC.known() || !hasThermostat(soFar))
    return {average, average, average};
  return {average, static_cast<double>(Air::dry), static_cast<double>(Air::humid)};
}

// A month: what a night of that season may be. Nights are searched for the hottest, or counted for
// the share that must hold.
Typical within(const Scenario& soFar, const WeatherFile& file) {
  if (!file.hottest.given && !(soFar.sizing && soFar.sizing->nights.given))
    return {};
  return {15 * kDay_s, 15 * kDay_s, 15 * kDay_s};
}

// Common practice, no source: a summer night; the ends are a cool one and a hot one. Engines and
// arrays are what feels it.
Typical temperature(const Scenario& soFar, const ConstantWeather&) {
  const bool isFelt =
      soFar.generator || seesSky(soFar) || (soFar.inverter && soFar.inverter->heatDerating.given) ||
      std::ranges::any_of(soFar.loads, [](const Load& load) { return load.dutyAt_degC.given; });
  return isFelt ? Typical{25.0, 15.0, 38.0} : Typical{25.0, 25.0, 25.0};
}

// Constant weather has no dawn: its own temperature stands for the low. Only a cabin takes up
// moisture.
Typical dewPoint(const Scenario& soFar, const ConstantWeather& weather) {
  const double at_degC = weather.temperature_degC.value;
  const auto below = [at_degC](Air air) {
    return std::min(kHighestDewPoint_degC, at_degC - kDewBelowLow_K[static_cast<std::size_t>(air)]);
  };
  const double average_degC = below(Air::average);
  if (!hasThermostat(soFar))
    return {average_degC, average_degC, average_degC};
  return {average_degC, below(Air::dry), below(Air::humid)};
}

}  // namespace

template <>
const Spec& specOf<HorizonPoint>() {
  static const Spec spec{
      "a point of the horizon",
      {
          quantity<&HorizonPoint::towards_deg>("towards", Dim::angle, between(-360, 360),
                                               "clockwise from north: south is 180 deg (compass)")
              .required(),
          quantity<&HorizonPoint::height_deg>("height", Dim::angle, between(0, 90),
                                              "of the edge above the level (level app of a phone)")
              .required(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<Site>() {
  static const Spec spec{
      "a site",
      {
          quantity<&Site::latitude_deg>("latitude", Dim::number, between(-90, 90),
                                        "degrees, north positive; needed for solar (map)"),
          quantity<&Site::longitude_deg>("longitude", Dim::number, between(-180, 180),
                                         "degrees, east positive; needed for solar (map)"),
          quantity<&Site::elevation_m>("elevation", Dim::length, between(-430, 6000),
                                       "height above the sea; takes from an engine's output (map)")
              .from<&elevation>("200 m, range 0 m to 1500 m with a generator"),
          list<&Site::horizon>("horizon",
                               "what stands around: behind it the sun gives its diffuse part only"),
          value<&Site::quietHours>("quiet_hours", Kind::hours,
                                   "no engine may run then (rules of the site)"),
          value<&Site::generatorHours>("generator_hours", Kind::hours,
                                       "engines may run only then (rules of the site)"),
          quantity<&Site::utcOffset_s>("utc_offset", Dim::duration,
                                       between(-12 * kHour_s, 14 * kHour_s),
                                       "local clock minus UTC (settings of a phone's clock)")
              .usually("h")
              .from<&utcOffset>(
                  "longitude / 15, to the half hour; range 1 h more with solar or a thermostat")
              .seldom(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<Weather>() {
  static const Spec spec{
      "the weather",
      {
          part<&Weather::designDay>("design_day", "one day's high and low, every day (forecast)")
              .required()
              .oneOf(1, 'a'),
          part<&Weather::constant>("constant", "the same at every hour, for checks by hand")
              .required()
              .oneOf(1, 'b'),
          part<&Weather::file>("file", "a weather file (public archives of typical years)")
              .required()
              .oneOf(1, 'c'),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<DesignDay>() {
  static const Spec spec{
      "a design day",
      {
          quantity<&DesignDay::high_degC>("high", Dim::temperature, between(-40, 60),
                                          "outdoor temperature in the afternoon (forecast)")
              .required(),
          quantity<&DesignDay::low_degC>("low", Dim::temperature, between(-40, 60),
                                         "outdoor temperature at dawn (forecast)")
              .required(),
          quantity<&DesignDay::cloud>("cloud", Dim::fraction, between(0, 1),
                                      "share of the sky under thick cloud (forecast)")
              .from<&cloud>("20 %, range 0 % to 60 % with solar or a thermostat"),
          word<&DesignDay::haze>("haze", kHaze, "how clear the air is (look at the horizon)")
              .from<&haze>("average, range desert to hazy with solar or a thermostat"),
          word<&DesignDay::air>("air", kAir,
                                "moisture of the air, where dew_point is not known (forecast)")
              .oneOf(1, 'a')
              .from<&air>("average; range dry to humid with a thermostat")
              .seldom(),
          quantity<&DesignDay::dewPoint_degC>("dew_point", Dim::temperature,
                                              between(-40, kHighestDewPoint_degC),
                                              "dew point of the air (forecast)")
              .oneOf(1, 'b')
              .seldom(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<WeatherFile>() {
  static const Spec spec{
      "a weather file",
      {
          value<&WeatherFile::path>("path", Kind::text,
                                    "EPW, TMY3 csv or own csv, from this file's folder (your disk)")
              .required(),
          value<&WeatherFile::day>("day", Kind::date,
                                   "date to take it from, else the period's own (calendar)")
              .oneOf(1, 'a'),
          share<&WeatherFile::hottest>("hottest", between(0, 1),
                                       "or its night at this percentile of energy asked for "
                                       "(your choice)")
              .oneOf(1, 'b'),
          quantity<&WeatherFile::within_s>("within", Dim::duration, between(kDay_s, 45 * kDay_s),
                                           "dates searched, before and after the period's "
                                           "(your choice)")
              .usually("d")
              .from<&within>("15 d")
              .oneOf(1, 'b'),
          quantity<&WeatherFile::warmer_K>("warmer", Dim::difference, between(-20, 20),
                                           "added to the file's outdoor temperature (forecast)")
              .byDefault(0, "0 K")
              .seldom(),
          share<&WeatherFile::cloudier>("cloudier", between(-1, 1),
                                        "added to the file's share of cloud (forecast)")
              .byDefault(0, "0 %")
              .seldom(),
      },
      "path"};
  return spec;
}

template <>
const Spec& specOf<ConstantWeather>() {
  static const Spec spec{
      "constant weather",
      {
          quantity<&ConstantWeather::temperature_degC>(
              "temperature", Dim::temperature, between(-40, 60), "outdoor temperature (forecast)")
              .from<&temperature>("25 degC, range 15 degC to 38 degC with generator or solar"),
          quantity<&ConstantWeather::dewPoint_degC>("dew_point", Dim::temperature,
                                                    between(-40, kHighestDewPoint_degC),
                                                    "dew point of the air (forecast)")
              .from<&dewPoint>("4 K below temperature; range 12 K to 1 K below with a thermostat")
              .seldom(),
          quantity<&ConstantWeather::peakSun_s>(
              "peak_sun_hours", Dim::duration, between(0, 16 * kHour_s),
              "hours of full sun on the array a day, around noon; needed for solar (solar map)")
              .usually("h")
              .byDefault(0, "0 h"),
      },
      ""};
  return spec;
}

}  // namespace nightbank::scenario
