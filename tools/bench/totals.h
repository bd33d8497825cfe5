#pragma once

#include <array>
#include <cstddef>

#include "nightbank/simulate/plant.h"

/// What the contestants compute of a night, to be compared.
namespace nightbank::bench {

enum class Energy {
  airConditioners,
  loads,
  inverterLoss,
  wiringLoss,
  bankLoss,
  solar,
  controllerLoss,
  generator,
  chargerLoss
};
inline constexpr std::size_t kEnergies = 9;

/// For tables: "air conditioners", "bank loss".
const char* nameOf(Energy energy);

struct Totals {
  int starts = 0;
  double endSoc = 0.0;
  double engine_s = 0.0;
  std::array<double, kEnergies> energy_J{};

  double& of(Energy energy) { return energy_J[static_cast<std::size_t>(energy)]; }

  double of(Energy energy) const { return energy_J[static_cast<std::size_t>(energy)]; }
};

/// One run of the engine.
Totals engineTotals(const Plant& plant);

/// The largest difference: of the state of charge, or of an energy in shares of all that was used.
double difference(const Totals& a, const Totals& b);

}  // namespace nightbank::bench
