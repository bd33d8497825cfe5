#pragma once

#include <string>

#include "nightbank/scenario/field.h"
#include "nightbank/units/quantity.h"

/// From members back to text. Private to the room.
namespace nightbank::scenario {

/// YAML text from which the member can be read again, to ten digits, with its grade where that is
/// not `nameplate`; "none" where there is no value. A part or list: its known values.
std::string editText(const Field& field, const void* part);

/// A number in the unit that suits its size, to ten digits: "4.1 mohm".
std::string numberText(double value, Dim dim);

/// For people: rounded, without grade. "unknown" where there is no value.
std::string shownText(const Field& field, const void* part, UnitSystem units);
/// The same of a number that this field could hold; of a word: its index.
std::string shownNumber(const Field& field, double value, UnitSystem units);

/// Whether there is a value, given or filled in; of a word only where it is given, for a word that
/// was filled in looks like one that was not.
bool isKnown(const Field& field, const void* part);
/// How the value is known; typical where the kind holds no grade and nothing is given.
Grade gradeOf(const Field& field, const void* part);

}  // namespace nightbank::scenario
