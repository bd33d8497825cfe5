#pragma once

#include <array>
#include <optional>
#include <span>

/// The start of a single-phase compressor motor: what it takes, for how long, and what a source
/// gives for that long. Everything is compared in amperes at the mains voltage: a locked motor's
/// power factor is so low that its watts say little.
///
/// Across the line (stock): the locked motor is an impedance, so its current follows the voltage,
///
///     I = LRA V / V_nameplate        for the run-up time, then the running current.
///
/// With a soft starter it is a current source of `cutsTo` LRA over its ramp, which passes or fails
/// by its own time; the torque rule does not hold for it. A hot restart, against the pressure that
/// is left, takes longer and not more: the locked current is set by voltage and winding.
namespace nightbank {

/// Locked-rotor apparent power per horsepower by code letter. [kVA/hp]
struct CodeLetter {
  char letter;
  double low, high;  ///< printed range; of A from 0; of V no upper end is printed: its lower one
};

/// NEC table 430.7(B) and NEMA MG 1 (seen); no I, O, Q. nullopt: no such letter
std::optional<CodeLetter> codeLetter(char letter) noexcept;

/// 1000 hp kVA/hp / V, single-phase. [A]
double lockedRotor_A(double kilovoltAmperePerHorsepower, double horsepower,
                     double voltage_V) noexcept;

/// Locked / full-load current of single-phase motors: NEC table 430.251(A) over 430.248, every row
/// (seen). What stands in where nothing is known.
inline constexpr double kLockedRatio = 6.0;

/// A clamp meter in inrush mode shows the mean square over its window: a start that is shorter
/// reads low. [A]
/// @param lasts_s  of the peak, at most the window
double windowed_A(double peak_A, double lasts_s, double after_A, double window_s) noexcept;

struct Motor {
  double lockedRotor_A = 0.0;  ///< at nameplate_V, of the compressor alone
  double nameplate_V = 115.0;
  double powerFactor = 0.6;  ///< locked, 0.5..0.75
  double runUp_s = 0.2;      ///< 0.1..0.3
};

struct SoftStart {
  double cutsTo = 0.4;  ///< of the locked-rotor current, 0.3..0.7
  double ramp_s = 0.8;  ///< 0.5..1
};

/// A restart against the pressure takes that many times the run-up.
inline constexpr double kHotRunUp = 2.0;

/// Current as effective values in and across the voltage. [A]
struct Phasor {
  double real_A = 0.0, reactive_A = 0.0;

  Phasor& operator+=(const Phasor& other) {
    real_A += other.real_A;
    reactive_A += other.reactive_A;
    return *this;
  }

  double magnitude_A() const noexcept;
};

Phasor phasorOf(double current_A, double powerFactor) noexcept;

/// Of the compressor motor alone at a voltage.
Phasor startCurrent(const Motor& motor, const std::optional<SoftStart>& soft,
                    double voltage_V) noexcept;

/// For how long.
double startTime_s(const Motor& motor, const std::optional<SoftStart>& soft, bool hot) noexcept;

/// What a source gives, for how long at most.
struct Surge {
  double current_A, lasts_s;
};

/// The current that a source gives for `time_s`: its rating up to each time of the list, falling
/// between two of them as a power of the time (a straight line on the log-log paper of trip curves,
/// common practice, no source), and the last one beyond the last time. [A]
/// @param surges  by time, longer ones with less current; at least one
double givenFor_A(std::span<const Surge> surges, double time_s) noexcept;

/// How long it gives `current_A`; +infinity up to the last one's current. [s]
double givenTime_s(std::span<const Surge> surges, double current_A) noexcept;

/// A source behind its impedance, loaded by the locked motor as an impedance.
struct Dip {
  double voltage_V, current_A;
};

/// V = E |Zm| / |Zs + Zm| with |Zm| = V_nameplate / LRA. Circuit theory (Thevenin).
Dip dip(const Motor& motor, double source_V, double resistance_ohm, double reactance_ohm) noexcept;

/// Torque goes with the square of the voltage: below these shares of the nameplate voltage most
/// compressors may stall, or do. From memory: 80 to 85 %.
inline constexpr double kMayStall = 0.85, kStalls = 0.80;

/// Performance class of a generating set. ISO 8528-5, deepest dip of the voltage for a step of the
/// load to the rated one: G1 25 %, G3 15 % (from memory), G2 20 % (seen).
enum class SetClass { g1, g2, g3 };
double deepestDip(SetClass setClass) noexcept;

/// Direct current for a mains current. [A]
double directCurrent_A(double mains_V, double current_A, double powerFactor, double efficiency,
                       double bank_V) noexcept;

/// The smallest usual size of a set or inverter at or above. NaN above 20 kW. [W]
/// `common practice, no source`: sizes as sets and inverters are sold.
double nextSize_W(double atLeast_W) noexcept;

}  // namespace nightbank
