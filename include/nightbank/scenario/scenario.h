#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "nightbank/scenario/graded.h"

/// What the user wrote, typed, in the units of `Dim`; no places, no YAML. Each struct has one field
/// list (scenario/fields.h) from which reading, help, schema, echo and edits come. A member's
/// unit is in its name; typical values are filled by resolve() on a copy, only where not given.
namespace nightbank::scenario {

struct Site {
  Graded latitude_deg;   ///< north positive
  Graded longitude_deg;  ///< east positive
  Graded elevation_m;
  Graded utcOffset_s;    ///< typical: longitude / 15, to the half hour
  Hours quietHours;      ///< nobody may run an engine
  Hours generatorHours;  ///< an engine may run only here; both: here and not in the quiet hours
};

struct Period {
  std::optional<Date> nightOf;  ///< 17:00 of that day to 09:00 of the next
  std::optional<double> from_s;  ///< local seconds since 1970
  std::optional<double> to_s;
  Graded step_s;  ///< caps a piece and sets the output grid; does not move the answer
};

enum class Air { dry, average, humid };
enum class Haze { mountain, desert, average, humid, hazy, smoke };

struct DesignDay {
  Graded high_degC, low_degC;
  Graded dewPoint_degC;  ///< or `air`
  Word<Air> air;
  Word<Haze> haze;
  Graded cloud;  ///< opaque share of the sky, 0..1
};

/// For checks by hand: the same weather at every hour.
struct ConstantWeather {
  Graded temperature_degC;
  Graded peakSun_s;  ///< length of 1000 W/m2 on the array a day, centred on 12:00
};

struct Weather {  // holder: one of
  std::optional<DesignDay> designDay;
  std::optional<ConstantWeather> constant;
};

struct Occupants {
  Graded count;
  Hours atHome;
  Hours asleep;
};

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
  Graded outdoor_degC;  ///< outdoor temperature of the reading (used with a cabin)
};

enum class FanMode { automatic, on };  // words: auto, on

struct Fan {
  CurrentAt current_A;
  Graded power_W;  ///< or this
  Word<FanMode> mode;
};

enum class SoftStarter { no, yes };

struct SoftStarterRamp {
  Graded cutsTo;  ///< share of the locked-rotor current, 0..1
  Graded ramp_s;
};

/// Read and checked; the start test is not part of this version's answer.
struct Starting {
  CurrentAt lockedRotor_A;
  CurrentAt clampPeak_A;
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
  Graded restartDelay_s;       ///< after any break of supply
  std::vector<DutySpan> duty;  ///< empty: not known, the answer has two ends
};

struct Load {
  std::string name;
  FedFrom fedFrom;
  Graded power_W;
  CurrentAt current_A;  ///< or this
  Graded powerFactor;   ///< of a load at mains voltage
  Graded duty;          ///< mean share while in its hours, 0..1
  Hours hours;
};

enum class Chemistry { flooded, agm, gel, lfp };

struct Rate {
  Graded capacity_Ah;
  Graded over_s;
  Graded downTo_V;
};

struct BatteryUnit {
  Graded voltage_V;
  Graded capacity_Ah;
};

struct Batteries {
  BatteryUnit each;
  Graded inSeries;
  Graded inParallel;
};

struct Bank {
  Word<Chemistry> chemistry;
  Graded voltage_V;
  Graded capacity_Ah;     ///< at `rated_over`, 25 degC
  Graded energy_J;        ///< `capacity: 7.68 kWh` lands here instead
  std::optional<Batteries> batteries;  ///< or units in series and parallel
  Graded ratedOver_s;
  Graded peukertExponent;
  std::vector<Rate> rates;  ///< or two or more rates
  Graded peukertWindow_s;
  Graded recoveryTime_s;
  Graded resistance_ohm;
  Graded chargeEfficiency;  ///< ampere-hours, 0..1
  Graded absorption_V;      ///< charge voltage limit
  Graded tailCurrent;       ///< share of capacity per hour, e.g. 0.02
  Graded startAt;           ///< state of charge at the beginning, 0..1
  Graded maxDepthOfDischarge;
};

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
};

struct Inverter {
  Graded continuous_W;
  std::vector<Surge> surge;
  std::vector<EfficiencyPoint> efficiency;  ///< one share alone is one point at 50 %
  Graded efficiencyGrade;                   ///< value unused: grade and given of the list above
  Graded idle_W;
  Graded cutoff_V, reconnect_V;
  Graded reconnectDelay_s;
  Graded overloadTrip_s;  ///< how long an overload is carried
  Hours hours;            ///< switched on; typical: always
  std::optional<Cable> cable;
};

struct Charger {
  Graded outputCurrent_A;
  Graded efficiency;
  Graded powerFactor;
  CurrentAt inputLimit_A;
};

enum class Mounting { rack, raised, close, glued };
enum class Controller { mppt };

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
  Graded derate;             ///< soiling, mismatch, ageing, wiring on the array's side
  Graded conversion;         ///< efficiency of the controller
  Graded temperatureCoefficient_1_K;  ///< negative
  std::vector<Shade> shade;
};

/// Output lost per unit of excess: `3.5 % per 1000 ft above 0 ft`.
struct Slope {
  double perUnit = std::numeric_limits<double>::quiet_NaN();  ///< 1/m or 1/K
  double above = std::numeric_limits<double>::quiet_NaN();    ///< m or degC
  Grade grade = Grade::typical;
  bool given = false;
};

struct Derating {
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
  Graded tank_m3;
  std::vector<TankTime> tankLasts;
  std::vector<BurnRate> burns;
  Graded price_per_m3;  ///< in the scenario's currency
};

enum class InQuietHours { never, atCutoff };

struct QuietRule {
  Graded startBelow;
};

struct GeneratorRule {
  Graded startBelow, stopAbove;  ///< state of charge, 0..1
  Graded leastRun_s;
  Graded warmUp_s, coolDown_s;  ///< unloaded, before and after every run
  Word<InQuietHours> inQuietHours;
  std::optional<QuietRule> inQuietHoursBelow;  ///< in_quiet_hours: {start_below: 35 %}
};

struct Generator {
  Graded continuous_W;
  std::vector<Surge> surge;
  std::optional<Derating> derating;
  std::optional<Fuel> fuel;
  Graded overloadTrip_s;
  Hours run;                    ///< started by hand at these hours
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

/// One value of one edit: path and its YAML text.
struct NamedEdit {
  std::string path, value;
};

struct Variant {
  std::string name;
  std::vector<NamedEdit> set;
};

struct Prices {
  std::string currency;
};

struct Scenario {
  std::string title;
  Graded mains_V;
  std::optional<Site> site;
  Period period;
  std::optional<Weather> weather;
  std::optional<Occupants> occupants;
  std::vector<AirConditioner> airConditioners;
  std::vector<Load> loads;
  Bank bank;
  std::optional<Inverter> inverter;
  std::optional<Charger> charger;
  std::vector<Array> solar;
  std::optional<Generator> generator;
  std::optional<Alternator> alternator;
  std::optional<Shore> shore;
  std::vector<Variant> variants;
  std::optional<Prices> prices;
};

}  // namespace nightbank::scenario
