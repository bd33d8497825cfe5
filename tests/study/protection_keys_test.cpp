#include "nights.h"
#include "whole_chain.h"
#include <nlohmann/json.hpp>

#include "nightbank/report/words.h"
#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/units/constants.h"

// Keys of the protection, of a direct-current unit's cut-off and of a controller's own draw, from
// the text to the words.
namespace nightbank {
namespace {

std::string nightOn(const std::string& bank, const std::string& rest) {
  return "period: {from: 2031-07-18 20:00, to: 2031-07-19 06:00}\n"
         "bank: {chemistry: lfp, voltage: 12.8 V, capacity: 300 Ah, " +
         bank + "}\n" + rest + "\n";
}

constexpr const char* kKettle =
    "loads: [{name: kettle, fed_from: battery, power: 3 kW, "
    "hours: [\"21:00-21:05\"]}]";

// 3 kW at some 13 V are over 200 A.
TEST(ProtectionKeys, ACurrentLimitIsNamedInTheVerdict) {
  const Answer answer =
      answerOf(nightOn("current_limit: [{current: 200 A, lasts: 10 s}]", kKettle));
  const auto json = nlohmann::json::parse(report::json(answer));
  EXPECT_EQ(json["verdict"]["level"], "fails");
  EXPECT_EQ(json["verdict"]["limited_by"], "bank_current");
  ASSERT_EQ(json["overloads"].size(), 1U);
  EXPECT_EQ(json["overloads"][0]["source"], "bank");
  EXPECT_EQ(json["overloads"][0]["limit_A"], 200.0);
  EXPECT_GT(json["overloads"][0]["load_A"], 200.0);
  const std::string sentence = json["verdict"]["sentence"];
  EXPECT_NE(sentence.find("the bank's protection trips on overload at 21:00: 2"), std::string::npos)
      << sentence;
  EXPECT_NE(sentence.find("A flow out of the bank against 200 A"), std::string::npos) << sentence;
  expectSoundAnswer(answer);
}

TEST(ProtectionKeys, AHigherLimitLetsItThrough) {
  const Answer answer =
      answerOf(nightOn("current_limit: [{current: 400 A, lasts: 10 s}]", kKettle));
  EXPECT_EQ(answer.night.outcome.sources[static_cast<int>(Source::bank)].trips, 0);
}

// 60 A of a charger less 0.8 A for a radio against 50 A: a bank that is charged no more carries its
// night all the same.
TEST(ProtectionKeys, AChargeCurrentLimitIsNamedBesideTheVerdict) {
  const auto charged = [](const std::string& limit) {
    return answerOf(nightOn("start_at: 60 %" + limit,
                            "shore: {limit: 16 A, hours: [\"21:00-23:00\"]}\n"
                            "mains: 230 V\n"
                            "charger: {output_current: 60 A, ramp: 0 s}\n"
                            "loads: [{name: radio, fed_from: battery, power: 10 W}]"));
  };
  const Answer stopped =
      charged(", protection_reset: 2 min, charge_current_limit: [{current: 50 A, lasts: 10 s}]");
  const auto json = nlohmann::json::parse(report::json(stopped));
  EXPECT_EQ(json["verdict"]["level"], "holds");
  ASSERT_EQ(json["overloads"].size(), 1U);
  EXPECT_EQ(json["overloads"][0]["source"], "charge");
  EXPECT_EQ(json["overloads"][0]["limit_A"], 50.0);
  EXPECT_EQ(json["overloads"][0]["trips"], 3);
  const std::string sentence = json["verdict"]["sentence"];
  EXPECT_NE(sentence.find("he bank's protection stops the charge at 21:00: 59 A flow into the bank "
                          "against 50 A, for longer than it allows (3 times in all; three within "
                          "an hour, so it stays off)"),
            std::string::npos)
      << sentence;
  expectSoundAnswer(stopped);
  // 30 s of 60 A in place of two hours.
  const Answer free = charged("");
  EXPECT_LT(stopped.night.outcome.bank.endSoc, free.night.outcome.bank.endSoc - 0.25);
  EXPECT_NEAR(plantOf(nightOn("protection_reset: 2 min, charge_current_limit: [{current: 50 A, "
                              "lasts: 10 s}]",
                              kKettle))
                  .sources[static_cast<int>(Source::charge)]
                  .reset_s,
              120.0, 0.0);
}

TEST(ProtectionKeys, ChargeStopsAtTheHighTrip) {
  const std::string bank = "start_at: 40 %, absorption: 14.4 V, resistance: 10 mohm, high_trip: ";
  const std::string drive =
      "alternator: {output_current: 60 A, hours: [\"20:00-23:00\"]}\n"
      "loads: [{name: radio, fed_from: battery, power: 10 W}]";
  const Answer stopped = answerOf(nightOn(bank + "13.8 V", drive));
  const Answer free = answerOf(nightOn(bank + "14.6 V", drive));
  EXPECT_LT(stopped.night.outcome.bank.endSoc, free.night.outcome.bank.endSoc - 0.1);
  const auto json = nlohmann::json::parse(report::json(stopped));
  EXPECT_NE(json["events"].dump().find("protection stops the charge"), std::string::npos);
  expectSoundAnswer(stopped);
}

TEST(ProtectionKeys, LithiumHasAHighTripAndLeadHasNone) {
  EXPECT_NEAR(plantOf(nightOn("start_at: 90 %", kKettle)).highTrip_V, 14.6, 1e-9);
  const std::string lead =
      "period: {night_of: 2031-07-18}\nbank: {chemistry: agm, voltage: 12 V, capacity: 200 Ah}\n" +
      std::string(kKettle);
  EXPECT_TRUE(std::isinf(plantOf(lead).highTrip_V));
}

// 12.9 V of rest less 60 A over 10 mohm: below 12.5 V at once at a low charge.
TEST(ProtectionKeys, AUnitsOwnCutoffEndsTheNight) {
  const Answer answer = answerOf(
      nightOn("start_at: 60 %, resistance: 10 mohm",
              "air_conditioners: [{name: bunk, fed_from: battery, running: {current: 50 A at 12 "
              "V}, fan: {power: 30 W}, duty: 100 %, cutoff: 12.5 V, hours: [\"20:00-06:00\"]}]"));
  const auto json = nlohmann::json::parse(report::json(answer));
  EXPECT_EQ(json["verdict"]["limited_by"], "unit_cutoff");
  const std::string sentence = json["verdict"]["sentence"];
  EXPECT_NE(sentence.find("the own low-voltage cut-off of 'bunk' (12.5 V) ends the night"),
            std::string::npos)
      << sentence;
  EXPECT_NE(json["events"].dump().find("air conditioner 1 cuts off on low voltage"),
            std::string::npos);
  expectSoundAnswer(answer);
}

TEST(ProtectionKeys, EveryControllerDrawsItsStandby) {
  const std::string sun =
      "weather: {constant: {temperature: 20 degC, peak_sun_hours: 4 h}}\n"
      "solar: [{name: a, rated: 100 W, standby: 2 W}, {name: b, rated: 100 W, "
      "controller: pwm}]\n";
  EXPECT_NEAR(plantOf(nightOn("start_at: 90 %", sun + kKettle)).controllers_W, 2.1, 1e-12);
}

}  // namespace
}  // namespace nightbank
