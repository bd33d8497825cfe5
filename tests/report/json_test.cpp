#include "nightbank/report/json.h"

#include <limits>

#include "sample_answer.h"
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "nightbank/simulate/simulate.h"

namespace nightbank::report {
namespace {

using Json = nlohmann::json;

using testing_support::answerOf;
using testing_support::failingNight;
using testing_support::sampleNight;

Json parsed(const Answer& answer) {
  return Json::parse(report::json(answer));
}

double sum(const Json& object) {
  double total = 0.0;
  for (const auto& item : object)
    total += item.get<double>();
  return total;
}

double imbalance_Wh(const Json& energy) {
  return energy["solar"].get<double>() + energy["generator"].get<double>() +
         energy["shore"].get<double>() + energy["alternator"].get<double>() - sum(energy["loads"]) -
         sum(energy["losses"]) - energy["bank_change"].get<double>();
}

TEST(Json, KeepsEveryKeyOfTheContract) {
  const Json object = parsed(answerOf(failingNight()));
  const Json contract = Json::parse(R"({
    "title":0,
    "verdict":{"level":0,"sentence":0,"limited_by":0,"grade":0},
    "bank":{"start":0,"lowest":0,"lowest_at":0,"end":0,"floor":0,"floor_reached_at":0,
            "spent_at":0,"usable_Wh":0,"margin_Wh":0},
    "generator":{"hours":0,"starts":0,"fuel_L":0,"quiet_minutes":0,"runs":0},
    "cabin":{"highest_degC":0,"highest_occupied_degC":0,"too_warm_minutes":0,
             "compressor_hours":0,"compressor_starts":0},
    "energy_Wh":{"solar":0,"solar_curtailed":0,"generator":0,"loads":0,
                 "losses":{"inverter":0,"charger":0,"controller":0,"bank":0,"self_discharge":0,"wiring":0},
                 "unserved":0,"bank_change":0,"closure_error":0,"bank_closure_error":0},
    "starts":{"tried":0,"failed":0},"warnings":0,"cautions":0})");
  for (const auto& [key, part] : contract.items()) {
    ASSERT_TRUE(object.contains(key)) << key;
    if (!part.is_object())
      continue;
    for (const auto& [inner, value] : part.items())
      EXPECT_TRUE(object[key].contains(inner)) << key << '.' << inner;
  }
  for (const char* loss : {"inverter", "charger", "controller", "bank", "self_discharge", "wiring"})
    EXPECT_TRUE(object["energy_Wh"]["losses"].contains(loss)) << loss;
  for (const char* key : {"from", "to", "reason", "fuel_L", "energy_Wh"})
    EXPECT_TRUE(object["generator"]["runs"][0].contains(key)) << key;
  EXPECT_TRUE(object["warnings"][0].contains("about"));
  EXPECT_TRUE(object["warnings"][0].contains("text"));
  EXPECT_TRUE(object["cautions"][0].is_string());
}

TEST(Json, TellsTimesWithTheirOffsetAndNullForWhatDidNotHappen) {
  const Json failing = parsed(answerOf(failingNight()));
  EXPECT_EQ(failing["bank"]["floor_reached_at"], "2030-05-12T03:15:00-05:00");
  EXPECT_EQ(failing["bank"]["spent_at"], nullptr);
  EXPECT_EQ(failing["verdict"]["level"], "fails");
  EXPECT_EQ(failing["verdict"]["limited_by"], "floor");
  EXPECT_EQ(failing["cabin"]["highest_degC"], nullptr);
  EXPECT_EQ(failing["cabin"]["compressor_hours"], 4.5);
  EXPECT_EQ(failing["other_end"], nullptr);
  EXPECT_EQ(failing["generator"]["runs"][0]["from"], "2030-05-11T18:00:00-05:00");
}

TEST(Json, TellsWhatTheMonitorShows) {
  EXPECT_TRUE(parsed(answerOf(sampleNight()))["bank"]["monitor"].is_null());
  const Json monitor = parsed(answerOf(testing_support::watchedNight()))["bank"]["monitor"];
  EXPECT_EQ(monitor["end"], Json::parse(R"({"at": "2030-05-12T08:00:00-05:00", "shown": 0.6,
                                            "soc": 0.48})"));
  EXPECT_EQ(monitor["lowest"], monitor["end"]);
  EXPECT_EQ(monitor["farthest"], monitor["end"]);
  EXPECT_EQ(monitor["resets"], Json::parse(R"([{"at": "2030-05-11T18:30:00-05:00", "shown": 0.89,
                                                "soc": 0.92}])"));
}

TEST(Json, SaysThatStartsWereNotTested) {
  const Json object = parsed(answerOf(sampleNight()));
  EXPECT_EQ(object["starts"]["tried"], 27);
  EXPECT_EQ(object["starts"]["failed"], 0);
  EXPECT_EQ(object["starts"]["tested"], false);
}

TEST(Json, EnergiesBalanceAsPrintedAtAnySize) {
  for (const double scale : {1e-4, 1.0 / 3.0, 1.0, 271.8281828, 1e6}) {
    Night night = sampleNight();
    EnergyOutcome& energy = night.outcome.energy_J;
    for (double EnergyOutcome::*member :
         {&EnergyOutcome::generator, &EnergyOutcome::inverterLoss, &EnergyOutcome::chargerLoss,
          &EnergyOutcome::bankLoss, &EnergyOutcome::wiringLoss, &EnergyOutcome::bankChange})
      energy.*member *= scale / 7.0;
    night.recorder.airConditioners[0].energy_J *= scale / 7.0;
    night.recorder.loads_J[0] *= scale / 7.0;
    const Json printed = parsed(answerOf(night))["energy_Wh"];
    const double throughput_Wh =
        printed["generator"].get<double>() - printed["bank_change"].get<double>();
    EXPECT_LT(std::abs(imbalance_Wh(printed)), 1e-6 * throughput_Wh) << scale;
  }
}

TEST(Json, HoursAddUpToTheNight) {
  const Json object = parsed(answerOf(sampleNight()));
  double generator_Wh = 0.0, minutes = 0.0;
  for (const Json& hour : object["hours"]) {
    generator_Wh += hour["generator_Wh"].get<double>();
    minutes += hour["minutes"].get<double>();
  }
  EXPECT_EQ(object["hours"].size(), 14u);
  EXPECT_NEAR(generator_Wh, object["energy_Wh"]["generator"].get<double>(), 1e-3);
  EXPECT_NEAR(minutes, 840.0, 1e-6);
}

TEST(Json, AnUnknownDutyHasItsOtherEnd) {
  Answer answer = answerOf(failingNight());
  answer.restingEnd = sampleNight();
  const Json object = parsed(answer);
  EXPECT_EQ(object["duty_known"], false);
  EXPECT_EQ(object["other_end"]["compressor_rests"], 0.6);
  EXPECT_EQ(object["other_end"]["verdict"]["level"], "holds");
  EXPECT_EQ(object["other_end"]["bank"]["lowest"], 0.48);
  EXPECT_TRUE(
      object["other_end"]["verdict"]["sentence"].get<std::string>().starts_with("The bank"));
}

TEST(Json, NamesTakenTwiceHideNoEnergy) {
  Night night = sampleNight();
  night.plant.loads[0].name = "dock";
  const Json object = parsed(answerOf(night));
  EXPECT_EQ(object["energy_Wh"]["loads"].size(), 2u);
  EXPECT_NEAR(imbalance_Wh(object["energy_Wh"]), 0.0, 1e-6);
}

TEST(Json, WarningsOfTheReaderComeFirst) {
  const std::vector<Warning> ofReader{{"loads.scanner", "it hums"}};
  const Json object = Json::parse(report::json(answerOf(sampleNight()), ofReader));
  EXPECT_EQ(object["warnings"][0]["about"], "loads.scanner");
  EXPECT_GT(object["warnings"].size(), 1u);
}

TEST(Json, RefusesToWriteWhatIsNotFinite) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const double infinity = std::numeric_limits<double>::infinity();
  Answer answer = answerOf(sampleNight());
  answer.night.outcome.energy_J.solar = nan;
  EXPECT_THROW(report::json(answer), InternalError);
  answer = answerOf(sampleNight());
  answer.night.outcome.bank.margin_J = infinity;
  EXPECT_THROW(report::json(answer), InternalError);
  answer = answerOf(sampleNight());
  answer.night.recorder.samples[3].bankVoltage_V = nan;
  EXPECT_THROW(report::json(answer), InternalError);
}

TEST(Json, AWildTitleStaysText) {
  Answer answer = answerOf(sampleNight());
  answer.night.plant.title = "quote \" backslash \\ Zürich \xff";
  const Json object = parsed(answer);
  EXPECT_EQ(object["title"], "quote \" backslash \\ Zürich \xEF\xBF\xBD");
}

}  // namespace
}  // namespace nightbank::report
