#pragma once

#include <cstdint>

namespace nightbank {

/// What may start the engine outside the allowed hours.
enum class QuietBehaviour : std::uint8_t { never, atCutoff, belowStart };

/// Start and stop of the generator by state of charge (0..1), and the times around every run.
struct GeneratorRule {
  bool active = false;  ///< false: by hand only
  double startBelow = 0.0;
  double stopAbove = 1.0;  ///< > startBelow
  double leastRun_s = 0.0;
  double warmUp_s = 0.0, coolDown_s = 0.0;  ///< engine on, no load
  QuietBehaviour quiet = QuietBehaviour::never;
  double quietStartBelow = 0.0;
};

/// No start that would leave less than this of loaded time in the hours. [s]
/// `common practice, no source`.
inline constexpr double kLeastLoaded_s = 600.0;

/// The shortest hours that a run may begin in: warm-up, cool-down and ten minutes of load. [s]
inline double leastWindow_s(const GeneratorRule& rule) {
  return rule.warmUp_s + rule.coolDown_s + kLeastLoaded_s;
}

/// Whether a run may still begin, with `left_s` until the engine must be off.
inline bool fitsBefore(const GeneratorRule& rule, double left_s) {
  return left_s >= leastWindow_s(rule);
}

}  // namespace nightbank
