#pragma once

#include <optional>
#include <string>
#include <vector>

#include "nightbank/scenario/cabin.h"
#include "nightbank/scenario/graded.h"

/// What draws power: air conditioners and other loads. As written, see scenario.h.
namespace nightbank::scenario {

/// The three ways in which a load reaches its power. `generator` stands for whatever comes in
/// through the transfer switch, shore power too.
struct FedFrom {
  bool battery = false, inverter = false, generator = false;
  bool given = false;
};

struct Running {
  CurrentAt current_A;  ///< at the feeder, fan on
  Graded power_W;       ///< or this
  Graded powerFactor;
  Graded powerPerKelvin;  ///< share of the watts that each kelvin above the reading's adds
  Graded outdoor_degC;    ///< of the reading; with a thermostat, or where watts follow the heat
};

enum class FanMode { automatic, on };  // words: auto, on

struct Fan {
  CurrentAt current_A;
  Graded power_W;  ///< or this
  Word<FanMode> mode;
  Graded heatInside;  ///< share of its power that warms the cabin; with a thermostat
};

enum class SoftStarter { no, yes };

struct SoftStarterRamp {
  Graded cutsTo;  ///< share of the locked-rotor current, 0..1
  Graded ramp_s;
};

/// Letters of NEC table 430.7(B), in its order.
enum class MotorCode { a, b, c, d, e, f, g, h, j, k, l, m, n, p, r, s, t, u, v };

/// What a start of the compressor takes.
struct Starting {
  bool isAssumed = false;   ///< not written: stands in where a start is tested without a run
  CurrentAt lockedRotor_A;  ///< of the compressor alone, at nameplate_V
  std::optional<Word<MotorCode>> codeLetter;  ///< or these two
  Graded horsepower;
  CurrentAt clampPeak_A;  ///< beside them
  Graded nameplate_V;
  Graded powerFactor;  ///< locked
  Graded lasts_s;
  std::optional<Word<SoftStarter>> softStarterWord;  ///< soft_starter: yes | no
  std::optional<SoftStarterRamp> softStarter;        ///< soft_starter: {cuts_to, ramp}
};

struct DutySpan {
  std::optional<double> from_s;  ///< after midnight; nullopt: the whole day (one share)
  Graded share;                  ///< compressor time on / all time, 0..1
  Graded cyclesPerHour;          ///< highest cycling rate (at a share of 50 %)
};

struct AirConditioner {
  std::string name;
  Graded cooling_W;
  FedFrom fedFrom;
  Hours hours;  ///< typical: while at home; else always
  Running running;
  std::optional<Fan> fan;
  std::optional<Starting> starting;
  Graded restartDelay_s;                   ///< after any break of supply
  Graded cutoff_V, reconnect_V;            ///< of a direct-current unit; not known: it has none
  Graded startsApart_s;                    ///< from another unit's start; not known: only one
  std::vector<DutySpan> duty;              ///< or
  std::vector<ThermostatSpan> thermostat;  ///< neither: not known, the answer has two ends
  std::optional<CoolingUnit> coolingUnit;  ///< filled in with a thermostat
};

struct Load {
  std::string name;
  FedFrom fedFrom;
  Graded power_W;
  CurrentAt current_A;   ///< or this
  Graded powerFactor;    ///< of a load at mains voltage
  Graded duty;           ///< mean share while in its hours, 0..1
  Graded dutyAt_degC;    ///< outdoor temperature at which that holds; not known: at any
  Graded dutyPerKelvin;  ///< what it gains per kelvin above; known with the one before
  Hours hours;
  Graded heatInside;  ///< share of its power that warms the cabin; with a thermostat
};

}  // namespace nightbank::scenario
