#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

/// Text of a quantity ("13.1 A", "95 degF", "50 %") to a double in the unit that the code works in,
/// and back. Case-sensitive; the unit is required for everything but `number` and `count`. One
/// table of units, no state.
namespace nightbank {

/// What a number measures. The comment names the unit in which the code keeps it.
enum class Dim {
  number,              ///< bare number
  count,               ///< bare whole number
  fraction,            ///< 0..1, written in %
  voltage,             ///< V, also mV, kV
  current,             ///< A, also mA, kA
  power,               ///< W, also kW, BTU/h
  apparent,            ///< VA, also kVA
  energy,              ///< J, written Wh, kWh, J, kJ, MJ
  charge,              ///< Ah, also mAh
  resistance,          ///< ohm, written ohm, mohm
  temperature,         ///< level, degC, also degF
  difference,          ///< K, also degC, degF
  duration,            ///< s, written s, min, h, d
  length,              ///< m, written m, cm, mm, km, ft, in
  area,                ///< m2, written m2, cm2, mm2, ft2, in2
  volume,              ///< m3, written L, mL, m3, gal (US)
  mass,                ///< kg, also g, lb
  volumeRate,          ///< m3/s, written L/h, gal/h
  angle,               ///< deg
  irradiance,          ///< W/m2
  speed,               ///< m/s, also km/h, mph, kn
  pressure,            ///< Pa, written hPa, kPa, Pa, inHg
  heatLoss,            ///< W/K, also BTU/h/degF
  heatCapacity,        ///< J/K, written kJ/K, MJ/K, Wh/K
  insulation,          ///< m2K/W, written m2K/W, R (the number of "R-7": ft2 h degF/BTU)
  airFlow,             ///< m3/s, written L/s, m3/h, cfm
  inverseTemperature,  ///< 1/K, written %/K, %/degC, %/degF, 1/K
  soundLevel,          ///< dBA
};

/// A quantity that was read.
struct Quantity {
  double value;      ///< in the unit that the code keeps for its dimension
  std::string unit;  ///< as typed, "" for a bare number
};

/// Why a text is no quantity of the wanted dimension.
struct QuantityError {
  std::string message;     ///< "a power; expected a charge (Ah, mAh)"; reads after "'5 kW' is "
  std::string suggestion;  ///< the nearest text that can be read, e.g. "5 kWh", or ""
};

/// Reads `text` as a quantity of dimension `wanted`: an optional sign, digits, an optional
/// fraction, an optional exponent, optional blanks, the unit. "010", ".5", "1,500", "0x10", ".nan"
/// and what is not finite (or is lost to zero) in the kept unit are errors. Blanks around are
/// ignored.
std::variant<Quantity, QuantityError> parseQuantity(std::string_view text, Dim wanted);

/// Factor and offset back from the kept unit: `value` of dimension `dim` in unit `unit` as typed
/// ("" for a bare number). Used so that a range error speaks in the unit that the user typed.
/// Throws std::invalid_argument where the unit is not one of the dimension's.
double inUnit(double value, Dim dim, std::string_view unit);

/// "a charge (Ah, mAh)": the dimension's name with its accepted units, for messages and help.
/// "a bare number" and "a bare whole number" where there is none.
std::string describe(Dim dim);

/// All unit words of a dimension, preferred first; empty for `number` and `count`.
std::vector<std::string_view> unitsOf(Dim dim);

/// Which family of units an output speaks: `--units metric|us`.
enum class UnitSystem { metric, us };

/// A value (in the kept unit) for people, with its unit: "5.2 kWh", "13.1 A", "95 degF", "1650 m".
/// Three significant digits, but whole from 100 up, at most two decimals down to 0.1 and one for
/// temperatures, two significant digits below 0.1; trailing zeros are dropped. The unit suits the
/// size (Wh or kWh, s to d). parseQuantity reads the text back. `us` speaks degF, ft, gal and
/// BTU/h/degF; electrical units and W stay. Bare numbers show up to six significant digits. What
/// is not finite is "unknown".
std::string format(double value, Dim dim, UnitSystem system = UnitSystem::metric);

}  // namespace nightbank
