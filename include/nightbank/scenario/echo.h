#pragma once

#include <string>
#include <vector>

#include "nightbank/scenario/document.h"
#include "nightbank/scenario/scenario.h"
#include "nightbank/units/quantity.h"

namespace nightbank::scenario {

/// One value of a scenario for people, or the heading of a part.
struct EchoRow {
  bool isHeading = false;
  std::string path;         ///< "bank.capacity"
  std::string key;          ///< the same below its heading: "capacity"
  std::string value, note;  ///< "200 Ah"; "nameplate", or "typical, 1.5 mohm to 10 mohm"
};

/// The resolved scenario, see echo(), before it is laid out.
std::vector<EchoRow> echoRows(const Scenario& given, const Document* typed = nullptr,
                              UnitSystem units = UnitSystem::metric);

/// The resolved scenario for people: one line per value with path, value, grade and, for typical
/// values, the range; aligned, at most 80 columns.
///
///     bank
///       capacity               200 Ah    nameplate
///       max_depth_of_discharge 50 %      default
///       resistance             2.05 mohm typical, 1.5 mohm to 10 mohm
///
/// Values stand in the unit of `typed` where the text there still means the value (it may have
/// been edited), else in `units`. `given` is unresolved; `typed` may be null.
std::string echo(const Scenario& given, const Document* typed = nullptr,
                 UnitSystem units = UnitSystem::metric);

}  // namespace nightbank::scenario
