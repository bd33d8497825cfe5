#pragma once

/// Mains charger of the bank.
///
///     P_in = P_out / eta       S_in = P_in / pf
///
/// Typical, from memory: efficiency 0.85..0.93; power factor 0.95 and above where corrected,
/// 0.6..0.7 where not. The power factor loads the source's volt-amperes, never its watts or its
/// fuel.
namespace nightbank {

struct ChargerParams {
  double outputCurrent_A = 0.0;  ///< >= 0, into the bank
  double efficiency = 0.88;      ///< (0, 1], direct-current output / alternating-current input
  double powerFactor = 0.95;     ///< (0, 1]
  double inputLimit_VA = 1e300;  ///< > 0, set on the charger or by its breaker
};

/// @throws std::invalid_argument naming the first member that is out of its range
void validate(const ChargerParams& params);

/// Highest direct-current output that the input limit allows. [W]
double outputLimit_W(const ChargerParams& params) noexcept;
/// Alternating-current input for an output of `outputPower_W`. [W]
double inputPower_W(const ChargerParams& params, double outputPower_W) noexcept;
/// What the source must carry for it. [VA]
double inputApparent_VA(const ChargerParams& params, double outputPower_W) noexcept;

}  // namespace nightbank
