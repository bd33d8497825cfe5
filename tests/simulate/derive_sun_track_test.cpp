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
  expectSameWeather(derive(scenario, nullptr, &track), plant);
}

TEST(SunTrack, ThatOfAnotherPlaceIsNotUsed) {
  const SunTrack track = sunTrack(roofAt("latitude: 12, longitude: 32.8, utc_offset: 3 h"));
  const scenario::Scenario scenario = roofAt(kPlace);
  expectSameWeather(derive(scenario, nullptr, &track), derive(scenario));
  const SunTrack later = sunTrack(roofAt("latitude: 37.9, longitude: 32.8, utc_offset: 2 h"));
  expectSameWeather(derive(scenario, nullptr, &later), derive(scenario));
}

// What it saves is used: a track that is wrong at noon shows.
TEST(SunTrack, IsUsedWhereItFits) {
  const scenario::Scenario scenario = roofAt(kPlace);
  SunTrack track = sunTrack(scenario);
  track.positions[96] = track.positions[0];  // 12:30 for 04:30
  const Plant plant = derive(scenario), wrong = derive(scenario, nullptr, &track);
  double most_W = 0.0;
  for (std::size_t i = 0; i < plant.sun.size() && i < wrong.sun.size(); ++i)
    most_W = std::max(most_W, std::abs(plant.sun[i].array_W - wrong.sun[i].array_W));
  EXPECT_GT(most_W, 50.0);
}

}  // namespace
}  // namespace nightbank
