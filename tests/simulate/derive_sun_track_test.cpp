#include "nightbank/simulate/derive_sun_track.h"

#include <algorithm>
#include <cmath>
#include <string>

#include <gtest/gtest.h>

#include "nightbank/scenario/document.h"
#include "nightbank/scenario/reader.h"
#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"

namespace nightbank {
namespace {

scenario::Scenario roofAt(const std::string& site) {
  const auto parsed = scenario::parseDocument("site: {" + site + R"(}
period: {from: 2031-07-18 04:30, to: 2031-07-18 22:10}
weather: {design_day: {high: 34 degC, low: 19 degC}}
loads: [{name: a, fed_from: battery, power: 40 W}]
bank: {chemistry: lfp, voltage: 12.8 V, capacity: 100 Ah}
solar: [{name: roof, rated: 400 W, shade: [{hours: ["15:07-16:31"], share: 40 %}]}]
)",
                                              "test.yaml");
  return scenario::resolve(*scenario::readScenario(std::get<scenario::Document>(parsed)).scenario);
}

const char* const kPlace = "latitude: 37.9, longitude: 32.8, utc_offset: 3 h";

void expectSameWeather(const Plant& a, const Plant& b) {
  EXPECT_EQ(a.outdoor_degC, b.outdoor_degC);
  ASSERT_EQ(a.sun.size(), b.sun.size());
  for (std::size_t i = 0; i < a.sun.size(); ++i) {
    EXPECT_EQ(a.sun[i].start_s, b.sun[i].start_s);
    EXPECT_EQ(a.sun[i].array_W, b.sun[i].array_W);
    EXPECT_EQ(a.sun[i].arraySlope_W_s, b.sun[i].arraySlope_W_s);
  }
}

// To the last bit: it is the same law at the same instants.
TEST(SunTrack, MovesNothing) {
  const scenario::Scenario scenario = roofAt(kPlace);
  const SunTrack track = sunTrack(scenario);
  EXPECT_GT(track.positions.size(), 200U);
  const Plant plant = derive(scenario);
  EXPECT_GT(plant.sun.size(), 100U);
  expectSameWeather(derive(scenario, nullptr, {&track}), plant);
}

TEST(SunTrack, ThatOfAnotherPlaceIsNotUsed) {
  const SunTrack track = sunTrack(roofAt("latitude: 12, longitude: 32.8, utc_offset: 3 h"));
  const scenario::Scenario scenario = roofAt(kPlace);
  expectSameWeather(derive(scenario, nullptr, {&track}), derive(scenario));
  const SunTrack later = sunTrack(roofAt("latitude: 37.9, longitude: 32.8, utc_offset: 2 h"));
  expectSameWeather(derive(scenario, nullptr, {&later}), derive(scenario));
}

// What it saves is used: a track that is wrong at noon shows.
TEST(SunTrack, IsUsedWhereItFits) {
  const scenario::Scenario scenario = roofAt(kPlace);
  SunTrack track = sunTrack(scenario);
  track.positions[96] = track.positions[0];  // 12:30 for 04:30
  const Plant plant = derive(scenario), wrong = derive(scenario, nullptr, {&track});
  double most_W = 0.0;
  for (std::size_t i = 0; i < plant.sun.size() && i < wrong.sun.size(); ++i)
    most_W = std::max(most_W, std::abs(plant.sun[i].array_W - wrong.sun[i].array_W));
  EXPECT_GT(most_W, 50.0);
}

// Under every word for the haze, under cloud, and from another height, where the track's clear sky
// does not fit.
TEST(SunTrack, ClearSkiesAreThoseOfTheLaw) {
  const SunTrack track = sunTrack(roofAt(kPlace));
  for (const char* site : {kPlace,
                           "latitude: 37.9, longitude: 32.8, utc_offset: 3 h, "
                           "elevation: 2500 m"})
    for (const scenario::Haze haze :
         {scenario::Haze::mountain, scenario::Haze::humid, scenario::Haze::smoke})
      for (const double cloud : {0.0, 0.7}) {
        scenario::Scenario scenario = roofAt(site);
        scenario.weather->designDay->haze.value = haze;
        scenario.weather->designDay->cloud.value = cloud;
        expectSameWeather(derive(scenario, nullptr, {&track}), derive(scenario));
      }
}

// What is there is used: a clear sky that is wrong shows at noon, which is on its grid.
TEST(SunTrack, ClearSkiesAreUsedWhereTheyFit) {
  const scenario::Scenario scenario = roofAt(kPlace);
  SunTrack track = sunTrack(scenario);
  for (Irradiance& sky : track.clear[static_cast<std::size_t>(Haze::average)])
    sky = {};
  const auto noon_W = [](const Plant& plant) {
    const auto found = std::ranges::find(plant.sun, 7.5 * 3600.0, &SunPiece::start_s);
    return found == plant.sun.end() ? -1.0 : found->array_W;
  };
  EXPECT_GT(noon_W(derive(scenario)), 100.0);
  EXPECT_EQ(noon_W(derive(scenario, nullptr, {&track})), -1.0);  // one dark piece covers it
}

// The same of the air: shares of the day's range that are all of its high show.
TEST(SunTrack, SharesOfTheDaysRangeAreUsed) {
  const scenario::Scenario scenario = roofAt(kPlace);
  SunTrack track = sunTrack(scenario);
  std::ranges::fill(track.belowHigh, 0.0);
  EXPECT_LT(std::ranges::min(derive(scenario).outdoor_degC), 20.0);
  EXPECT_EQ(std::ranges::min(derive(scenario, nullptr, {&track}).outdoor_degC), 34.0);
}

/// From 9:00 to 14:00, each of which begins a piece.
double solar_J(const Plant& plant) {
  double sum_J = 0.0;
  for (std::size_t i = 0; i + 1 < plant.sun.size(); ++i) {
    const SunPiece& piece = plant.sun[i];
    const double span_s = plant.sun[i + 1].start_s - piece.start_s;
    if (piece.start_s >= 4.5 * 3600.0 && piece.start_s < 9.5 * 3600.0)
      sum_J += span_s * (piece.array_W + 0.5 * span_s * piece.arraySlope_W_s);
  }
  return sum_J;
}

// Of an arc of L = 14 hours the chords of h = half an hour are (pi h / L)^2 / 12 = 1e-3 short where
// it bends like a sine.
TEST(SunTrack, LongChordsAreLifted) {
  const scenario::Scenario scenario = roofAt(kPlace);
  SunTrack track = sunTrack(scenario);
  const double fine_J = solar_J(derive(scenario, nullptr, {&track}));
  track.knotsApart = 6;
  const Plant coarse = derive(scenario, nullptr, {&track});
  EXPECT_LT(coarse.sun.size(), 40U);
  EXPECT_NEAR(solar_J(coarse) / fine_J, 1.0, 1e-4);
}

// Where nothing jumps a piece begins as the one before ended; at an edge of shade it does not.
TEST(SunTrack, PiecesMeetButForTheEdgesOfShade) {
  const Plant plant = derive(roofAt(kPlace));
  int jumps = 0;
  for (std::size_t i = 1; i < plant.sun.size(); ++i) {
    const SunPiece& before = plant.sun[i - 1];
    const double end_W =
        before.array_W + before.arraySlope_W_s * (plant.sun[i].start_s - before.start_s);
    const double clock_h = 4.5 + plant.sun[i].start_s / 3600.0;
    const bool isEdge = std::abs(clock_h - (15.0 + 7.0 / 60.0)) < 1e-6 ||
                        std::abs(clock_h - (16.0 + 31.0 / 60.0)) < 1e-6;
    EXPECT_EQ(plant.sun[i].jumps, isEdge) << clock_h;
    jumps += isEdge ? 1 : 0;
    if (!isEdge) {
      EXPECT_NEAR(plant.sun[i].array_W, end_W, 1e-6);
    }
  }
  EXPECT_EQ(jumps, 2);
}

}  // namespace
}  // namespace nightbank
