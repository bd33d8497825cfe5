#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "nightbank/scenario/problem.h"
#include "nightbank/scenario/reader.h"
#include "nightbank/scenario/scenario.h"
#include "nightbank/units/quantity.h"

/// Changes to a scenario by path: the one mechanism behind --set, comparisons, sweeps, sizing and
/// draws. They act on the unresolved scenario.
namespace nightbank::scenario {

/// `path`: keys joined by dots, list items by name, else by number from 0
/// ("air_conditioners.roof.duty", "solar.0.tilt").
/// `value`: YAML text of that field, as in a file, with a grade where wanted ("13 A measured").
/// `none` leaves the value out or empties the part. Another alternative replaces the one that is
/// there (`running.power` the current); absent parts are created; a list item that is not there is
/// created only by a whole value (`loads.fan: {power: 40 W}`).
using Edit = NamedEdit;

/// All edits on one copy, then required keys and rules once. Problems carry the path of the edit.
ReadResult apply(const Scenario& scenario, std::span<const Edit> edits);

/// The value at a path as text that apply() reads, to ten digits, with its grade where that is not
/// `nameplate`; "none" where it is left out or the path leads nowhere.
std::string valueText(const Scenario& scenario, std::string_view path);

/// The paths of all values that are given (parts and lists of parts are only gone through), in the
/// order of the field lists.
std::vector<std::string> givenPaths(const Scenario& scenario);

/// A number of a scenario, bound once and then read and written without text. Stays valid for every
/// copy and every scenario with the same list items.
struct Slot {
  struct Step {
    std::uint8_t field = 0;  ///< index in the part's field list
    std::uint8_t item = 0;   ///< index in the list
  };

  std::array<Step, 6> steps{};
  std::uint8_t depth = 0;
  Dim dim = Dim::number;  ///< `double`s of this slot are in the unit that the code keeps for it
  double low = 0.0;       ///< range that the reader accepts, closed
  double high = 0.0;
};

/// Slot of the number at `path`. A share given alone may be named by its list
/// ("air_conditioners.roof.duty", "inverter.efficiency"). Problem: no such key (with the nearest),
/// no such item, or the field holds no single number.
std::variant<Slot, Problem> bind(const Scenario& scenario, std::string_view path);

/// Sets the value and marks it as given; its grade stays (a value left out stays `typical`). Absent
/// optional parts are created, another alternative is replaced. Nothing is checked: keep within
/// [low, high], and mind the rules across fields. Under 1 us.
void write(const Slot& slot, Scenario& scenario, double value);

/// The value as given; NaN where it is left out. On a resolved scenario also typical values.
double read(const Slot& slot, const Scenario& scenario);

}  // namespace nightbank::scenario
