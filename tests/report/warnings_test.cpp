#include "nightbank/report/warnings.h"

#include <algorithm>

#include "sample_answer.h"
#include <gtest/gtest.h>

#include "nightbank/report/cautions.h"

namespace nightbank::report {
namespace {

using testing_support::answerOf;
using testing_support::guessOf;
using testing_support::sampleNight;

// The text of the first warning about `about` that holds `part`; "" where there is none.
std::string found(const Answer& answer, std::string_view about, std::string_view part) {
  for (const Warning& warning : warnings(answer)) {
    if (warning.about == about && warning.text.find(part) != std::string::npos)
      return warning.text;
  }
  return "";
}

TEST(Warnings, AnIdleDrawOverATenthOfTheUsableEnergy) {
  Answer answer = answerOf(sampleNight());
  InverterOutcome& inverter = answer.night.outcome.inverter;
  inverter.on_s = 14.0 * kHour_s;  // 20 W of 4.5 kWh: 6 %
  EXPECT_EQ(found(answer, "inverter.idle", ""), "");
  answer.night.plant.inverter.idle_W = 40.0;
  EXPECT_EQ(found(answer, "inverter.idle", ""),
            "The inverter's idle draw alone takes 0.56 kWh over the period, 12 % of the usable "
            "energy. Switch it off in the hours in which nothing needs it.");
  inverter.searching_s = 5.0 * kHour_s;  // 9 h at 40 W and 5 h at nothing: 8 %
  EXPECT_EQ(found(answer, "inverter.idle", ""), "");
  answer.night.plant.inverter.searchDraw_W = 30.0;
  EXPECT_NE(found(answer, "inverter.idle", "0.51 kWh"), "");
}

TEST(Warnings, AGeneratorNearItsDeratedLimit) {
  Answer answer = answerOf(sampleNight());
  EXPECT_EQ(found(answer, "generator.continuous", ""), "");
  answer.night.outcome.generator.highestShare = 0.94;
  EXPECT_NE(found(answer, "generator.continuous", "94 %"), "");
  answer.resolved.generator->derating.emplace();
  EXPECT_NE(found(answer, "generator.continuous", "The derating is a typical one"), "");
}

TEST(Warnings, AFloorThatAgesLead) {
  Answer answer = answerOf(sampleNight());
  EXPECT_NE(found(answer, "bank.max_depth_of_discharge", "ages a lead bank"), "");
  answer.night.plant.floorSoc = 0.5;
  EXPECT_EQ(found(answer, "bank.max_depth_of_discharge", ""), "");
  answer.resolved.bank.chemistry.value = scenario::Chemistry::lfp;
  answer.night.plant.floorSoc = 0.2;
  EXPECT_EQ(found(answer, "bank.max_depth_of_discharge", ""), "");
  answer.night.plant.floorSoc = 0.05;
  EXPECT_NE(found(answer, "bank.max_depth_of_discharge", "protection"), "");
}

TEST(Warnings, AnEngineWhereSleepIsNotKnown) {
  Answer answer = answerOf(sampleNight());
  EXPECT_EQ(found(answer, "occupants.asleep", ""), "");
  answer.resolved.occupants.reset();
  EXPECT_NE(found(answer, "occupants.asleep", ""), "");
  answer.night.outcome.generator.engine_s = 0.0;
  EXPECT_EQ(found(answer, "occupants.asleep", ""), "");
}

TEST(Warnings, ALeadBankThatNeverGetsFullInDays) {
  Answer answer = answerOf(sampleNight());
  EXPECT_EQ(found(answer, "bank", "never gets full"), "");
  answer.night.plant.span_s = 2.0 * kDay_s;
  EXPECT_NE(found(answer, "bank", "never gets full"), "");
  answer.night.recorder.events.push_back({10.0, EventKind::bankFull, 0, 1.0});
  EXPECT_EQ(found(answer, "bank", "never gets full"), "");
}

TEST(Warnings, LithiumThatIsChargedInTheFrost) {
  Answer answer = answerOf(sampleNight());
  answer.resolved.bank.chemistry.value = scenario::Chemistry::lfp;
  answer.resolved.weather.emplace().designDay.emplace();
  answer.resolved.weather->designDay->low_degC = {-4.0, scenario::Grade::nameplate, true};
  answer.resolved.weather->designDay->high_degC = {3.0, scenario::Grade::nameplate, true};
  EXPECT_EQ(found(answer, "bank.chemistry", ""), "");
  answer.night.recorder.samples[0].bankCharge_As = -100.0;
  answer.night.recorder.samples[0].outdoor_degC = -3.0;
  EXPECT_NE(found(answer, "bank.chemistry", "freezes"), "");
}

TEST(Warnings, ManyTypicalValues) {
  Answer answer = answerOf(sampleNight());
  EXPECT_EQ(found(answer, "typical values", ""), "");
  answer.guesses.assign(9, guessOf("x", "1", "2", Level::holds, 0.0));
  answer.allBadEnds = Level::marginal;
  EXPECT_NE(found(answer, "typical values", "9 values are typical ones"), "");
}

TEST(Warnings, ALogThatDidNotFitAndABalanceThatIsOff) {
  Answer answer = answerOf(sampleNight());
  EXPECT_EQ(found(answer, "model", "did not fit"), "");
  EXPECT_EQ(found(answer, "model", "do not balance"), "");
  answer.night.recorder.dropped = 3;
  answer.night.outcome.energy_J.bankClosureError = -2e-5;
  EXPECT_NE(found(answer, "model", "3 entries of the log did not fit"), "");
  EXPECT_NE(found(answer, "model", "do not balance"), "");
}

/// 88, 93 and 90 % at 10, 50 and 100 % of 2500 W mean a constant of 0.012468 * 2500 = 31.2 W,
/// worked by hand from the three equations.
TEST(Warnings, SeeAnIdleDrawThatTheEfficiencyPointsContradict) {
  Answer answer = answerOf(sampleNight());
  scenario::Inverter inverter;
  inverter.continuous_W = {2500.0, scenario::Grade::nameplate, true};
  inverter.efficiency = {{0.1, 0.88}, {0.5, 0.93}, {1.0, 0.90}};
  inverter.idle_W = {10.0, scenario::Grade::measured, true};
  answer.resolved.inverter = inverter;
  EXPECT_NE(found(answer, "inverter.idle", "would mean 31.2 W"), "");
  answer.resolved.inverter->idle_W.value = 22.5;
  EXPECT_EQ(found(answer, "inverter.idle", "would mean"), "");
}

TEST(Warnings, TellOnceHowLongALawWasUsedOutsideItsRange) {
  Answer answer = answerOf(sampleNight());
  double& outside_s =
      answer.night.outcome.outside_s[static_cast<std::size_t>(ModelLimit::inverterLoad)];
  outside_s = 0.4;  // an edge that was only touched
  EXPECT_EQ(found(answer, "inverter.continuous", ""), "");
  outside_s = 20.0 * kMinute_s;
  EXPECT_NE(found(answer, "inverter.continuous", "For 20 min the inverter gave over"), "");
}

// US Army TM 5-4210-230-14&P-1 table 2 (seen): at 25 % of charge acid of 1.155 (80 degF) freezes at
// -15.0 degC. There, 75 degF colder, it shows 0.030 more.
TEST(Warnings, AFloodedBankThatFreezes) {
  Answer answer = answerOf(sampleNight());
  answer.resolved.bank.chemistry.value = scenario::Chemistry::flooded;
  answer.night.outcome.bank.lowestSoc = 0.25;
  answer.resolved.bank.temperature_degC.value = -14.9;
  EXPECT_EQ(found(answer, "bank.temperature", "freezes"), "");
  answer.resolved.bank.temperature_degC.value = -15.1;
  EXPECT_NE(found(answer, "bank.temperature", "At 25 % of charge the acid freezes at -15 degC"),
            "");
  EXPECT_NE(found(answer, "bank.temperature", "a hydrometer shows 1.185 there"), "");
  answer.resolved.bank.chemistry.value = scenario::Chemistry::agm;
  EXPECT_EQ(found(answer, "bank.temperature", "freezes"), "");
}

// What is said of the model must be what it does.
TEST(Warnings, TheModelsLimitsAreThoseOfThisVersion) {
  Answer answer = answerOf(sampleNight());
  answer.resolved.bank.temperature_degC.value = 31.0;
  EXPECT_NE(found(answer, "model", "one temperature for its charge and its voltages, 31 degC"), "");
  EXPECT_EQ(found(answer, "model", "left out"), "");
  EXPECT_EQ(found(answer, "model", "25 degC"), "");
}

// 1800 W and 182 W of loss out of 21.6 V: 91.8 A, times 1.25 is 114.7 A.
TEST(Warnings, AFuseBelowTheContinuousCurrent) {
  Answer answer = answerOf(sampleNight());
  EXPECT_EQ(found(answer, "inverter.cable.fuse", ""), "");
  answer.night.plant.fuse_A = 110.0;
  EXPECT_NE(found(answer, "inverter.cable.fuse", "below 1.25 times the 92 A"), "");
  answer.night.plant.fuse_A = 125.0;
  EXPECT_EQ(found(answer, "inverter.cable.fuse", ""), "");
}

// Two panels of 45 V open at -0.3 %/K; the air goes down to -15 degC: 90 V x 1.12 = 100.8 V.
TEST(Warnings, AStringThatIsTooHighInTheCold) {
  Answer answer = answerOf(sampleNight());
  scenario::Array array;
  array.name = "roof";
  array.inSeries.value = 2.0;
  array.openCircuit_V.value = 45.0;
  array.openCircuitCoefficient_1_K.value = -0.003;
  array.voltageLimit_V.value = 100.0;
  answer.resolved.solar.push_back(array);
  EXPECT_EQ(found(answer, "solar.roof.voltage_limit", ""), "");
  answer.night.plant.outdoor_degC[40] = -15.0;
  EXPECT_NE(found(answer, "solar.roof.voltage_limit", "reaches 101 V"), "");
}

TEST(Warnings, TheModelNamesWhatItLeavesOut) {
  Answer answer = answerOf(sampleNight());
  EXPECT_NE(found(answer, "model", "Whether 'dock' starts was not tested"), "");
  EXPECT_NE(found(answer, "model", "One law says for all lead batteries"), "");
  EXPECT_EQ(found(answer, "model", "Loads that cycle"), "");
  answer.resolved.loads[0].duty = {0.4, scenario::Grade::nameplate, true};
  EXPECT_NE(found(answer, "model", "Loads that cycle"), "");
  answer.resolved.bank.chemistry.value = scenario::Chemistry::lfp;
  EXPECT_EQ(found(answer, "model", "One law says for all lead batteries"), "");
}

TEST(Cautions, StandInTheirOrder) {
  Answer answer = answerOf(sampleNight());
  const auto firstWords = [&] {
    std::vector<std::string> words;
    for (const std::string& caution : cautions(answer))
      words.push_back(caution.substr(0, caution.find(':')));
    return words;
  };
  EXPECT_EQ(firstWords(), (std::vector<std::string>{"Carbon monoxide", "Shock", "Fuel", "Heat",
                                                    "Battery", "Fire, noise, site", "This plan"}));
  answer.resolved.generator.reset();
  EXPECT_EQ(firstWords(), (std::vector<std::string>{"Carbon monoxide", "Shock", "Heat", "Battery",
                                                    "Fire, noise, site", "This plan"}));
}

TEST(Cautions, SpeakOfTheBatteryThatIsThere) {
  Answer answer = answerOf(sampleNight());
  EXPECT_NE(cautions(answer)[4].find("hydrogen"), std::string::npos);
  answer.resolved.bank.chemistry.value = scenario::Chemistry::lfp;
  EXPECT_NE(cautions(answer)[4].find("0 to 40 degC"), std::string::npos);
}

}  // namespace
}  // namespace nightbank::report
