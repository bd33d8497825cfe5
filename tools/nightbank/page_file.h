#pragma once

#include <string>
#include <vector>

#include "command.h"
#include "load.h"

#include "nightbank/report/pages.h"

/// --page FILE: an answer also as a page for a browser.
namespace nightbank::tool {

/// What a page tells of a scenario besides its answer.
struct Told {
  std::vector<scenario::EchoRow> inputs;
  std::vector<report::Warning> ofReader;
  UnitSystem units = UnitSystem::metric;

  report::PageSource source() const { return {inputs, ofReader, units}; }
};

/// As written, with what a weather file adds to typical values.
/// @param run  the scenario that was answered, where it is not the loaded one itself
Told toldOf(const Loaded& loaded, UnitSystem units, const scenario::Scenario* run = nullptr);

/// The option's file; "" where it was not asked for.
/// @throws UserError where it is empty, '-', or would take the place of what was read
std::string pageFileOf(const Typed& typed, const Loaded& loaded);

}  // namespace nightbank::tool
