#pragma once

/// Moist air as a mix of ideal gases: the exact forms, for numbers made once and for checks.
///
/// A humidity ratio is kg of water per kg of dry air; enthalpy, volume and density are those of the
/// same equations everywhere, so a balance made with them closes. Pressure: 20e3..120e3 Pa.
/// Temperature: -60..90 degC unless said otherwise. Arguments outside or not finite:
/// std::invalid_argument.
/// Source: ASHRAE Handbook - Fundamentals (2021), ch. 1. Real air holds 0.5 % more at 25 degC
/// (table 2) than the ideal mix does.
namespace nightbank {

/// Over water, also below freezing, where the formula goes on smoothly (supercooled). Eq. 6. [Pa]
/// @param temperature_degC -100..200; printed for 0..200
double saturationPressureOverWater_Pa(double temperature_degC);

/// Over water, below 0 degC over ice (eq. 5). [Pa]
/// @param temperature_degC -100..200
double saturationPressure_Pa(double temperature_degC);

///     W = 0.621945 p_w / (p - p_w)                                                 (eq. 20)
/// @param vapourPressure_Pa 0.. below the pressure
double humidityRatio(double vapourPressure_Pa, double pressure_Pa);

/// Inverse of `humidityRatio`. [Pa]
/// @param ratio >= 0
double vapourPressure_Pa(double ratio, double pressure_Pa);

/// Humidity ratio of saturated air; at a dew point, that of the air that has it.
double saturationRatio(double temperature_degC, double pressure_Pa);

/// The temperature at which vapour of this pressure is saturated: dew point, below 0 degC frost
/// point. [degC] -100 where there is less vapour than at -100 degC, as in perfectly dry air.
double dewPoint_degC(double vapourPressure_Pa);

/// Vapour pressure over that of saturation (ice below 0 degC), above 1 in fog.
double relativeHumidity(double temperature_degC, double ratio, double pressure_Pa);

/// Per kg of dry air, 0 for dry air at 0 degC (eq. 30). [J/kg]
///
///     h = 1006 t + W (2501e3 + 1860 t)
double enthalpy_J_kg(double temperature_degC, double ratio);

/// Of the vapour alone, 2501e3 + 1860 t: what a kilogram of water takes out of the air. [J/kg]
double vapourEnthalpy_J_kg(double temperature_degC);

/// Heat of evaporation, 2500.9e3 - 2365 t: a straight line within 0.3e3 of the steam tables from 0
/// to 40 degC (eq. 30 and liquid at 4186 t would give 0.06 % more at 30 degC). [J/kg]
double latentHeat_J_kg(double temperature_degC);

/// Humidity ratio of air with a wet bulb, 0 or more (eq. 33; 35 where the bulb is below 0 degC).
/// @param wetBulb_degC not above temperature_degC
double wetBulbRatio(double temperature_degC, double wetBulb_degC, double pressure_Pa);

/// Thermodynamic wet bulb: inverse of `wetBulbRatio`. [degC] In saturated air or fog the
/// temperature itself. A bulb of water where one at 0 degC or above fits, else one of ice: the two
/// equations overlap there, by 1 g/kg at 20 degC.
/// @param ratio >= 0
double wetBulb_degC(double temperature_degC, double ratio, double pressure_Pa);

/// Volume of the air that holds one kg of dry air (eq. 26). [m3/kg]
///
///     v = 287.042 (t + 273.15)(1 + 1.607858 W) / p
double airVolume_m3_kg(double temperature_degC, double ratio, double pressure_Pa);

/// Mass of air and vapour by volume, (1 + W) / v. [kg/m3]
double airDensity_kg_m3(double temperature_degC, double ratio, double pressure_Pa);

}  // namespace nightbank
