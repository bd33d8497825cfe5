#include "nightbank/report/tables.h"

#include "sample_answer.h"
#include <gtest/gtest.h>

#include "nightbank/report/fuel.h"

namespace nightbank::report {
namespace {

using testing_support::answerOf;
using testing_support::sampleNight;

TEST(Tables, EnergyHasSourcesUsesAndLossesWithTheirShares) {
  EXPECT_EQ(energyTable(sampleNight()),
            "Energy\n"
            "                               Wh   share\n"
            "  from     generator         1000  17.0 %\n"
            "           bank, drawn down  4890  83.0 %\n"
            "  to       dock (A/C)        4050  68.8 %\n"
            "           scanner           1120  19.0 %\n"
            "  lost in  inverter           500   8.5 %\n"
            "           charger             60   1.0 %\n"
            "           inside the bank    120   2.0 %\n"
            "           wiring              40   0.7 %\n");
}

TEST(Tables, ABankThatGainedIsAUse) {
  Night night = sampleNight();
  EnergyOutcome& energy = night.outcome.energy_J;
  energy = {};
  energy.solar = 2000.0 * kWattHour_J;
  energy.bankChange = 1500.0 * kWattHour_J;
  energy.controllerLoss = 80.0 * kWattHour_J;
  energy.solarCurtailed = 300.0 * kWattHour_J;
  night.recorder.airConditioners[0].energy_J = 0.0;
  night.recorder.loads_J[0] = 420.0 * kWattHour_J;
  EXPECT_EQ(energyTable(night),
            "Energy\n"
            "                                         Wh    share\n"
            "  from       solar, at the array       2000  100.0 %\n"
            "  to         scanner                    420   21.0 %\n"
            "             bank, charged up          1500   75.0 %\n"
            "  lost in    solar controller            80    4.0 %\n"
            "  beside it  solar that was not taken   300\n");
}

TEST(Tables, TheMonitorStandsBesideTheTruth) {
  EXPECT_EQ(monitorTable(sampleNight()), "");
  Night night = testing_support::watchedNight();
  EXPECT_EQ(monitorTable(night),
            "The battery monitor, as it is set\n"
            "                       shown  true     at\n"
            "  at the lowest point   60 %  48 %  08:00\n"
            "  farthest apart        60 %  48 %  08:00\n"
            "  goes to 100 %         89 %  92 %  18:30\n"
            "  at the end            60 %  48 %  08:00\n");
  night.monitor->resets.assign(8, night.monitor->resets.front());
  EXPECT_TRUE(monitorTable(night).ends_with("  and goes to 100 % 2 times more\n"));
}

TEST(Tables, HoursTellClockWeatherDutyBankAndEngine) {
  const std::string text = hourTable(sampleNight(), {}, true);
  EXPECT_NE(text.find("from    degC  duty  A/C W  load  sun  bank A  volts  SoC  engine\n"
                      "11 May\n"
                      "18:00     33     -      0    80    0     0.0   24.9  100  run 57+3\n"
                      "19:00     32     -      0    80    0    12.0   24.9   96  off\n"),
            std::string::npos)
      << text;
  EXPECT_NE(text.find("\n12 May\n00:00     28    50    450    80    0    12.0   24.4   76  off   "
                      "    quiet\n"),
            std::string::npos)
      << text;
}

TEST(Tables, TypicalWeatherIsNamedAsSuch) {
  EXPECT_NE(hourTable(sampleNight(), {}, false).find("no weather was given"), std::string::npos);
  EXPECT_EQ(hourTable(sampleNight(), {}, true).find("no weather was given"), std::string::npos);
}

TEST(Tables, USUnitsTurnTheTemperatureColumn) {
  const std::string text = hourTable(sampleNight(), {UnitSystem::us, false, false}, true);
  EXPECT_NE(text.find("from    degF"), std::string::npos);
  EXPECT_NE(text.find("18:00     91"), std::string::npos) << text;  // 33 degC = 91.4 degF
}

TEST(Tables, LongPeriodsTakeLongerRows) {
  Night night = sampleNight();
  const auto rowsOver = [&](double days) {
    night.plant.span_s = days * kDay_s;
    night.recorder.samples.clear();
    for (int i = 0; i < static_cast<int>(days * 24); ++i) {
      Sample sample;
      sample.start_s = i * kHour_s;
      sample.span_s = kHour_s;
      night.recorder.samples.push_back(sample);
    }
    return hourTable(night, {}, true);
  };
  EXPECT_TRUE(rowsOver(2.0).starts_with("By the hour"));
  EXPECT_TRUE(rowsOver(7.0).starts_with("By six hours"));
  const std::string days = rowsOver(40.0);
  EXPECT_TRUE(days.starts_with("By the day"));
  EXPECT_NE(days.find("\n12 May "), std::string::npos) << days;
  EXPECT_EQ(days.find("\n00:00"), std::string::npos);
}

TEST(Tables, GeneratorTellsRunsReasonsAndFuel) {
  const Night night = sampleNight();
  EXPECT_EQ(generatorTable(answerOf(night), night, UnitSystem::metric),
            "Generator\n"
            "  1 start, 1 h in all, 0.6 L of fuel; at most 62 % of what it is worth in that\n"
            "  heat and height. From a full tank of 5 L: no refuelling.\n"
            "  engine on       min   kWh     L  started  stopped\n"
            "  18:00 to 19:00   60  1.00  0.60  by hand  by hand\n");
}

TEST(Tables, RefuellingIsCountedAndTheEngineCoolsFirst) {
  Night night = sampleNight();
  night.outcome.generator.fuel_m3 = 11.0 * kLitre_m3;
  night.outcome.generator.counts = {.startAttempts = 4, .refuels = 2, .ranDry = 1};
  Answer answer = answerOf(night);
  answer.resolved.generator->fuel.emplace();
  answer.resolved.generator->fuel->price_per_m3 = {1900.0, scenario::Grade::nameplate, true};
  answer.resolved.generator->oilEvery_s.value = 50.0 * kHour_s;
  answer.resolved.prices.emplace().currency = "EUR";
  const std::string text = generatorTable(answer, night, UnitSystem::metric);
  EXPECT_NE(text.find("2 refuellings; stop the engine and\n  let it cool"), std::string::npos)
      << text;
  for (const char* part : {"20.90 EUR", "runs dry once", "Cranked 4 times", "2 % of the 50 h"})
    EXPECT_NE(text.find(part), std::string::npos) << part << text;
}

TEST(Tables, AScenarioWithoutAGeneratorHasNoSuchTable) {
  Night night = sampleNight();
  night.plant.hasGenerator = false;
  EXPECT_EQ(generatorTable(answerOf(night), night, UnitSystem::metric), "");
}

TEST(Tables, EachCompressorHasHoursAndStarts) {
  EXPECT_EQ(compressorTable(sampleNight()),
            "Air conditioners\n"
            "        in its hours  compressor on  share  starts\n"
            "  dock           9 h     4 h 30 min   50 %      27\n");
}

TEST(Tables, EventsAreListedInOrderAndNotWithoutEnd) {
  Night night = sampleNight();
  night.recorder.events = {{9.25 * kHour_s, EventKind::floorReached, 0, 0.4},
                           {9.5 * kHour_s, EventKind::sourceTripped, 1, 0.39}};
  EXPECT_EQ(eventTable(night),
            "What happens\n"
            "  at     at SoC\n"
            "  03:15    40 %  bank down to its floor\n"
            "  03:30    39 %  generator trips on overload\n");
  night.recorder.events.assign(100, {0.0, EventKind::sourceTransferred, 0, 1.0});
  EXPECT_NE(eventTable(night).find("  ... and 60 more; --json has them all\n"), std::string::npos);
}

}  // namespace
}  // namespace nightbank::report
