#pragma once

/// Heat of people in the cabin.
///
///     S(T) = S_24 (1 - (0.2 / 3 K)(T - 24 degC)), 0..total;   L = total - S
///
/// The total is the body's, whatever the room; in warmth more of it is sweat and breath: at 27 degC
/// sensible is 20 % less, latent more by the same watts.
/// Source: ASHRAE Handbook - Fundamentals (2013), ch. 18, table 1 and its note (seen). Awake:
/// seated, very light work, 70 + 45 W at 24 degC. Asleep: 0.7 met, 40 W/m2, of 1.8 m2 of skin (same
/// handbook, ch. 9; seen) is 72 W, of it 45 W sensible (scaled, from memory).
/// Children count about three quarters of an adult (same table's note).
namespace nightbank {

enum class Activity { awake, asleep };

struct OccupantHeat {
  double sensible_W = 0.0;  ///< >= 0, to air and walls
  double latent_W = 0.0;    ///< >= 0, over the latent heat (humid_air.h) the water given off
};

/// One adult. For the loop.
OccupantHeat occupantHeat(Activity activity, double room_degC) noexcept;

}  // namespace nightbank
