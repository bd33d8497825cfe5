#pragma once

#include <optional>
#include <string>
#include <vector>

#include "nightbank/scenario/graded.h"

/// The battery bank. As written, see scenario.h.
namespace nightbank::scenario {

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
  Graded stringsLost;
};

/// Warms the batteries, from the bank itself.
struct Heater {
  Graded power_W;
  Graded lifts_K;  ///< above the air around, once it has been on for long
  Hours hours;
};

/// A current that the protection lets pass only for so long.
struct CurrentLimit {
  Graded current_A;
  Graded lasts_s;
};

enum class RateModel { peukert, twoWell };

/// The kinetic model's constants, at the bank's own size.
struct TwoWell {
  Graded total_Ah;
  Graded fastShare;
  Graded refillTime_s;  ///< 1/k of the paper's k-prime
};

/// What the battery monitor is set to. It shows, and changes nothing.
struct Monitor {
  Graded capacity_Ah;
  Graded peukertExponent;
  Graded chargeEfficiency;  ///< ampere-hours, 0..1
  Graded reset_V;
  Graded resetCurrent;  ///< share of its capacity per hour
  Graded resetAfter_s;
  Graded currentOffset_A;  ///< positive reads as discharge
};

struct Bank {
  Word<Chemistry> chemistry;
  Graded voltage_V;
  Graded capacity_Ah;                  ///< at `rated_over`, 25 degC
  Graded energy_J;                     ///< `capacity: 7.68 kWh` lands here instead
  std::optional<Batteries> batteries;  ///< or units in series and parallel
  Graded ratedOver_s;
  Graded peukertExponent;
  std::vector<Rate> rates;                   ///< or two or more rates
  std::optional<Word<RateModel>> rateModel;  ///< absent: two wells where the rates allow it
  std::optional<TwoWell> twoWell;
  Graded peukertWindow_s;
  Graded recoveryTime_s;
  Graded resistance_ohm;
  Graded polarisation_V;      ///< scale of the overvoltage under load, whole bank
  Graded polarisationTime_s;  ///< in which its slow part builds up and fades
  Graded chargeAcceptance_s;  ///< missing ampere-hours / current that the limit lets in
  Graded chargeEfficiency;    ///< ampere-hours, 0..1
  Graded selfDischarge;       ///< share of the capacity in 30 days
  Graded temperature_degC;    ///< of the cells
  Graded warmsIn_s;           ///< time constant with which the cells follow the air
  Graded coldestCharge_degC, hottestCharge_degC;  ///< the protection lets no charge in beyond
  std::optional<Heater> heater;
  Graded lowTrip_V;                         ///< the protection takes the bank off below
  Graded highTrip_V, highReconnect_V;       ///< it lets no charge in from one down to the other
  std::vector<CurrentLimit> currentLimits;  ///< of the protection, on discharge
  std::vector<CurrentLimit> chargeCurrentLimits;  ///< the same on charge
  Graded protectionReset_s;                       ///< it closes again after this
  Graded absorption_V;                            ///< charge voltage limit at 25 degC
  Graded float_V;                                 ///< the same once it is full
  Graded compensation_V_K;                        ///< by which a charger changes both, whole bank
  Graded tailCurrent;                             ///< share of capacity per hour, e.g. 0.02
  Graded startAt;                                 ///< state of charge at the beginning, 0..1
  Graded maxDepthOfDischarge;
  Graded ageing;  ///< share of the capacity as rated that is left
  std::optional<Monitor> monitor;
};

}  // namespace nightbank::scenario
