#include <algorithm>
#include <atomic>
#include <thread>
#include <variant>
#include <vector>

#include "bench.h"
#include "plants.h"
#include <benchmark/benchmark.h>

#include "nightbank/scenario/document.h"
#include "nightbank/scenario/edit.h"
#include "nightbank/scenario/reader.h"
#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/simulate/simulate.h"
#include "nightbank/study/answer.h"

namespace nightbank::bench {
namespace {

scenario::Slot capacitySlot(const scenario::Scenario& scenario) {
  return std::get<scenario::Slot>(scenario::bind(scenario, "bank.capacity"));
}

/// body(i) for every i below `count`, in any order, on so many threads.
template <class Body>
void parallelFor(int count, int threads, Body&& body) {
  std::atomic<int> next{0};
  const auto work = [&] {
    for (int i = next++; i < count; i = next++)
      body(i);
  };
  std::vector<std::thread> others;
  for (int t = 1; t < threads; ++t)
    others.emplace_back(work);
  work();
  for (std::thread& other : others)
    other.join();
}

/// Margin of each night: capacities evenly from 400 to 900 Ah, written into a copy by slot.
std::vector<double> manyMargins_J(const scenario::Scenario& scenario, int threads) {
  const scenario::Slot slot = capacitySlot(scenario);
  std::vector<double> margins_J(kManyNights);
  parallelFor(kManyNights, threads, [&](int i) {
    scenario::Scenario edited = scenario;
    scenario::write(slot, edited, 400.0 + 500.0 * i / kManyNights);
    const Plant plant = derive(scenario::resolve(edited));
    Recorder recorder = makeRecorder(plant);
    margins_J[static_cast<std::size_t>(i)] = simulate(plant, recorder).bank.margin_J;
  });
  return margins_J;
}

template <class Step>
void timeStep(const char* name, Step step) {
  benchmark::RegisterBenchmark(name, [step](benchmark::State& state) {
    const scenario::Scenario scenario = scenarioOf(plainNight());
    for (auto round : state) {
      (void)round;
      benchmark::DoNotOptimize(step(scenario));
    }
  })->Repetitions(20);
}

void timeManyNights(const char* name, int threads) {
  benchmark::RegisterBenchmark(name,
                               [threads](benchmark::State& state) {
                                 const scenario::Scenario scenario = scenarioOf(plainNight());
                                 for (auto round : state) {
                                   (void)round;
                                   benchmark::DoNotOptimize(manyMargins_J(scenario, threads));
                                 }
                               })
      ->Repetitions(4)
      ->Iterations(1)
      ->UseRealTime();
}

scenario::Parsed parsedNight() {
  return scenario::parseDocument(std::string(plainNight()), "bench");
}

}  // namespace

void registerStudies() {
  timeStep("edit/text", [](const scenario::Scenario& scenario) {
    const scenario::Edit edit{"bank.capacity", "640 Ah"};
    return scenario::apply(scenario, {&edit, 1});
  });
  timeStep("edit/slot",
           [slot = capacitySlot(scenarioOf(plainNight()))](const scenario::Scenario& scenario) {
             scenario::Scenario edited = scenario;
             scenario::write(slot, edited, 640.0);
             return edited;
           });
  timeStep("parse", [](const scenario::Scenario&) { return parsedNight(); });
  timeStep("read", [parsed = parsedNight()](const scenario::Scenario&) {
    return scenario::readScenario(std::get<scenario::Document>(parsed));
  });
  timeStep("resolve",
           [](const scenario::Scenario& scenario) { return scenario::resolve(scenario); });
  timeStep("derive", [resolved = scenario::resolve(scenarioOf(plainNight()))](
                         const scenario::Scenario&) { return derive(resolved); });
  timeStep("answer", [](const scenario::Scenario& scenario) { return answerNight(scenario); });
  timeManyNights("many/1", 1);
  timeManyNights("many/2", 2);
}

bool threadsAgree() {
  const scenario::Scenario scenario = scenarioOf(plainNight());
  return manyMargins_J(scenario, 1) == manyMargins_J(scenario, 2);
}

}  // namespace nightbank::bench
