#pragma once

#include <cmath>
#include <optional>
#include <string_view>

/// Copper cable on the direct-current side: resistance by size, and the current a load behind it
/// draws. Says nothing of ampacity or fuses: those follow the local code.
namespace nightbank {

/// Direct-current resistance of one copper conductor at 75 degC. [ohm/m]
/// @param size  "14 AWG" to "1 AWG", "1/0 AWG" to "4/0 AWG": NEC chapter 9 table 8, uncoated copper
///              (14 to 8 its solid rows, thicker ones stranded). "1.5 mm2" to "240 mm2", the
///              nominal sizes of IEC 60228: 17.241 nohm m at 20 degC (IEC 60028) and 0.00393/K over
///              the nominal area; that standard allows a real conductor 5 to 10 % more (from
///              memory). The blank is optional; nothing else is.
/// @returns nullopt: no such size
std::optional<double> conductorResistance_ohm_m(std::string_view size);

/// R(T) = R75 (1 + 0.00323 (T - 75)). [ohm/m]
/// Source: note 2 of NEC chapter 9 table 8 (coefficient from memory); copper, -50 to 150 degC.
double atTemperature_ohm_m(double at75_ohm_m, double conductor_degC) noexcept;

/// Out and back: 2 R L. [ohm]
double loopResistance_ohm(double resistance_ohm_m, double oneWay_m) noexcept;

/// Of a fuse, from the voltage across it at its rating. [ohm]
double fuseResistance_ohm(double rating_A, double dropAtRating_V) noexcept;

/// A fuse carries a load that lasts for hours where its rating is at least this times the current.
/// Source: NEC 210.20 and 215.3 (from memory).
inline constexpr double kContinuousLoadFactor = 1.25;

/// The smallest standard rating at or above a current; NaN above 6000 A. [A]
/// Source: NEC 240.6(A), standard ampere ratings (from memory). The conductor must carry at least
/// the fuse's rating by the local code, which this does not know.
double nextFuse_A(double atLeast_A) noexcept;

/// Current into a constant-power consumer behind `loop_ohm`, fed at `source_V`: the root of
/// V I - R I^2 = P near P/V, written so that R = 0 needs no case of its own. [A]
/// A negative power feeds the source. NaN where the source cannot deliver it, P > V^2 / (4 R).
inline double currentThroughCable_A(double source_V, double loop_ohm, double power_W) noexcept {
  return 2.0 * power_W / (source_V + std::sqrt(source_V * source_V - 4.0 * loop_ohm * power_W));
}

}  // namespace nightbank
