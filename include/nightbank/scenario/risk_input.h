#pragma once

#include <string>

/// A number that the user knows only so far. As written, see scenario.h.
namespace nightbank::scenario {

struct RiskInput {
  std::string path;       ///< "bank.capacity"
  std::string low, high;  ///< quantities as text, both or none
  std::string spread;     ///< or one standard deviation: a quantity, or a share of the value
};

}  // namespace nightbank::scenario
