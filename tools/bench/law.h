#pragma once

#include "nightbank/simulate/plant.h"

/// The electrics of the references, written apart from the engine: same parameters and formulas,
/// other code. Unknown is the voltage at the bank's terminals at one instant.
namespace nightbank::bench {

/// What is connected. Constant between two events.
struct Circuit {
  double battery_W = 0.0;         ///< direct-current loads
  double inverterOutput_W = 0.0;  ///< on the inverter, alternating current
  double throughSwitch_W = 0.0;   ///< on the generator, without the charger
  double heat_W = 0.0;            ///< of loads and fan, into the cabin
  bool inverterOn = false;
  bool charging = false;  ///< the charger has its input
  bool bankFull = false;  ///< takes no charge
};

/// Bank current is positive on discharge.
struct Rates {
  double current_A = 0.0, voltage_V = 0.0;
  double inverter_A = 0.0, inverterVoltage_V = 0.0;
  double sun_W = 0.0, charger_W = 0.0;  ///< behind controller and charger, as used
  bool atLimit = false;                 ///< sources are held back
};

/// Open-circuit voltage by its own walk over the table. [V]
double restVoltage_V(const OcvCurve& curve, double soc);

/// Direct-current power of the inverter, its cable apart. [W]
double inverterInput_W(const InverterParams& inverter, double output_W);

/// @param sun_W    what the controllers could give
/// @param guess_V  near the voltage
/// @throws std::runtime_error where no voltage carries the loads
Rates ratesAt(const Plant& plant, const Circuit& circuit, double sun_W, double soc, double guess_V);

}  // namespace nightbank::bench
