#pragma once

#include <string>
#include <vector>

#include "nightbank/simulate/plant.h"

/// The committed scenarios, ready to run.
namespace nightbank::structure {

struct NamedPlant {
  std::string file;  ///< "some_night.yaml"
  Plant plant;
};

/// Each file of scenarios/, by name. An air conditioner with unknown duty gets one of 60 %.
/// @throws std::runtime_error with the messages where a file is not accepted
std::vector<NamedPlant> committedPlants();

}  // namespace nightbank::structure
