#pragma once

#include "nightbank/simulate/flows.h"
#include "nightbank/simulate/heat.h"
#include "nightbank/simulate/outcome.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/simulate/recorder.h"
#include "nightbank/simulate/state.h"

namespace nightbank {

/// Books of a run. Every entry comes from its own formula; none is a remainder.
struct Ledger {
  EnergyOutcome energy_J;
  GeneratorOutcome generator;
  InverterOutcome inverter;
  CabinOutcome cabin;
  OutsideTimes outside_s{};
  double bankThroughput_J = 0.0;
  double bankTerminal_J = 0.0;  ///< given by the bank at its terminals, net
  double lowestSoc = 1.0;
  double lowestAt_s = 0.0;
};

/// Books one accepted piece from `before` to `after`, and its share of the output grid and of the
/// run.
/// @param bank  the same span, from the bank before
void book(Ledger& ledger, Recorder& recorder, const Plant& plant, const State& before,
          const State& after, const Demand& demand, const Flows& flows, const BankSpan& bank);

/// Books the same piece of the cabin.
/// @param law  as it held at the piece's start
void bookHeat(Ledger& ledger, Recorder& recorder, const Plant& plant, const State& before,
              const State& after, const HeatLaw& law, const HeatCourse& heat);

/// Notes the voltage at the inverter's terminals at one instant, of the latest booked interval too.
/// With modes held it has its extremes at the ends of a piece.
void noteInverterVoltage(Ledger& ledger, Recorder& recorder, const Demand& demand, const Flows& now,
                         double at_s);

/// The cabin's books at the start of a run.
CabinOutcome openCabin(const Plant& plant);

/// Closes the cabin's books.
void closeCabin(CabinOutcome& cabin, const Plant& plant, const State& end);

/// Closes the books: change of the bank and of the cabin, and the residuals.
void closeBooks(Ledger& ledger, const Recorder& recorder, const Plant& plant, const State& end);

}  // namespace nightbank
