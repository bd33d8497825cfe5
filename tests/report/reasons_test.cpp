#include "nightbank/report/reasons.h"

#include "sample_answer.h"
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "nightbank/report/json.h"
#include "nightbank/report/words.h"

namespace nightbank::report {
namespace {

using testing_support::answerOf;
using testing_support::sampleNight;

LoggedEvent event(EventKind kind, int index) {
  return {600.0, kind, static_cast<std::uint8_t>(index), 0.5};
}

TEST(Reasons, StandBesideStartsFailuresAndStops) {
  const auto lowVoltage = static_cast<int>(RunReason::lowVoltage);
  EXPECT_EQ(eventText(event(EventKind::generatorStarted, lowVoltage)),
            "engine starts (low voltage)");
  EXPECT_EQ(eventText(event(EventKind::startFailed, lowVoltage)),
            "engine does not start (low voltage)");
  EXPECT_EQ(
      eventText(event(EventKind::generatorUnloaded, static_cast<int>(StopReason::longestRun))),
      "generator drops its load (longest run)");
  EXPECT_EQ(eventText(event(EventKind::tankFilled, 0)), "tank is filled");
  EXPECT_EQ(eventReasonWord(event(EventKind::generatorStarted, lowVoltage)), "low_voltage");
  EXPECT_EQ(eventReasonWord(event(EventKind::bankFull, 0)), "");
  const LoggedEvent start{600.0, EventKind::unitStartFailed, 1, 0.5, Source::bank};
  EXPECT_EQ(eventText(start), "air conditioner 2 does not start: bank trips");
  EXPECT_EQ(eventReasonWord(start), "bank");
}

TEST(Reasons, AreInTheJson) {
  Night night = sampleNight();
  night.recorder.events = {
      event(EventKind::generatorStarted, static_cast<int>(RunReason::highLoad))};
  night.recorder.runs.at(0).reason = RunReason::highLoad;
  night.recorder.runs.at(0).stop = StopReason::tankEmpty;
  night.outcome.generator.counts = {.startAttempts = 3, .refuels = 1, .ranDry = 1};
  const auto object = nlohmann::json::parse(json(answerOf(night)));
  EXPECT_EQ(object["events"][0]["reason"], "high_load");
  const auto& generator = object["generator"];
  EXPECT_EQ(generator["runs"][0]["reason"], "high_load");
  EXPECT_EQ(generator["runs"][0]["stopped_by"], "tank_empty");
  EXPECT_EQ(generator["start_attempts"], 3);
  EXPECT_EQ(generator["refuels"], 1);
  EXPECT_EQ(generator["ran_dry"], 1);
  EXPECT_TRUE(generator["gave_up_at"].is_null());
}

TEST(Reasons, OfAnEngineThatIsNotThereAreInTheVerdict) {
  Night night = sampleNight();
  night.outcome.generator.counts = {.startAttempts = 3, .gaveUpAt_s = 3600.0};
  EXPECT_NE(verdictSentence(answerOf(night)).find("given up at 19:00 after 3 failed cranks"),
            std::string::npos)
      << verdictSentence(answerOf(night));
  night.outcome.generator.counts = {.startAttempts = 1, .ranDry = 2};
  EXPECT_NE(verdictSentence(answerOf(night)).find("for want of fuel 2 times"), std::string::npos);
}

}  // namespace
}  // namespace nightbank::report
