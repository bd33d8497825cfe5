#include "bench.h"
#include <benchmark/benchmark.h>

#include "nightbank/simulate/simulate.h"

namespace nightbank::bench {
namespace {

void timeEngine(const char* name, const Case& timed, int repeats) {
  benchmark::RegisterBenchmark(name, [&timed](benchmark::State& state) {
    Recorder recorder = makeRecorder(timed.plant);
    for (auto round : state) {
      (void)round;
      reset(recorder, timed.plant);
      benchmark::DoNotOptimize(simulate(timed.plant, recorder));
    }
  })->Repetitions(repeats);
}

}  // namespace

void registerRuns(const Cases& cases) {
  timeEngine("night", cases.night, 30);
  timeEngine("ruled", cases.ruled, 30);
  timeEngine("warm", cases.warm, 30);
  timeEngine("month", cases.month, 10);
  timeEngine("year", cases.year, 5);
}

}  // namespace nightbank::bench
