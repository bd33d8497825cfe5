#include <cmath>

#include "fit_logs.h"
#include <gtest/gtest.h>

#include "nightbank/simulate/as_logged.h"
#include "nightbank/study/fit.h"

/// What of a night stands in the plan's place as it was logged: outdoor temperature, the engine's
/// hours, how a night began. The logs' inputs are chosen here; no figure comes from the fit.
namespace nightbank {
namespace {

Night ranAsLogged(const std::string& yaml, const AsLogged& logged) {
  Night night{derive(scenario::resolve(scenarioOf(yaml)), nullptr, logged), {}, {}, {}, {}, {}};
  night.recorder = makeRecorder(night.plant);
  night.outcome = simulate(night.plant, night.recorder);
  return night;
}

double drawnOfEnds_J(const Night& night) {
  double sum_J = 0.0;
  for (const Sample& sample : night.recorder.samples)
    sum_J += sample.bankCharge_As * sample.bankVoltage_V;
  return sum_J;
}

std::string cabinAt(const std::string& high) {
  return "title: Cabin\nmains: 120 V\n"
         "site: {latitude: 36.2, longitude: -98.4, elevation: 390 m, utc_offset: -5 h}\n"
         "period: {from: 2031-06-24 15:00, to: 2031-06-24 20:00, step: 1 min}\n"
         "weather: {design_day: {high: " +
         high +
         ", low: 21 degC, dew_point: 15 degC, cloud: 10 %}}\n"
         "cabin: {length: 6 m, width: 2.2 m, height: 2 m, heat_loss: 150 W/K, start_at: 26 degC}\n"
         "air_conditioners:\n"
         "  - {name: roof, cooling: 13500 BTU/h, running: {power: 1400 W measured, outdoor: 33 "
         "degC "
         "measured},\n     fan: {current: 2.2 A measured}, thermostat: 24 degC}\n"
         "bank: {chemistry: lfp, voltage: 25.6 V, capacity: 900 Ah, start_at: 96 % measured}\n"
         "inverter: {continuous: 2400 W, efficiency: 90 % measured, idle: 21 W measured}\n";
}

TEST(FitAsLogged, TheLoggedOutdoorTemperatureIsTheNightsWeather) {
  const std::string plan = cabinAt("31 degC"), truth = cabinAt("38 degC");
  const Night warm = ranOf(truth);
  const Fit fit =
      fitOf(plan, {madeLog(warm, {.current_A = 0.3, .voltage_V = 0.02, .withOutdoor = true})});
  const FitNight& night = fit.nights.at(0);
  EXPECT_DOUBLE_EQ(night.outdoor_s, 5.0 * kHour_s);
  // The hotter day is all that the log has otherwise: run apart, both ends of the gap.
  const double hotter_J = drawnOfEnds_J(warm) - drawnOfEnds_J(ranOf(plan));
  EXPECT_GT(hotter_J, 0.1 * drawnOfEnds_J(warm));
  EXPECT_NEAR(night.gap.weather_J, hotter_J, 0.1 * hotter_J);
  EXPECT_LT(std::abs(night.gap.left_J), 0.03 * night.gap.logged_J);
  const FitInput& heatLoss = inputOf(fit, "cabin.heat_loss");
  EXPECT_LT(std::abs(heatLoss.value - 150.0), 2.0 * heatLoss.deviation);
}

TEST(FitAsLogged, BeyondItsReadingsTheWeatherIsMovedByAsMuch) {
  // Typed by hand: 4 K above the plan's 30 degC at 22:00, 1 K below it at 02:00.
  const std::string plan =
      "title: Notes\nperiod: {from: 2031-07-12 20:00, to: 2031-07-13 04:00, step: 1 min}\n"
      "weather: {constant: {temperature: 30 degC}}\n"
      "bank: {chemistry: lfp, voltage: 12.8 V, capacity: 200 Ah}\n"
      "loads: [{name: board, fed_from: battery, power: 30 W}]\n";
  const Fit fit = fitOf(plan, {"20:30 soc 90 %\n22:00 outdoor 34 degC\n02:00 outdoor 29 degC\n"});
  const FitNight& night = fit.nights.at(0);
  EXPECT_TRUE(night.isOutdoorLogged);
  EXPECT_EQ(night.outdoor_s, 0.0);
  // Moved by 4 K until 22:00, by 1.5 K halfway at midnight, by -1 K from 02:00 on.
  const auto outdoor_degC = [&](std::size_t minute) {
    return night.minutes.at(minute).fittedOutdoor_degC;
  };
  EXPECT_NEAR(outdoor_degC(10), 34.0, 1e-6);
  EXPECT_NEAR(outdoor_degC(120), 34.0, 0.02);
  EXPECT_NEAR(outdoor_degC(240), 31.5, 0.02);
  EXPECT_NEAR(outdoor_degC(470), 29.0, 1e-6);
}

std::string weekend(const std::string& rule) {
  return "title: Weekend\nmains: 120 V\n"
         "period: {from: 2031-08-05 18:00, to: 2031-08-07 18:00, step: 1 min}\n"
         "loads: [{name: pump, power: 150 W measured}]\n"
         "bank: {chemistry: lfp, voltage: 25.6 V, capacity: 500 Ah, start_at: 95 % measured}\n"
         "inverter: {continuous: 1500 W, efficiency: 91 % measured, idle: 20 W measured}\n"
         "charger: {output_current: 80 A measured}\n"
         "generator: {continuous: 3000 W, " +
         rule + "}\n";
}

TEST(FitAsLogged, EngineHoursOfSeveralDaysGoByTheDate) {
  // By hand at 20:00 of the first evening and at 09:00 of the last morning, at no clock twice.
  const std::string never = weekend("rule: {start_below: 6 %, stop_above: 20 %}");
  AsLogged logged;
  logged.engine =
      std::vector<Interval>{{2.0 * kHour_s, 3.5 * kHour_s}, {39.0 * kHour_s, 42.0 * kHour_s}};
  scenario::Scenario byHand = scenarioOf(never);
  byHand.generator->rule.reset();
  byHand.generator->run.emplace();
  Night truth{derive(scenario::resolve(byHand), nullptr, logged), {}, {}, {}, {}, {}};
  truth.recorder = makeRecorder(truth.plant);
  truth.outcome = simulate(truth.plant, truth.recorder);
  EXPECT_EQ(truth.outcome.generator.starts, 2);
  const Fit fit = fitOf(never, {madeLog(truth, {.current_A = 0.3, .voltage_V = 0.01})});
  const Gap& gap = fit.nights.at(0).gap;
  const double charged_J = drawnOfEnds_J(truth) - drawnOfEnds_J(ranOf(never));
  EXPECT_LT(charged_J, -3000.0 * kWattHour_J);
  EXPECT_NEAR(gap.engine_J, charged_J, 0.03 * std::abs(charged_J));
  EXPECT_LT(std::abs(gap.left_J), 0.03 * std::abs(charged_J));
}

std::string shortNight(const std::string& duty, const std::string& start) {
  return "title: Duty\nmains: 120 V\n"
         "period: {from: 2031-08-05 20:00, to: 2031-08-06 04:00, step: 1 min}\n"
         "air_conditioners:\n"
         "  - {name: roof, running: {current: 10 A measured}, fan: {current: 1.7 A measured}" +
         duty + "}\nbank: {chemistry: lfp, voltage: 25.6 V, capacity: 600 Ah measured, start_at: " +
         start +
         "}\ninverter: {continuous: 2200 W, efficiency: 91 % measured, idle: 24 W measured}\n";
}

TEST(FitAsLogged, ADutyThatNobodyGaveIsToldByTheLog) {
  const std::string plan = shortNight("", "95 % measured");
  const std::string truth = shortNight(", duty: 71 %", "95 % measured");
  const Fit fit = fitOf(plan, {madeLog(truth, {.current_A = 0.4, .voltage_V = 0.02})});
  ASSERT_EQ(fit.freeDuties, std::vector<std::string>{"air_conditioners.roof.duty"});
  const FitInput& duty = inputOf(fit, "air_conditioners.roof.duty");
  EXPECT_TRUE(duty.isTold);
  EXPECT_FALSE(duty.isGiven);
  EXPECT_DOUBLE_EQ(duty.prior, 0.5);
  EXPECT_NEAR(duty.priorDeviation, 0.2887, 1e-4);  // of an even draw: 1 / sqrt(12)
  EXPECT_NEAR(duty.value, 0.71, 3.0 * duty.deviation);
  EXPECT_LT(duty.deviation, 0.03);
  EXPECT_LT(std::abs(fit.nights.at(0).gap.left_J), 0.03 * fit.nights.at(0).gap.logged_J);
}

TEST(FitAsLogged, SeveralNightsTellHowOneBegins) {
  const auto log = [](const std::string& start, double days) {
    return madeLog(shortNight(", duty: 60 %", start),
                   {.seed = 4, .current_A = 0.3, .voltage_V = 0.01, .days = days});
  };
  const Fit fit = fitOf(shortNight(", duty: 60 %", "95 %"), {log("92 %", 0.0), log("86 %", 1.0)});
  ASSERT_EQ(fit.nights.size(), 2U);
  const auto start = std::ranges::find(fit.corrections, "bank.start_at", &FitCorrection::path);
  ASSERT_NE(start, fit.corrections.end());
  // 92 and 86 %: their mean is 89, their deviation 6 / sqrt(2) = 4.24 points, more with the errors.
  EXPECT_NEAR(start->value, 0.89, 0.02);
  EXPECT_GT(start->deviation, 0.035);
  EXPECT_LT(start->deviation, 0.08);
  EXPECT_EQ(std::ranges::count(fit.corrections, "bank.start_at", &FitCorrection::path), 1);
  EXPECT_DOUBLE_EQ(fit.corrected.bank.startAt.value, start->value);
}

/// By the evening's fall from 34 to 24 degC.
std::string hotEvening(const std::string& running) {
  return "title: Hot evening\nmains: 120 V\n"
         "site: {latitude: 36.2, longitude: -98.4, utc_offset: -5 h}\n"
         "period: {from: 2031-07-12 17:00, to: 2031-07-13 05:00, step: 1 min}\n"
         "weather: {design_day: {high: 36 degC, low: 22 degC}}\n"
         "air_conditioners:\n"
         "  - {name: roof, duty: 60 % measured, fan: {power: 60 W measured}, running: {" +
         running +
         "}}\n"
         "bank: {chemistry: lfp, voltage: 25.6 V, capacity: 800 Ah measured, start_at: 95 % "
         "measured}\n"
         "inverter: {continuous: 2000 W, efficiency: 90 % measured, idle: 20 W measured}\n";
}

TEST(FitAsLogged, TellsHowWattsFollowTheHeatAndWhereTheyHold) {
  // 900 W at 30 degC, 1.8 % of that more per kelvin; the plan knows of no slope.
  const std::string truth = hotEvening("power: 900 W, outdoor: 30 degC, power_per_kelvin: 1.8 %");
  const std::string log =
      madeLog(truth, {.current_A = 0.3, .voltage_V = 0.02, .withOutdoor = true});
  const Fit fit = fitOf(hotEvening("power: 950 W"), {log});
  const FitInput& slope = inputOf(fit, "air_conditioners.roof.running.power_per_kelvin");
  const FitInput& power = inputOf(fit, "air_conditioners.roof.running.power");
  EXPECT_TRUE(slope.isTold && power.isTold);
  EXPECT_FALSE(slope.isGiven);
  EXPECT_EQ(slope.prior, 0.0);
  // The watts hold at the outdoor temperature that is written beside them; there the truth has
  // 900 W (1 + 0.018 (T - 30)), and as a share of these its slope is a little another.
  const auto place = std::ranges::find(fit.corrections, "air_conditioners.roof.running.outdoor",
                                       &FitCorrection::path);
  ASSERT_NE(place, fit.corrections.end());
  EXPECT_EQ(place->deviation, 0.0);
  const double share = 1.0 + 0.018 * (place->value - 30.0);
  EXPECT_LT(slope.deviation, 0.0015);
  EXPECT_NEAR(slope.value, 0.018 / share, 3.0 * slope.deviation);
  EXPECT_NEAR(power.value, 900.0 * share, 3.0 * power.deviation);
  EXPECT_EQ(fit.corrected.airConditioners[0].running.powerPerKelvin.value, slope.value);
  EXPECT_EQ(fit.corrected.airConditioners[0].running.outdoor_degC.value, place->value);
  EXPECT_LT(std::abs(fit.nights.at(0).gap.left_J), 0.01 * fit.nights.at(0).gap.logged_J);
}

TEST(FitAsLogged, WithoutALoggedOutdoorTemperatureNoSlopeIsLookedFor) {
  const std::string truth = hotEvening("power: 900 W, outdoor: 30 degC, power_per_kelvin: 1.8 %");
  const Fit fit =
      fitOf(hotEvening("power: 950 W"), {madeLog(truth, {.current_A = 0.3, .voltage_V = 0.02})});
  for (const FitInput& input : fit.inputs)
    EXPECT_EQ(input.path.find("power_per_kelvin"), std::string::npos);
  // A given one is looked at like any input.
  const Fit given = fitOf(hotEvening("power: 950 W, power_per_kelvin: 3 %"),
                          {madeLog(truth, {.current_A = 0.3, .voltage_V = 0.02})});
  const FitInput& slope = inputOf(given, "air_conditioners.roof.running.power_per_kelvin");
  EXPECT_DOUBLE_EQ(slope.priorDeviation, 0.006);
  EXPECT_TRUE(slope.isTold);
  EXPECT_LT(slope.value, 0.026);
}

TEST(FitAsLogged, RefusesALogOfAnotherBankAndSaysWhy) {
  const std::string plan = shortNight(", duty: 60 %", "95 %");
  const std::string log = madeLog(plan, {.current_A = 0.3, .voltage_V = 0.01});
  const auto problemOf = [&](double perVolt, double perAmpere) {
    Log changed = logOfText(log, plan);
    for (LogMinute& minute : changed.minutes) {
      minute.sum[static_cast<std::size_t>(LogChannel::bank_V)] *= perVolt;
      minute.sum[static_cast<std::size_t>(LogChannel::bank_A)] *= perAmpere;
    }
    const auto fitted = fitLogs(scenarioOf(plan), nullptr, {changed}, 1);
    const auto* problems = std::get_if<std::vector<scenario::Problem>>(&fitted);
    return problems == nullptr ? "" : problems->front().message;
  };
  EXPECT_EQ(problemOf(1.0, 1.0), "");
  EXPECT_NE(problemOf(0.5, 1.0).find("volts in another unit"), std::string::npos);
  EXPECT_NE(problemOf(1.0, 1000.0).find("amperes or watts in another unit"), std::string::npos);
}

TEST(AsLogged, ThePlantHasWhatWasLogged) {
  const std::string yaml = weekend("rule: {start_below: 6 %, stop_above: 20 %}");
  const Plant plan = derive(scenario::resolve(scenarioOf(yaml)));
  AsLogged logged;
  logged.outdoor_degC = plan.outdoor_degC;
  for (std::size_t i = 0; i < logged.outdoor_degC.size(); ++i)
    logged.outdoor_degC[i] = 10.0 + 0.01 * static_cast<double>(i);
  const Night night = ranAsLogged(yaml, logged);
  ASSERT_EQ(night.plant.outdoor_degC.size(), plan.outdoor_degC.size());
  EXPECT_DOUBLE_EQ(night.plant.outdoor_degC[120], 11.2);
  EXPECT_DOUBLE_EQ(night.plant.outdoor_degC.back(), logged.outdoor_degC.back());
}

}  // namespace
}  // namespace nightbank
