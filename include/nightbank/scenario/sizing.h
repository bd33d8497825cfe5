#pragma once

#include <optional>
#include <string>
#include <vector>

#include "nightbank/scenario/graded.h"

/// What could be bought, for the search of the least-cost set. As written, see scenario.h.
namespace nightbank::scenario {

/// One value of one edit: path and its YAML text.
struct NamedEdit {
  std::string path, value;
};

/// So many pieces of an option: `of` is set to `each` times their number.
struct SizingUnits {
  std::string of;    ///< a path
  std::string each;  ///< its value for one piece, "100 Ah"
  Graded from, to;   ///< pieces, both ends included
};

struct SizingOption {
  std::string name;
  std::vector<NamedEdit> set;
  std::optional<SizingUnits> units;
  Graded price;      ///< of one piece, in the scenario's currency
  Graded mass_kg;    ///< of one piece; not known: not weighed
  Graded noise_dBA;  ///< at 7 m, while it runs; not known: silent
};

/// One of its options is taken.
struct SizingChoice {
  std::string name;
  std::vector<SizingOption> options;
};

struct Sizing {
  Graded nights;  ///< share of the weather file's nights that must hold; not known: the one night
  Graded mostMoney, mostMass_kg, mostNoise_dBA;  ///< not known: no limit
  std::vector<SizingChoice> choose;
};

}  // namespace nightbank::scenario
