#include <algorithm>
#include <cmath>

#include "nights.h"
#include "whole_chain.h"
#include <nlohmann/json.hpp>

#include "nightbank/report/words.h"
#include "nightbank/study/start.h"
#include "nightbank/units/constants.h"

// Starts inside a run, from the text to the words.
namespace nightbank {
namespace {

// 1200 W at power factor 1 and 50 A locked at 120 V, 60 %, with a fan of 2 A in phase. The inverter
// loses nothing and gives 75 A; the bank of 400 Ah stands behind 5 mohm.
std::string vanOf(const std::string& starting, const std::string& more = "",
                  const std::string& bank = "400 Ah") {
  return "mains: 120 V\nperiod: {from: 2031-07-18 20:00, to: 2031-07-19 04:00}\n"
         "air_conditioners: [{name: roof, fed_from: inverter, running: {power: 1200 W, "
         "power_factor: 100 %}, fan: {power: 240 W, mode: auto}, restart_delay: 180 s, duty: "
         "[{from: "
         "\"00:00\", share: 50 %, cycles_per_hour: 3}]" +
         starting +
         "}]\nbank: {chemistry: gel, voltage: 12 V, max_depth_of_discharge: 100 %, "
         "resistance: 5 mohm, polarisation: 0 V, peukert_exponent: 1, temperature: 25 degC, "
         "capacity: " +
         bank +
         "}\ninverter: {continuous: 2000 W, cutoff: 10.5 V, reconnect: 12 V, losses: {idle: 0 W, "
         "linear: 0 %, quadratic: 0 %}, surge: [{power: 9000 W, lasts: 5 s}]}\n" +
         more;
}

const std::string kStock =
    ", starting: {locked_rotor: 50 A, nameplate_voltage: 120 V, power_factor: 60 %, lasts: 0.2 s}";
const std::string kSoft =
    ", starting: {locked_rotor: 50 A, nameplate_voltage: 120 V, power_factor: 60 %, lasts: 0.2 s, "
    "soft_starter: {cuts_to: 40 %, ramp: 0.8 s}}";

nlohmann::json jsonOf(const Answer& answer) {
  return nlohmann::json::parse(report::json(answer));
}

bool isGuessed(const Answer& answer, const std::string& path) {
  return std::ranges::find(answer.guesses, path, &Guess::path) != answer.guesses.end();
}

// 32 A in phase are 3840 W: 366 A at the cut-off.
TEST(StartsInRunKeys, AFailedStartIsTheVerdict) {
  const Answer answer = answerOf(vanOf(kStock));
  expectSoundAnswer(answer);
  EXPECT_EQ(answer.level, Level::fails);
  EXPECT_EQ(answer.night.judgement.limit, Limit::inverterStart);
  const std::string sentence = report::verdictSentence(answer);
  EXPECT_NE(sentence.find("the inverter does not carry the start of 'roof' at "), std::string::npos)
      << sentence;
  EXPECT_NE(sentence.find("the start takes 366 A (3 times in all; three trips within an hour, so "
                          "the inverter stays off)"),
            std::string::npos)
      << sentence;
  const std::string text = report::textReport(answer, {});
  EXPECT_NE(text.find("air conditioner 1 does not start: inverter trips"), std::string::npos);
  EXPECT_NE(text.find("starts  failed"), std::string::npos);
}

TEST(StartsInRunKeys, JsonHasTheStarts) {
  const Answer answer = answerOf(vanOf(kStock));
  const nlohmann::json json = jsonOf(answer);
  EXPECT_EQ(json["verdict"]["limited_by"], "inverter_start");
  EXPECT_EQ(json["subjects"]["starts"], "fails");
  const nlohmann::json& starts = json["starts"];
  EXPECT_EQ(starts["tested"], true);
  EXPECT_EQ(starts["failed"], 3);
  EXPECT_EQ(starts["tried"], answer.night.outcome.starts.tested);
  EXPECT_EQ(starts["first_failed"]["source"], "inverter");
  EXPECT_EQ(starts["first_failed"]["element"]["limit"], "low_voltage");
  EXPECT_NEAR(starts["first_failed"]["element"]["needed"].get<double>(), 3840.0 / 10.5, 1e-3);
  EXPECT_EQ(starts["given_up"], nlohmann::json::parse("[\"inverter\"]"));
  const auto failed = [](const nlohmann::json& event) {
    return event["event"] == "unit_start_failed" && event["reason"] == "inverter";
  };
  EXPECT_EQ(std::ranges::count_if(json["events"], failed), 3);
}

TEST(StartsInRunKeys, WithASoftStarterTheSameNightHolds) {
  const Answer answer = answerOf(vanOf(kSoft));
  EXPECT_EQ(answer.night.judgement.starts, Level::holds);
  EXPECT_EQ(answer.night.outcome.starts.failed, 0);
  EXPECT_NE(answer.night.judgement.limit, Limit::inverterStart);
}

// A bank of twice the size behind the same resistance ends at half its charge: some starts find
// less than 15 % to spare, none trips.
TEST(StartsInRunKeys, ACloseStartIsMarginal) {
  const Answer answer = answerOf(vanOf(kStock, "", "800 Ah"));
  const StartsOutcome& starts = answer.night.outcome.starts;
  ASSERT_EQ(starts.failed, 0);
  ASSERT_GT(starts.doubtful, 0);
  EXPECT_LT(starts.closest.element.margin(), 0.15);
  EXPECT_EQ(answer.level, Level::marginal);
  EXPECT_EQ(answer.night.judgement.limit, Limit::inverterStart);
  EXPECT_NE(report::verdictSentence(answer).find("starts are doubtful, the closest that of 'roof'"),
            std::string::npos)
      << report::verdictSentence(answer);
}

TEST(StartsInRunKeys, WithoutTheKeyNothingIsTestedAndItSaysSoOnce) {
  const Answer answer = answerOf(vanOf(""));
  EXPECT_EQ(jsonOf(answer)["starts"]["tested"], false);
  EXPECT_EQ(answer.night.judgement.starts, Level::holds);
  EXPECT_FALSE(isGuessed(answer, "inverter.short_time_current"));
  std::string told;
  for (const report::Warning& warning : report::warnings(answer))
    told += warning.text + '\n';
  const std::string line = "Whether 'roof' starts was not tested: give its `starting:";
  EXPECT_NE(told.find(line), std::string::npos) << told;
  EXPECT_EQ(told.find(line), told.rfind(line));
}

// Typically 6 times the 8 A of the compressor, 48 A: 30.8 A in phase and 38.4 A across, 49.2 A. At
// its other end it is 7 times, 56 A: 35.6 A and 44.8 A, 57.2 A, which 58 A hardly carry.
TEST(StartsInRunKeys, TypicalValuesOfAStartCapTheVerdict) {
  const std::string stiff = "1 mohm", surge = "{power: 9000 W, lasts: 5 s}";
  std::string ample =
      vanOf(", starting: {nameplate_voltage: 120 V, power_factor: 60 %, lasts: 0.2 s}", "",
            "2000 Ah, start_at: 100 %");
  ample.replace(ample.find("5 mohm"), stiff.size(), stiff);
  std::string tight = ample;
  tight.replace(tight.find(surge), surge.size(), "{current: 58 A, lasts: 5 s}");
  const Answer answer = answerOf(tight);
  EXPECT_EQ(answer.night.judgement.level, Level::holds);
  EXPECT_EQ(answer.level, Level::marginal);
  ASSERT_TRUE(answer.deciding);
  EXPECT_EQ(answer.deciding->path, "air_conditioners.roof.starting.locked_rotor");
  EXPECT_EQ(answerOf(ample).level, Level::holds);
}

// A set of 3 kW on propane with 70 % of its surge: 70 A become 49 A, and 51.2 A are asked for.
TEST(StartsInRunKeys, PropaneLeavesLessOfTheSurge) {
  const auto failedOn = [](const std::string& kind) {
    std::string yaml = vanOf(
        kStock,
        "generator: {continuous: 3000 W, throttle: fixed_speed, transient_reactance: 0 %, surge: "
        "[{current: 70 A, lasts: 0.5 s}], run: [\"20:00-04:00\"], fuel: {kind: " +
            kind + "}}\n");
    const std::string feed = "fed_from: inverter";
    yaml.replace(yaml.find(feed), feed.size(), "fed_from: generator");
    return ranOf(yaml).outcome.starts;
  };
  EXPECT_EQ(failedOn("petrol").failed, 0);
  const StartsOutcome propane = failedOn("propane, surge_left: 70 %, rating_left: 90 %");
  EXPECT_GT(propane.failed, 0);
  EXPECT_NEAR(propane.firstFailed.element.available, 49.0, 1e-9);
}

// Where it is left out, a set at fixed speed has 20 %; one whose speed follows the load, or one of
// a known class, has none.
TEST(StartsInRunKeys, TheReactanceIsTypicalOnlyWhereNothingElseTellsTheDip) {
  const auto reactanceOf = [](const std::string& generator) {
    const std::string yaml = vanOf(kStock, "generator: {continuous: 3000 W" + generator + "}\n");
    return derive(scenario::resolve(scenarioOf(yaml))).start.reactance;
  };
  EXPECT_EQ(reactanceOf(", throttle: fixed_speed"), 0.2);
  EXPECT_EQ(reactanceOf(", throttle: fixed_speed, transient_reactance: 12 %"), 0.12);
  EXPECT_EQ(reactanceOf(", throttle: fixed_speed, performance_class: G2"), 0.0);
  EXPECT_EQ(reactanceOf(", throttle: by_load"), 0.0);
}

TEST(StartsInRunKeys, ALongerListOfSurgesIsRefused) {
  std::string yaml = vanOf(kStock), surges;
  for (int i = 1; i <= 9; ++i)
    surges +=
        (i == 1 ? "" : ", ") + std::string("{power: 9000 W, lasts: ") + std::to_string(i) + " s}";
  const std::string one = "{power: 9000 W, lasts: 5 s}";
  yaml.replace(yaml.find(one), one.size(), surges);
  try {
    scenarioOf(yaml);
    ADD_FAILURE();
  } catch (const std::runtime_error& why) {
    EXPECT_NE(std::string(why.what()).find("inverter.surge has over 8 entries"), std::string::npos)
        << why.what();
  }
}

}  // namespace
}  // namespace nightbank
