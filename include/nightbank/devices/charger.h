#pragma once

/// Mains charger of the bank.
///
///     P_in = P_out / eta       S_in = P_in / pf
///
/// Typical, from memory: efficiency 0.85..0.93; power factor 0.95 and above where corrected,
/// 0.6..0.7 where not; 30 s to 2 min from connection to full output, `common practice, no source`
/// (small sets stall where the whole load comes at once). The power factor loads the source's
/// volt-amperes, never its watts or its fuel.
namespace nightbank {

struct ChargerParams {
  double outputCurrent_A = 0.0;  ///< >= 0, into the bank
  double efficiency = 0.88;      ///< (0, 1], direct-current output / alternating-current input
  double powerFactor = 0.95;     ///< (0, 1]
  double inputLimit_VA = 1e300;  ///< > 0, set on the charger or by its breaker
  double ramp_s = 0.0;           ///< >= 0, from its connection to full output
  bool makesRoom = false;        ///< takes only what the generator has left beside the loads
};

/// A ramp is walked in this many equal steps.
inline constexpr int kRampSteps = 5;

/// Share of the full output on step 0 .. kRampSteps - 1 of the ramp, 0..1. A charger's output rises
/// in a straight line; each step holds the line's mean over it, so that charge and energy of the
/// whole ramp are the line's own.
constexpr double rampShare(int step) noexcept {
  return (step + 0.5) / kRampSteps;
}

/// @throws std::invalid_argument naming the first member that is out of its range
void validate(const ChargerParams& params);

/// Highest direct-current output that the input limit allows. [W]
double outputLimit_W(const ChargerParams& params) noexcept;
/// Alternating-current input for an output of `outputPower_W`. [W]
double inputPower_W(const ChargerParams& params, double outputPower_W) noexcept;
/// What the source must carry for it. [VA]
double inputApparent_VA(const ChargerParams& params, double outputPower_W) noexcept;

}  // namespace nightbank
