// Prints one line for each committed scenario: the hash of its trace, and the file. Built twice,
// with and without optimisation, to see that both compute the same digits.
#include <exception>

#include "plants.h"
#include "trace.h"
#include <fmt/format.h>

#include "nightbank/simulate/simulate.h"

int main() {
  try {
    for (const auto& [file, plant] : nightbank::structure::committedPlants()) {
      auto recorder = nightbank::makeRecorder(plant, true);
      const auto outcome = nightbank::simulate(plant, recorder);
      fmt::print("{:016x} {:6} pieces  {}\n", nightbank::structure::traceHash(recorder, outcome),
                 outcome.pieces, file);
    }
  } catch (const std::exception& fault) {
    fmt::print("{}\n", fault.what());
    return 1;
  }
  return 0;
}
