#pragma once

#include <cstdint>
#include <limits>

namespace nightbank {

/// What may start the engine outside the allowed hours.
enum class QuietBehaviour : std::uint8_t { never, atCutoff, belowStart };

/// Conditions that count once they have lasted.
enum class Condition : std::uint8_t {
  lowVoltage,  ///< of the bank, under load: starts the engine
  highLoad,    ///< of alternating current: starts it
  lowLoad,     ///< the same: ends a run that began with a high load
};
inline constexpr int kConditions = 3;

/// Start and stop of the generator, and the times around every run. State of charge 0..1.
struct GeneratorRule {
  bool active = false;      ///< false: by hand only
  double startBelow = 0.0;  ///< state of charge; below 0: not by it
  double stopAbove = 1.0;   ///< > startBelow
  double leastRun_s = 0.0;
  double mostRun_s = std::numeric_limits<double>::infinity();  ///< warm-up and cool-down included
  double startBelow_V = 0.0;                                   ///< bank's terminals; 0: not by it
  double recoversBy_V = 0.0;  ///< above startBelow_V: the voltage is low no more
  double startAbove_W = std::numeric_limits<double>::infinity();
  double stopBelow_W = 0.0;
  double heldFor_s = 0.0;                   ///< how long a condition must last
  double warmUp_s = 0.0, coolDown_s = 0.0;  ///< engine on, no load
  QuietBehaviour quiet = QuietBehaviour::never;
  double quietStartBelow = 0.0;
};

/// Whether voltage or load have a say.
inline bool watchesConditions(const GeneratorRule& rule) {
  return rule.active &&
         (rule.startBelow_V > 0.0 || rule.startAbove_W < std::numeric_limits<double>::infinity());
}

/// How the engine takes to being cranked.
struct Cranking {
  int fails = 0;               ///< of the first cranks of each start
  double retryAfter_s = 60.0;  ///< > 0
  int givesUpAfter = 3;        ///< failed cranks in a row
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
