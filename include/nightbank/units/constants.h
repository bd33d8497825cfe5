#pragma once

/// Factors to SI. Multiply in, divide out: `200 * kWattHour_J` is joules,
/// `energy_J / kWattHour_J` is Wh. Sources: NIST SP 811 (2008) appendix B, from memory.
/// Everything inside is SI in doubles, except charge in Ah and temperature levels in degC.
namespace nightbank {

inline constexpr double kMinute_s = 60.0;
inline constexpr double kHour_s = 3600.0;
inline constexpr double kDay_s = 86400.0;
inline constexpr double kWattHour_J = 3600.0;     ///< one watt-hour [J]
inline constexpr double kKilowattHour_J = 3.6e6;  ///< one kilowatt-hour [J]
inline constexpr double kBtu_J = 1055.05585262;   ///< exact, international table
inline constexpr double kBtuPerHour_W = kBtu_J / kHour_s;
inline constexpr double kUsGallon_m3 = 3.785411784e-3;  ///< exact, 231 in3
inline constexpr double kLitre_m3 = 1e-3;
inline constexpr double kPound_kg = 0.45359237;  ///< exact
inline constexpr double kFoot_m = 0.3048;        ///< exact
inline constexpr double kInch_m = 0.0254;        ///< exact

/// Higher heating value of motor petrol: 120,214 BTU per US gallon. [kWh/m3]
/// Source: US EIA, energy conversion calculators, from memory (its 2018 page, seen, has 120,333).
/// A lower heating value would be 5 to 7 % less; efficiencies here are all on the higher one.
inline constexpr double kPetrol_kWh_m3 = 35.2312 / kUsGallon_m3;
/// Higher heating value of liquid propane: 91,452 BTU per US gallon, same source and mark (2018,
/// seen: 91,333). [kWh/m3]
inline constexpr double kPropane_kWh_m3 = 26.8019 / kUsGallon_m3;
/// Density of liquid propane: 4.24 lb per US gallon (seen in trade tables): 20 lb are 4.72 gal.
inline constexpr double kPropane_kg_m3 = 4.24 * kPound_kg / kUsGallon_m3;

inline constexpr double kStandardPressure_Pa = 101325.0;
inline constexpr double kZeroCelsius_K = 273.15;

/// Temperature level, degF to degC. A difference scales by 1/1.8 only: never use this for it.
constexpr double fahrenheit_degC(double level_degF) {
  return (level_degF - 32.0) / 1.8;
}

}  // namespace nightbank
