#pragma once

#include <optional>
#include <string>
#include <vector>

#include "nightbank/scenario/graded.h"

/// What converts and gives power: inverter, charger, arrays, generator, alternator, shore. As
/// written, see scenario.h.
namespace nightbank::scenario {

struct EfficiencyPoint {
  double load;        ///< 0..1 of continuous
  double efficiency;  ///< 0..1
};

struct Surge {
  Graded power_W;
  CurrentAt current_A;
  Graded lasts_s;
};

struct Cable {
  Graded resistance_ohm_m;  ///< of one conductor, 75 degC; from `size: 4/0 AWG` or `70 mm2`
  std::string size;         ///< as typed
  Graded oneWay_m;
  Graded conductor_degC;
  Graded joints;      ///< lugs, bars and switches in the loop
  Graded joint_ohm;   ///< of each; not known without joints
  Graded fuse_A;      ///< not known: none
  Graded fuseDrop_V;  ///< at its rating; not known without a fuse
};

struct Search {
  Graded below_W;  ///< a load below this does not wake it
  Graded draws_W;  ///< while it searches
};

struct Losses {
  Graded idle_W;
  Graded linear, quadratic;  ///< of the output; of its square per continuous power
};

/// Output lost per unit of excess: `3.5 % per 1000 ft above 0 ft`.
struct Slope {
  double perUnit = std::numeric_limits<double>::quiet_NaN();  ///< 1/m or 1/K
  double above = std::numeric_limits<double>::quiet_NaN();    ///< m or degC
  Grade grade = Grade::typical;
  bool given = false;
};

struct Inverter {
  Graded continuous_W;
  std::vector<Surge> surge;
  CurrentAt shortTime_A;  ///< for half a second; not known: the surge list says it
  std::vector<EfficiencyPoint> efficiency;  ///< one share alone is one point at 50 %
  Graded efficiencyGrade;                   ///< value unused: grade and given of the list above
  Graded idle_W;
  std::optional<Losses> losses;  ///< instead of the two above
  std::optional<Search> search;
  Graded cutoff_V, reconnect_V;
  Graded cutoffCompensation_ohm;
  Graded reconnectDelay_s;
  Graded overloadTrip_s;       ///< how long an overload is carried
  Slope heatDerating;          ///< not known: none
  Hours hours;                 ///< switched on; typical: always
  Word<YesNo> helpsGenerator;  ///< adds to a generator at its limit
  Graded heatInside;           ///< share of its losses that warms the cabin; with a thermostat
  std::optional<Cable> cable;
};

struct Charger {
  Graded outputCurrent_A;
  Graded efficiency;
  Graded powerFactor;
  CurrentAt inputLimit_A;
  Graded ramp_s;          ///< from connection to full output
  Word<YesNo> makesRoom;  ///< takes only what the generator has left beside the loads
  Graded heatInside;      ///< share of its losses that warms the cabin; with a thermostat
};

enum class Mounting { rack, raised, close, glued };
enum class Controller { mppt, pwm };

struct Shade {
  Hours hours;
  Graded share;  ///< of the sun that is lost, 0..1
};

struct Array {
  std::string name;
  Graded rated_W;  ///< at standard test conditions
  Graded tilt_deg;
  Graded facing_deg;  ///< clockwise from north
  Word<Mounting> mounting;
  Word<Controller> controller;
  Hours hours;                        ///< set out in the sun; typical: always
  Graded soiling;                     ///< share lost to dirt; not known: within `derate`
  Graded inSeries;                    ///< panels in a string
  Graded maximumPower_V;              ///< of one panel; not known: no voltage is checked
  Graded openCircuit_V;               ///< of one panel
  Graded openCircuitCoefficient_1_K;  ///< of its open-circuit voltage, negative
  Graded voltageLimit_V;              ///< highest that the controller stands
  Graded derate;                      ///< soiling, mismatch, ageing, wiring on the array's side
  Graded conversion;                  ///< efficiency of the controller
  Graded standby_W;                   ///< drawn by the controller, day and night
  Graded temperatureCoefficient_1_K;  ///< negative
  std::vector<Shade> shade;
};

struct Derating {
  Graded rule;  ///< number of a published rule that sets both slopes
  Slope altitude;
  Slope heat;
};

enum class FuelKind { petrol, propane };

struct TankTime {
  Graded load;  ///< 0..1 of continuous
  Graded for_s;
};

struct BurnRate {
  Graded load;
  Graded rate_m3_s;
};

struct Fuel {
  Word<FuelKind> kind;
  Graded ratingLeft;   ///< share of the running watts that is left on it
  Graded surgeLeft;    ///< share of the surge ratings
  Graded tank_m3;      ///< or
  Graded cylinder_kg;  ///< of propane
  std::vector<TankTime> tankLasts;
  std::vector<BurnRate> burns;
  Word<YesNo> refuel;   ///< somebody who is awake fills it
  Graded coolsFor_s;    ///< engine off, before it may be filled
  Graded price_per_m3;  ///< in the scenario's currency
};

enum class InQuietHours { never, atCutoff };

struct QuietRule {
  Graded startBelow;
};

struct GeneratorRule {
  Graded startBelow, stopAbove;  ///< state of charge, 0..1
  Graded startBelowVoltage_V;    ///< bank's terminals, under load
  Graded startAboveLoad_W;       ///< alternating current, the charger apart
  Graded stopBelowLoad_W;        ///< of a run that began so
  Graded heldFor_s;              ///< how long voltage or load must be there
  Graded leastRun_s, mostRun_s;
  Graded warmUp_s, coolDown_s;  ///< the generator's, where written here
  Word<InQuietHours> inQuietHours;
  std::optional<QuietRule> inQuietHoursBelow;  ///< in_quiet_hours: {start_below: 35 %}
};

/// Performance classes of generating sets, ISO 8528-5.
enum class SetClassWord { g1, g2, g3 };

/// What the engine's speed follows.
enum class Throttle { byLoad, fixedSpeed };

struct Generator {
  Graded continuous_W;
  Word<Throttle> throttle;
  std::vector<Surge> surge;
  CurrentAt shortTime_A;  ///< for half a second; not known: the surge list says it
  std::optional<Word<SetClassWord>> setClass;
  Graded reactance;  ///< transient, of its rating; not known: its electronics hold the voltage
  std::optional<Derating> derating;
  std::optional<Fuel> fuel;
  Graded overloadTrip_s;
  Graded sets;                  ///< equal ones in parallel
  Graded warmUp_s, coolDown_s;  ///< unloaded, before and after every run
  Graded startFails;            ///< of the first cranks of each start
  Graded retryAfter_s, givesUpAfter;
  Graded oilEvery_s;
  Hours run;  ///< started by hand at these hours
  std::optional<GeneratorRule> rule;
};

struct Alternator {
  Graded outputCurrent_A;
  Hours hours;
};

struct Shore {
  CurrentAt limit_A;
  Hours hours;
};

}  // namespace nightbank::scenario
