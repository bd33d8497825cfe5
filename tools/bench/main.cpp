#include <charconv>
#include <cstdio>
#include <cstring>
#include <exception>

#include "bench.h"
#include "plants.h"
#include "tables.h"
#include <fmt/format.h>

/// Times the engine beside its references and prints two tables. Fails where a figure that is no
/// time is out of bounds: starts, differences from the exact solution, instructions of a piece.
namespace nightbank::bench {
namespace {

constexpr double kMostError = 2e-5;
/// Against regressions; the goal is 3,000.
constexpr double kMostInstructions = 3600.0;

bool agrees(const char* name, const Case& compared) {
  const bool good =
      compared.engine.starts == compared.exact.starts && compared.engineError <= kMostError;
  if (!good)
    fmt::print("{}: the engine and CVODE do not agree\n", name);
  return good;
}

int run(double instructions) {
  const Cases cases{caseOf(plainNight()), caseOf(ruledNight()), caseOf(warmNight()),
                    caseOf(month()), caseWithoutReference(year())};
  printAgreement(cases);
  registerRuns(cases);
  registerReferences(cases);
  registerStudies();
  registerProcess();
  printTimes(cases, measure(), instructions);
  bool good = agrees("hot night", cases.night);
  good = agrees("with rule and sun", cases.ruled) && good;
  good = agrees("with cabin and thermostat", cases.warm) && good;
  good = agrees("30 days", cases.month) && good;
  if (!threadsAgree()) {
    fmt::print("two threads give other margins than one\n");
    good = false;
  }
  if (instructions > kMostInstructions) {
    fmt::print("{:.0f} instructions a piece; the gate is {:.0f}\n", instructions,
               kMostInstructions);
    good = false;
  }
  return good ? 0 : 1;
}

}  // namespace
}  // namespace nightbank::bench

int main(int argc, char** argv) {
  double instructions = 0.0;
  if (argc != 2 ||
      std::from_chars(argv[1], argv[1] + std::strlen(argv[1]), instructions).ec != std::errc()) {
    std::fputs("usage: nightbank_bench INSTRUCTIONS_OF_A_PIECE\n", stderr);
    return 2;
  }
  try {
    return nightbank::bench::run(instructions);
  } catch (const std::exception& error) {
    std::fprintf(stderr, "nightbank_bench: %s\n", error.what());
    return 70;
  }
}
