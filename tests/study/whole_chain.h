#pragma once

#include <algorithm>
#include <cmath>
#include <exception>
#include <sstream>
#include <string>
#include <variant>
#include <vector>

#include <gtest/gtest.h>

#include "nightbank/report/csv.h"
#include "nightbank/report/json.h"
#include "nightbank/report/report.h"
#include "nightbank/report/text.h"
#include "nightbank/study/answer.h"

/// What must hold of every answer, whatever the scenario says.
namespace nightbank {

/// Number words of what is not finite; no word of a report begins with them.
inline bool hasNoNumber(const std::string& text) {
  std::istringstream words(text);
  for (std::string word; words >> word;) {
    const std::size_t sign = word.find_first_not_of("-(");
    const std::string start = sign == std::string::npos ? "" : word.substr(sign, 3);
    if (start == "nan" || (start == "inf" && word.size() <= sign + 4))
      return true;
  }
  return false;
}

inline void expectSoundNight(const Night& night) {
  const EnergyOutcome& energy_J = night.outcome.energy_J;
  EXPECT_LT(std::abs(energy_J.closureError), 1e-9);
  EXPECT_LT(std::abs(energy_J.bankClosureError), 1e-9);
  const BankOutcome& bank = night.outcome.bank;
  constexpr double kRounding = 1e-7;
  EXPECT_GE(bank.lowestSoc, -kRounding);
  EXPECT_LE(bank.lowestSoc, std::min(bank.startSoc, bank.endSoc) + kRounding);
  EXPECT_LE(std::max(bank.startSoc, bank.endSoc), 1.0 + kRounding);
  EXPECT_TRUE(std::isfinite(bank.margin_J) && std::isfinite(night.judgement.marginShare));
  EXPECT_FALSE(hasNoNumber(report::csv(night)));  // which itself throws on what is not finite
}

inline void expectSoundAnswer(const Answer& answer) {
  expectSoundNight(answer.night);
  if (answer.restingEnd)
    expectSoundNight(*answer.restingEnd);
  EXPECT_FALSE(report::json(answer).empty());  // throws on what is not finite
  for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
    const std::string text = report::textReport(answer, {.units = units});
    EXPECT_FALSE(hasNoNumber(text)) << text;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);)
      EXPECT_LE(report::displayWidth(line), report::kTextWidth) << line;
  }
}

/// Nothing may be thrown, and nothing that was accepted be refused later on, without a place.
/// @param series  for a scenario with a weather file; that may not reach its period, and say so
inline void expectSoundAnswerTo(const scenario::Scenario& scenario,
                                const WeatherSeries* series = nullptr) {
  try {
    const auto answered = answerNight(scenario, series);
    if (const auto* answer = std::get_if<Answer>(&answered))
      return expectSoundAnswer(*answer);
    const auto& problem = std::get<std::vector<scenario::Problem>>(answered).front();
    const bool isOfFile = series != nullptr && problem.path == "weather.file";
    if (isOfFile && problem.message.starts_with("weather.file has the weather from "))
      return;
    ADD_FAILURE() << problem.message;
  } catch (const std::exception& error) {
    ADD_FAILURE() << error.what();
  }
}

}  // namespace nightbank
