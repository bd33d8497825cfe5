#include <charconv>
#include <cstdint>
#include <cstdio>
#include <cstring>
#include <exception>

#include "plants.h"

#include "nightbank/simulate/simulate.h"

/// Runs the plain night N times and prints its pieces, for a tool that counts instructions: the
/// difference of two counts is that of the runs alone.
int main(int argc, char** argv) {
  using namespace nightbank;
  int runs = 0;
  if (argc != 2 ||
      std::from_chars(argv[1], argv[1] + std::strlen(argv[1]), runs).ec != std::errc() ||
      runs < 1) {
    std::fputs("usage: nightbank_instructions RUNS\n", stderr);
    return 2;
  }
  try {
    const Plant plant = bench::plantOf(bench::plainNight());
    Recorder recorder = makeRecorder(plant);
    std::uint64_t pieces = 0;
    for (int i = 0; i < runs; ++i) {
      reset(recorder, plant);
      pieces = simulate(plant, recorder).pieces;
    }
    std::printf("%llu\n", static_cast<unsigned long long>(pieces));
  } catch (const std::exception& error) {
    std::fprintf(stderr, "nightbank_instructions: %s\n", error.what());
    return 70;
  }
  return 0;
}
