#include <string>

#include "bench.h"
#include "cvode.h"
#include "euler.h"
#include <benchmark/benchmark.h>

namespace nightbank::bench {
namespace {

template <class Run>
void timeRun(const std::string& name, int repeats, Run run) {
  benchmark::RegisterBenchmark(name.c_str(), [run](benchmark::State& state) {
    for (auto round : state) {
      (void)round;
      benchmark::DoNotOptimize(run());
    }
  })->Repetitions(repeats);
}

void timeCvode(const std::string& name, const Case& timed, int repeats) {
  timeRun(name + "/bdf", repeats,
          [&timed] { return cvodeTotals(timed.plant, Method::bdfDense, 1e-6); });
  timeRun(name + "/adams", repeats,
          [&timed] { return cvodeTotals(timed.plant, Method::adams, 1e-6); });
  timeRun(name + "/equal", repeats,
          [&timed] { return cvodeTotals(timed.plant, Method::adams, timed.equalTolerance); });
}

}  // namespace

void registerReferences(const Cases& cases) {
  timeRun("night/60s", 20, [&cases] { return eulerTotals(cases.night.plant, 60.0); });
  timeRun("night/0.1s", 10, [&cases] { return eulerTotals(cases.night.plant, 0.1); });
  timeCvode("night", cases.night, 20);
  timeCvode("ruled", cases.ruled, 20);
  timeCvode("warm", cases.warm, 10);
  timeCvode("month", cases.month, 3);
}

}  // namespace nightbank::bench
