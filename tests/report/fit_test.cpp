#include "nightbank/report/fit.h"

#include <cmath>
#include <sstream>

#include "sample_answer.h"
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "nightbank/report/text.h"

namespace nightbank {
namespace {

using testing_support::kMidnight_s;

FitInput input(const std::string& path, Dim dim, double prior, double value, double deviation) {
  FitInput made;
  made.path = path;
  made.dim = dim;
  made.prior = prior;
  made.priorDeviation = 0.2 * prior;
  made.value = value;
  made.deviation = deviation;
  made.isTold = value != prior;
  return made;
}

// Invented: 2 kWh planned, 2.6 kWh logged; 350 Wh by idle, 200 Wh by the A/C, 50 Wh left.
Fit sampleFit() {
  Fit fit;
  fit.given.title = "Loading dock office";
  fit.utcOffset_s = -5.0 * kHour_s;
  fit.inputs = {input("inverter.idle", Dim::power, 20.0, 38.4, 1.2),
                input("air_conditioners.a unit with a very long name.running.current", Dim::current,
                      8.0, 8.53, 0.06),
                input("bank.capacity", Dim::charge, 300.0, 300.0, 45.0),
                input("loads.router.power", Dim::power, 9.0, 9.0, 2.0)};
  fit.inputs[3].sameAs = "inverter.idle";
  fit.pairs = {{0, 1, -0.62}};
  FitNight night;
  night.start_s = kMidnight_s + 18.0 * kHour_s;
  night.covered_s = 2.0 * kHour_s;
  FitMinute minute{30.5, 25.1,         0.8,  std::nan(""), 25.0, 25.3,
                   0.85, std::nan(""), 30.0, 25.1,         0.81, std::nan("")};
  night.minutes.assign(120, minute);
  night.minutes[3].logged_A = std::nan("");
  night.gap = {2000.0 * kWattHour_J,
               2600.0 * kWattHour_J,
               101.5,
               {{0, 350.0 * kWattHour_J}, {1, 200.0 * kWattHour_J}},
               0.0,
               50.0 * kWattHour_J};
  night.monitor = MonitorGap{0.5, 0.42, 0.08, 0.05, 0.0, 0.04, -0.01, 0.0, 350.0, 0.4};
  fit.nights = {night};
  fit.spread = 1.2;
  fit.readings = 40;
  fit.converged = true;
  fit.next = {0.31, 0.28, 0.34, 1.1e6, 0.9e6, 1.3e6, 200};
  return fit;
}

Log sampleLog() {
  Log log;
  log.minutes.resize(120);
  log.interval_s = 60.0;
  log.repairs = {.rows = 120, .textLines = 1, .duplicates = 2, .gaps = 1, .longestGap_s = 840.0};
  log.sign = LogSign::byVoltage;
  log.wasTurned = true;
  return log;
}

std::string sampleText(const Fit& fit) {
  const Log log = sampleLog();
  const report::FitSource source{"monitor.csv", &log};
  return report::fitText(fit, {&source, 1});
}

TEST(FitReport, SaysFirstByHowMuchPlanAndLogPart) {
  const std::string text = report::fitVerdict(sampleFit());
  EXPECT_NE(text.find("DIFFERS   On these numbers the log has 2.60 kWh out of the bank where"),
            std::string::npos)
      << text;
  EXPECT_NE(text.find("600 Wh more (23 %)"), std::string::npos) << text;  // 600 of 2600
  EXPECT_NE(text.find("+550 Wh by 2 corrected inputs;\n          +50 Wh not explained"),
            std::string::npos)
      << text;
  Fit same = sampleFit();
  same.nights[0].gap.logged_J = 2040.0 * kWattHour_J;
  EXPECT_NE(report::fitVerdict(same).find("AGREES"), std::string::npos);
  same.nights[0].covered_s = 0.0;
  EXPECT_NE(report::fitVerdict(same).find("READ "), std::string::npos);
}

TEST(FitReport, TellsEveryPartAndFitsIntoEightyColumns) {
  const std::string text = sampleText(sampleFit());
  for (const char* part :
       {"inverter.idle", "38.4 W", "1.2 W", "loads.router.power: cannot be told from inverter.idle",
        "too little in the log about: bank.capacity", "correlation -0.62",
        "shows 50 % where its own amperes leave 42 %: +8.0 % in all", "as if set to 350 Ah",
        "lowest 31 % (28 % to 34 %)", "2 rows twice", "(the longest 14 min)",
        "positive is charge (by the voltage under", "Cautions"})
    EXPECT_NE(text.find(part), std::string::npos) << part << '\n' << text;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);)
    EXPECT_LE(report::displayWidth(line), report::kTextWidth) << line;
  EXPECT_EQ(text.find("nan"), std::string::npos) << text;
}

TEST(FitReport, SaysWhereTheSearchDidNotSettleOrSomethingElseGoesOn) {
  Fit fit = sampleFit();
  fit.converged = false;
  EXPECT_NE(report::fitVerdict(fit).find("stopped before it settled"), std::string::npos);
  fit.converged = true;
  fit.spread = 4.0;
  EXPECT_NE(report::fitVerdict(fit).find("Something else"), std::string::npos);
}

TEST(FitReport, JsonHoldsTheBalanceAndNoNumberThatIsNone) {
  const Log log = sampleLog();
  const report::FitSource source{"monitor.csv", &log};
  const auto json = nlohmann::json::parse(report::fitJson(sampleFit(), {&source, 1}));
  const auto& night = json["nights"][0];
  double sum_Wh = night["planned_Wh"].get<double>() + night["engine_hours_Wh"].get<double>() +
                  night["not_explained_Wh"].get<double>();
  for (const auto& part : night["inputs"])
    sum_Wh += part["moved_Wh"].get<double>();
  EXPECT_NEAR(sum_Wh, night["logged_Wh"].get<double>(), 1e-6);
  EXPECT_EQ(night["from"], "2030-05-11T18:00:00-05:00");
  EXPECT_EQ(json["inputs"][3]["same_as"], "inverter.idle");
  EXPECT_EQ(json["logs"][0]["duplicates"], 2);
}

TEST(FitReport, TheTableLeavesEmptyWhatTheLogDoesNotCover) {
  const std::string table = report::fitCsv(sampleFit());
  EXPECT_NE(table.find("\r\n2030-05-11T18:00:00-05:00,30.500,25.000,30.000,25.100,"),
            std::string::npos);
  EXPECT_NE(table.find("\r\n2030-05-11T18:03:00-05:00,,25.000,"), std::string::npos);
}

}  // namespace
}  // namespace nightbank
