#pragma once

#include <cstddef>

/// Irradiance under a cloudless sky.
/// Arguments outside the ranges named or not finite: std::invalid_argument.
namespace nightbank {

/// What falls on the ground. global = beam cos(zenith) + diffuse.
struct Irradiance {
  double global_W_m2;   ///< on the horizontal, >= 0
  double beam_W_m2;     ///< on a plane that faces the sun (direct normal), >= 0
  double diffuse_W_m2;  ///< on the horizontal, >= 0
};

/// Relative optical air mass, 1 overhead (to 0.0003), 37.9 at the horizon.
///
///     m = 1 / [sin b + 0.50572 (6.07995 + b)^-1.6364]      b = 90 - zenith, in degrees
///
/// Source: F. Kasten, A. T. Young, "Revised optical air mass tables and approximation formula",
/// Applied Optics 28 (1989) 4735; ASHRAE Handbook - Fundamentals (2021), ch. 14, eq. 16.
/// @param apparentZenith_deg 0..90
double airMass(double apparentZenith_deg);

/// Pressure of the standard atmosphere.
///
///     p = 101325 (1 - 2.25577e-5 z)^5.2559      [Pa]
///
/// Source: ASHRAE Handbook - Fundamentals, ch. 1, eq. 3.
/// @param elevation_m -500..11000
double standardPressure_Pa(double elevation_m);

/// Irradiance under a cloudless sky of a given Linke turbidity, with absolute air mass at the
/// standard pressure of the elevation. All zero where the sun is at or below the horizon.
///
/// Source: P. Ineichen, R. Perez, "A new airmass independent formulation for the Linke turbidity
/// coefficient", Solar Energy 73(3) (2002) 151-157, without the later enhancement factor
/// exp(0.01 m^1.8), which misbehaves at the horizon.
/// @param zenith_deg             0..180. The formula wants the apparent zenith; the geometric one,
///                               which the rest of this room uses, takes 0.1 % from a summer day
///                               and 0.3 % from a midwinter one (measured at 26 to 47 N)
/// @param extraterrestrial_W_m2  >= 0
/// @param elevation_m            -500..11000; over about 4000 m the global irradiance is held down
/// to
///                               what comes from the sun, which the fit alone would pass
/// @param linkeTurbidity         1 (clean dry air) .. 20; a usual sky has 2 to 7
Irradiance clearSky(double zenith_deg, double extraterrestrial_W_m2, double elevation_m,
                    double linkeTurbidity);

/// Words for the haze of a summer sky.
enum class Haze { mountain, desert, average, humid, hazy, smoke };
inline constexpr std::size_t kHazeWords = 6;

/// Linke turbidity of each word: 2, 2.5, 3, 4, 5, 6.5. Common practice, no source: our own mapping
/// within the range of published monthly maps.
double hazeTurbidity(Haze haze);

}  // namespace nightbank
