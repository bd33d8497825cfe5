#pragma once

#include <array>
#include <cstddef>

/// Humidity ratio of saturated air at one pressure, tabulated, for the simulation loop.
namespace nightbank {

inline constexpr double kSaturationColdest_degC = -40.0;
inline constexpr double kSaturationHottest_degC = 60.0;
inline constexpr std::size_t kSaturationKnots = 201;
inline constexpr double kSaturationStep_K =
    (kSaturationHottest_degC - kSaturationColdest_degC) / static_cast<double>(kSaturationKnots - 1);

/// A humidity ratio and how it rises with temperature.
struct SaturatedAir {
  double ratio = 0.0, slope_1_K = 0.0;
};

/// Over water, below freezing too: the step to ice would be a kink in the loop.
struct SaturationTable {
  double pressure_Pa = 0.0;
  std::array<SaturatedAir, kSaturationKnots> knots{};  ///< from the coldest, step by step
};

/// From `saturationPressureOverWater_Pa`.
/// @param pressure_Pa 40e3..120e3
/// @throws std::invalid_argument outside
SaturationTable saturationTable(double pressure_Pa);

/// Cubic between the knots, smooth in its slope: within 1e-10 of the exact ratio up to 35 degC,
/// 2e-9 up to 60. Held at both ends; NaN counts as the coldest.
inline SaturatedAir saturatedAt(const SaturationTable& table, double temperature_degC) noexcept {
  const double position = (temperature_degC - kSaturationColdest_degC) / kSaturationStep_K;
  if (!(position > 0.0))
    return {.ratio = table.knots.front().ratio, .slope_1_K = 0.0};
  if (position >= static_cast<double>(kSaturationKnots - 1))
    return {.ratio = table.knots.back().ratio, .slope_1_K = 0.0};
  const auto below = static_cast<std::size_t>(position);
  const double u = position - static_cast<double>(below);
  const SaturatedAir& a = table.knots[below];
  const SaturatedAir& b = table.knots[below + 1];
  const double rise = b.ratio - a.ratio;
  const double early = a.slope_1_K * kSaturationStep_K - rise;
  const double late = rise - b.slope_1_K * kSaturationStep_K;
  const double bend = early * (1.0 - u) + late * u;
  return {.ratio = a.ratio + u * (rise + (1.0 - u) * bend),
          .slope_1_K =
              (rise + (1.0 - 2.0 * u) * bend + u * (1.0 - u) * (late - early)) / kSaturationStep_K};
}

}  // namespace nightbank
