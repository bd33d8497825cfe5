#pragma once

/// Long-wave radiation between a surface and the sky.
/// Arguments outside the ranges named or not finite: std::invalid_argument.
namespace nightbank {

/// Emissivity of a cloudless sky, seen from below as one temperature.
///
///     0.711 + 0.0056 T_d + 0.000073 T_d^2 + 0.013 cos(15 t) + 0.00012 (p - 1000 hPa)
///
/// Source: P. Berdahl, M. Martin, "Emissivity of clear skies", Solar Energy 32 (1984) 663-664; the
/// last term from their companion paper, Solar Energy 33 (1984) 321-336 (from memory). Fitted to
/// dew points of about -13 to 24 degC; below -38, where the parabola turns, held.
/// @param dewPoint_degC  -100..40
/// @param solarTime_h    any; repeats every 24 h
/// @param pressure_Pa    40e3..120e3
double clearSkyEmissivity(double dewPoint_degC, double solarTime_h, double pressure_Pa);

/// What cloud adds: 1 + 0.0224 N - 0.0035 N^2 + 0.00028 N^3, with N opaque tenths; 1..1.154.
/// Source: Walton (1983) with Clark & Allen (1978), as in building energy programs.
/// @param opaqueCloud 0..1
double cloudEmissivityFactor(double opaqueCloud);

/// The temperature of a black sky that radiates the same, T_air (K) times the fourth root of its
/// emissivity, which is not above 1. [degC]
/// @param emissivity  of the sky, above 0, cloud included
double skyTemperature_degC(double air_degC, double emissivity);

/// Net loss of a surface that sees nothing but sky; below 0 where the sky is warmer. [W/m2]
///
///     emissivity sigma (T_s^4 - T_sky^4)
/// @param emissivity  of the surface, 0..1; 0.9 for paint, 0.1..0.3 for bare metal
double skyLoss_W_m2(double emissivity, double surface_degC, double sky_degC);

/// The same per kelvin between the two, h_r = emissivity sigma (T_s^2 + T_sky^2)(T_s + T_sky).
/// [W/m2K]
double skyCoefficient_W_m2_K(double emissivity, double surface_degC, double sky_degC);

}  // namespace nightbank
