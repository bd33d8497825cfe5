#include "unit_slips.h"

#include <array>
#include <cstddef>
#include <string>
#include <vector>

#include "ascii.h"
#include "unit_table.h"

#include "nightbank/units/suggest.h"

namespace nightbank::detail {
namespace {

struct Slip {
  std::string_view typed;  // lower case, without the s of a plural
  std::string_view word;
};

// Written words and signs, then units of another dimension that differ by "per hour" and the like.
constexpr std::array kSlips = std::to_array<Slip>({
    {"c", "degC"},
    {"f", "degF"},
    {"\u00b0c", "degC"},
    {"\u00b0f", "degF"},
    {"\u00bac", "degC"},
    {"\u00baf", "degF"},
    {"\u2103", "degC"},
    {"\u2109", "degF"},
    {"celsiu", "degC"},
    {"fahrenheit", "degF"},
    {"kelvin", "K"},
    {"volt", "V"},
    {"vdc", "V"},
    {"vac", "V"},
    {"amp", "A"},
    {"ampere", "A"},
    {"watt", "W"},
    {"kilowatt", "kW"},
    {"btu", "BTU/h"},
    {"btuh", "BTU/h"},
    {"btu/hr", "BTU/h"},
    {"watt-hour", "Wh"},
    {"amp-hour", "Ah"},
    {"\u03a9", "ohm"},
    {"\u2126", "ohm"},
    {"m\u03a9", "mohm"},
    {"m\u2126", "mohm"},
    {"sec", "s"},
    {"second", "s"},
    {"minute", "min"},
    {"hr", "h"},
    {"hour", "h"},
    {"day", "d"},
    {"meter", "m"},
    {"metre", "m"},
    {"'", "ft"},
    {"foot", "ft"},
    {"feet", "ft"},
    {"\"", "in"},
    {"inch", "in"},
    {"inche", "in"},
    {"m\u00b2", "m2"},
    {"cm\u00b2", "cm2"},
    {"mm\u00b2", "mm2"},
    {"ft\u00b2", "ft2"},
    {"in\u00b2", "in2"},
    {"sqm", "m2"},
    {"sqft", "ft2"},
    {"m\u00b3", "m3"},
    {"liter", "L"},
    {"litre", "L"},
    {"gallon", "gal"},
    {"pound", "lb"},
    {"gph", "gal/h"},
    {"\u00b0", "deg"},
    {"degree", "deg"},
    {"percent", "%"},
    {"w/m\u00b2", "W/m2"},
    {"w/c", "W/K"},
    {"w/degc", "W/K"},
    {"w/\u00b0c", "W/K"},
    {"btu/h/f", "BTU/h/degF"},
    {"%/c", "%/degC"},
    {"%/\u00b0c", "%/degC"},
    {"%/f", "%/degF"},
    {"%/\u00b0f", "%/degF"},

    {"w", "Wh"},
    {"w", "W/K"},
    {"w", "W/m2"},
    {"wh", "W"},
    {"kw", "kWh"},
    {"kwh", "kW"},
    {"a", "Ah"},
    {"ah", "A"},
    {"ma", "mAh"},
    {"mah", "mA"},
    {"m", "min"},
    {"m", "m2"},
    {"m", "m3"},
    {"ft", "ft2"},
    {"l", "L/h"},
    {"l/h", "L"},
    {"gal", "gal/h"},
    {"gal/h", "gal"},
    {"btu/h", "BTU/h/degF"},
    {"%", "%/K"},
});

std::string_view slipFor(std::string_view lowerTyped, Dim wanted) {
  for (const Slip& slip : kSlips)
    if (slip.typed == lowerTyped && findUnit(slip.word, wanted) != nullptr)
      return slip.word;
  return "";
}

}  // namespace

std::string_view meantUnit(std::string_view typed, Dim wanted) {
  constexpr std::size_t kLongestSlip = 16;
  if (typed.size() > kLongestSlip)
    return "";
  const std::vector<std::string_view> words = unitsOf(wanted);
  const std::string lower = lowerCase(typed);
  for (const std::string_view word : words)
    if (lowerCase(word) == lower)
      return word;
  if (const std::string_view word = slipFor(lower, wanted); !word.empty())
    return word;
  if (lower.ends_with('s'))
    if (const std::string_view word = slipFor(lower.substr(0, lower.size() - 1), wanted);
        !word.empty())
      return word;
  // One edit turns "MW" into "kW" and "Ah" into "Wh": too little to go by in one or two letters,
  // and a unit of another dimension was hardly mistyped.
  if (typed.size() < 3 || findUnitAnywhere(typed) != nullptr)
    return "";
  const Unit* found = findUnit(nearest(typed, words), wanted);
  return found == nullptr ? "" : found->word;
}

}  // namespace nightbank::detail
