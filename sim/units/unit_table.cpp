#include "unit_table.h"

#include <algorithm>
#include <array>

#include "nightbank/units/constants.h"

namespace nightbank::detail {
namespace {

// Factors: NIST SP 811 (2008) appendix B.8, from memory; all are exact by definition.
constexpr std::array kUnits = std::to_array<Unit>({
    {"%", Dim::fraction, 1, 100},

    {"V", Dim::voltage, 1},
    {"mV", Dim::voltage, 1, 1000},
    {"kV", Dim::voltage, 1000},

    {"A", Dim::current, 1},
    {"mA", Dim::current, 1, 1000},
    {"kA", Dim::current, 1000},

    {"W", Dim::power, 1},
    {"kW", Dim::power, 1000},
    {"BTU/h", Dim::power, kBtu_J, kHour_s},

    {"VA", Dim::apparent, 1},
    {"kVA", Dim::apparent, 1000},

    {"Wh", Dim::energy, kWattHour_J},
    {"kWh", Dim::energy, kKilowattHour_J},
    {"J", Dim::energy, 1},
    {"kJ", Dim::energy, 1e3},
    {"MJ", Dim::energy, 1e6},

    {"Ah", Dim::charge, 1},
    {"mAh", Dim::charge, 1, 1000},

    {"ohm", Dim::resistance, 1},
    {"mohm", Dim::resistance, 1, 1000},

    {"degC", Dim::temperature, 1},
    {"degF", Dim::temperature, 1, 1.8, 32},

    {"K", Dim::difference, 1},
    {"degC", Dim::difference, 1},
    {"degF", Dim::difference, 1, 1.8},

    {"s", Dim::duration, 1},
    {"min", Dim::duration, kMinute_s},
    {"h", Dim::duration, kHour_s},
    {"d", Dim::duration, kDay_s},

    {"m", Dim::length, 1},
    {"cm", Dim::length, 1, 100},
    {"mm", Dim::length, 1, 1000},
    {"km", Dim::length, 1000},
    {"ft", Dim::length, kFoot_m},
    {"in", Dim::length, kInch_m},

    {"m2", Dim::area, 1},
    {"cm2", Dim::area, 1, 1e4},
    {"mm2", Dim::area, 1, 1e6},
    {"ft2", Dim::area, 0.09290304},
    {"in2", Dim::area, 6.4516e-4},

    {"L", Dim::volume, 1, 1e3},
    {"mL", Dim::volume, 1, 1e6},
    {"m3", Dim::volume, 1},
    {"gal", Dim::volume, kUsGallon_m3},

    {"kg", Dim::mass, 1},
    {"g", Dim::mass, 1, 1e3},
    {"lb", Dim::mass, kPound_kg},

    {"L/h", Dim::volumeRate, 1, 1e3 * kHour_s},
    {"gal/h", Dim::volumeRate, kUsGallon_m3, kHour_s},

    {"deg", Dim::angle, 1},

    {"W/m2", Dim::irradiance, 1},

    {"m/s", Dim::speed, 1},
    {"km/h", Dim::speed, 1000, kHour_s},
    {"mph", Dim::speed, 5280 * kFoot_m, kHour_s},
    {"kn", Dim::speed, 1852, kHour_s},

    {"hPa", Dim::pressure, 100},
    {"kPa", Dim::pressure, 1000},
    {"Pa", Dim::pressure, 1},
    {"inHg", Dim::pressure, 3386.389},

    {"W/K", Dim::heatLoss, 1},
    {"BTU/h/degF", Dim::heatLoss, kBtu_J * 1.8, kHour_s},

    {"kJ/K", Dim::heatCapacity, 1e3},
    {"MJ/K", Dim::heatCapacity, 1e6},
    {"Wh/K", Dim::heatCapacity, kWattHour_J},

    {"m2K/W", Dim::insulation, 1},
    {"R", Dim::insulation, kHour_s * 0.09290304, 1.8 * kBtu_J},

    {"L/s", Dim::airFlow, 1, 1e3},
    {"m3/h", Dim::airFlow, 1, kHour_s},
    {"cfm", Dim::airFlow, kFoot_m* kFoot_m* kFoot_m, kMinute_s},

    {"%/K", Dim::inverseTemperature, 1, 100},
    {"%/degC", Dim::inverseTemperature, 1, 100},
    {"%/degF", Dim::inverseTemperature, 1.8, 100},
    {"1/K", Dim::inverseTemperature, 1},

    {"dBA", Dim::soundLevel, 1},
});

}  // namespace

std::span<const Unit> unitTable() {
  return kUnits;
}

const Unit* findUnit(std::string_view word, Dim dim) {
  const auto* found = std::ranges::find_if(
      kUnits, [&](const Unit& unit) { return unit.dim == dim && unit.word == word; });
  return found == kUnits.end() ? nullptr : found;
}

const Unit* findUnitAnywhere(std::string_view word) {
  const auto* found = std::ranges::find(kUnits, word, &Unit::word);
  return found == kUnits.end() ? nullptr : found;
}

std::string_view dimensionName(Dim dim) {
  switch (dim) {
    case Dim::number:
      return "a bare number";
    case Dim::count:
      return "a bare whole number";
    case Dim::fraction:
      return "a percentage";
    case Dim::voltage:
      return "a voltage";
    case Dim::current:
      return "a current";
    case Dim::power:
      return "a power";
    case Dim::apparent:
      return "an apparent power";
    case Dim::energy:
      return "an energy";
    case Dim::charge:
      return "a charge";
    case Dim::resistance:
      return "a resistance";
    case Dim::temperature:
      return "a temperature";
    case Dim::difference:
      return "a temperature difference";
    case Dim::duration:
      return "a duration";
    case Dim::length:
      return "a length";
    case Dim::area:
      return "an area";
    case Dim::volume:
      return "a volume";
    case Dim::mass:
      return "a mass";
    case Dim::volumeRate:
      return "a rate of flow";
    case Dim::angle:
      return "an angle";
    case Dim::irradiance:
      return "an irradiance";
    case Dim::speed:
      return "a speed";
    case Dim::pressure:
      return "a pressure";
    case Dim::heatLoss:
      return "a heat loss";
    case Dim::heatCapacity:
      return "a heat capacity";
    case Dim::insulation:
      return "an insulation";
    case Dim::airFlow:
      return "a flow of air";
    case Dim::inverseTemperature:
      return "a change per degree";
    case Dim::soundLevel:
      return "a sound level";
  }
  return "a quantity";
}

}  // namespace nightbank::detail
