#pragma once

#include <stdexcept>
#include <string>
#include <variant>

#include <gtest/gtest.h>

#include "nightbank/scenario/reader.h"
#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/study/answer.h"

/// Scenarios as text, for tests that go the whole way from YAML to the answer.
namespace nightbank {

inline scenario::Scenario scenarioOf(const std::string& yaml) {
  auto parsed = scenario::parseDocument(yaml, "test.yaml");
  if (!std::holds_alternative<scenario::Document>(parsed))
    throw std::runtime_error("the test's scenario is no YAML:\n" + yaml);
  const auto& document = std::get<scenario::Document>(parsed);
  const scenario::ReadResult read = scenario::readScenario(document);
  if (!read.scenario)
    throw std::runtime_error(scenario::render(scenario::diagnose(read.problems, document)));
  return *read.scenario;
}

inline Plant plantOf(const std::string& yaml) {
  return derive(scenario::resolve(scenarioOf(yaml)));
}

// One run alone, without the runs for the ends of typical values.
inline Night ranOf(const std::string& yaml, const WeatherSeries* series = nullptr) {
  Night night{derive(scenario::resolve(scenarioOf(yaml)), series), {}, {}, {}, {}, {}};
  night.recorder = makeRecorder(night.plant);
  night.outcome = simulate(night.plant, night.recorder);
  night.judgement = judge(night.outcome);
  return night;
}

inline Answer answerOf(const std::string& yaml) {
  auto answered = answerNight(scenarioOf(yaml));
  if (!std::holds_alternative<Answer>(answered))
    throw std::runtime_error(std::get<std::vector<scenario::Problem>>(answered).front().message);
  return std::get<Answer>(std::move(answered));
}

}  // namespace nightbank
