#include "nightbank/simulate/flows.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "nightbank/devices/wiring.h"
#include "nightbank/numerics/interpolate.h"
#include "nightbank/numerics/root.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

constexpr int kMostIterations = 40;
/// Newton's error after a step of this relative size: its square times the bend, some hundredths,
/// so 1e-11. A bank held at its limit may be next to full, where its voltage bends without bound.
constexpr double kLastStep = 1e-5, kLastStepHeld = 3e-7;
constexpr double kEdge_A = 1e-9;  ///< next to no current at all

/// What hangs on the bank's terminals, as functions of their voltage.
struct Terminals {
  double load_W, inverter_W, cable_ohm;                     // consumers
  double sun_W, sun_A, charger_A, charger_W, alternator_A;  // sources, at most

  bool haveSources() const {
    return sun_W > 0.0 || sun_A > 0.0 || charger_A > 0.0 || alternator_A > 0.0;
  }

  double sunMost_A(double voltage_V) const { return sun_W / voltage_V + sun_A; }

  double inverter_A(double voltage_V) const {
    return inverter_W > 0.0 ? currentThroughCable_A(voltage_V, cable_ohm, inverter_W) : 0.0;
  }

  double chargerMost_A(double voltage_V) const {
    return std::min(charger_A, charger_W / voltage_V);
  }

  /// What the loads take beyond what the sources give at most, and its slope against the voltage.
  struct Net {
    double current_A, slope_A_V;
  };

  Net net(double voltage_V) const {
    const double toInverter_A = inverter_A(voltage_V);
    const bool chargerAtItsPower = charger_W < charger_A * voltage_V;
    const double constantPower_W = load_W - sun_W - (chargerAtItsPower ? charger_W : 0.0);
    const double constant_A = alternator_A + sun_A + (chargerAtItsPower ? 0.0 : charger_A);
    const double perVolt = 1.0 / voltage_V, perVolt_A = constantPower_W * perVolt;
    return {perVolt_A + toInverter_A - constant_A,
            -perVolt_A * perVolt - toInverter_A / (voltage_V - 2.0 * cable_ohm * toInverter_A)};
  }
};

/// The bank over the piece: its mean voltage as a function of its current.
struct Bank {
  const BankParams& params;
  const BankState& state;
  const BankSpan& span;

  BankVoltage operator()(double current_A) const {
    return meanVoltage(params, state, span, current_A);
  }
};

/// A current of the bank, discharge positive, and its mean voltage there.
struct Solution {
  double current_A, voltage_V;
};

/// Where a search begins: a current, and what the bank says to it.
struct Guess {
  double current_A;
  BankVoltage bank;
};

/// Newton's way to the bank's current with every source at its most. Nothing: it leads nowhere.
/// A lead bank resists charge more than discharge, so the slope jumps where the current turns: the
/// side on which the root lies is entered at its edge, and kept to. Flat: calls of the
/// bank's law were 2 % of a run.
[[gnu::flatten]] std::optional<Solution> solveByNewton(const Bank& bank, const Terminals& terminals,
                                                       const Guess& guess) {
  auto [current_A, here] = guess;
  for (int i = 0; i < kMostIterations; ++i, here = bank(current_A)) {
    if (!(here.voltage_V > 0.0))
      return {};
    const Terminals::Net net = terminals.net(here.voltage_V);
    if (current_A * net.current_A < 0.0) {
      if (std::abs(current_A) <= kEdge_A && std::abs(net.current_A) <= kEdge_A)
        return Solution{current_A, here.voltage_V};
      current_A = std::copysign(kEdge_A, net.current_A);
      continue;
    }
    const double residual_A = current_A - net.current_A;
    const double slope = 1.0 - net.slope_A_V * here.slope_ohm;
    if (!(slope > 0.0) || !std::isfinite(residual_A))
      return {};
    const double step_A = residual_A / slope;
    const double before_A = current_A, next_A = current_A - step_A;
    current_A = next_A * current_A < 0.0 ? std::copysign(kEdge_A, current_A) : next_A;
    if (std::abs(step_A) <= kLastStep * (1.0 + std::abs(current_A)))
      return Solution{current_A, here.voltage_V + here.slope_ohm * (current_A - before_A)};
  }
  return {};
}

/// Bank current with every source at its most. Nothing: no current carries this power.
/// Near full, a lead bank's charge is so steep that an inverter which takes less at more volts lets
/// the bus have several currents; then the one next to rest is meant, and bracketed.
std::optional<Solution> solveFree(const Bank& bank, const Terminals& terminals,
                                  const Guess& guess) {
  if (const auto found = solveByNewton(bank, terminals, guess))
    return found;
  const double rest_V = bank(0.0).voltage_V;
  if (terminals.net(rest_V).current_A >= 0.0)
    return solveByNewton(bank, terminals, {kEdge_A, bank(kEdge_A)});
  const double most_A =
      1.0 + terminals.sunMost_A(rest_V) + terminals.charger_A + terminals.alternator_A;
  const auto residual_A = [&](double charge_A) {
    return terminals.net(bank(-charge_A).voltage_V).current_A + charge_A;
  };
  const double atRest_A = residual_A(0.0), beyond_A = residual_A(most_A);
  if (!(atRest_A < 0.0 && beyond_A > 0.0))
    return {};
  const double current_A =
      -bracketedRoot(residual_A, 0.0, atRest_A, most_A, beyond_A, kLastStepHeld);
  return Solution{current_A, bank(current_A).voltage_V};
}

/// Whether the bank takes a charge at all, below its voltage limit.
bool takesCharge(const Plant& plant, const State& state) {
  const bool isFilled = plant.bank.overvoltage.crowding_Vh > 0.0
                            ? missing_Ah(plant.bank, state.bank) <= 0.0
                            : state.bankFull;  // nothing else would end its charge
  return !isFilled && !chargeIsBlocked(plant, state);
}

/// The deepest charging current that the bank takes, at most 0, and its voltage there: the charge
/// voltage limit, a full bank's float voltage, or what it rests at above that.
struct DeepestCharge {
  double current_A, voltage_V, slope_ohm;
  double rest_V;  ///< without a current
};

/// Up to where the bank may be charged.
struct ChargeLimit {
  double voltage_V;
  bool takesCharge;

  /// Worth a look before all else.
  bool isNear(const Guess& guess) const {
    constexpr double kNear = 0.99;
    return !takesCharge || (guess.current_A < 0.0 && guess.bank.voltage_V > kNear * voltage_V);
  }

  /// Whether what the sources would give at the limit lifts the bank above it.
  bool isExceeded(const Bank& bank, const Terminals& terminals) const {
    if (!takesCharge)
      return true;
    const double given_A = terminals.net(voltage_V).current_A;
    return given_A < 0.0 && bank(given_A).voltage_V > voltage_V;
  }
};

ChargeLimit chargeLimit(const Plant& plant, const State& state) {
  return {state.bankFull ? plant.bank.float_V : plant.bank.absorption_V, takesCharge(plant, state)};
}

DeepestCharge deepestCharge(const Bank& bank, const ChargeLimit& limit, const Guess& guess) {
  const Guess rest{0.0, bank(0.0)};
  const double rest_V = rest.bank.voltage_V;
  if (!limit.takesCharge || rest_V >= limit.voltage_V)
    return {0.0, rest_V, rest.bank.slope_ohm, rest_V};
  auto [current_A, here] = guess.current_A < 0.0 ? guess : rest;
  for (int i = 0; i < kMostIterations; ++i, here = bank(current_A)) {
    const double step_A = (here.voltage_V - limit.voltage_V) / here.slope_ohm;
    current_A -= step_A;
    if (std::abs(step_A) <= kLastStepHeld * (1.0 + std::abs(current_A)))
      break;
  }
  return {std::min(current_A, 0.0), limit.voltage_V, here.slope_ohm, rest_V};
}

/// The bank's current and voltage, and how its charge stands to its limit.
struct Settled {
  std::optional<Solution> solution;  ///< nothing: no current carries the loads
  double wanted_A;                   ///< of the bank, were it not for its limit
  double kink = 0.0;                 ///< from its voltage to the limit; below 0: held there
};

/// Of a bank charged as deep as it may be. As its kink roughly what its voltage would lie above the
/// limit were it not held: straight on from that of a bank below it, so that it is located soon.
Settled settledAt(const DeepestCharge& most, const Terminals& terminals) {
  constexpr double kLeast_ohm = 1e-9;
  const double atLimit_A = terminals.net(most.voltage_V).current_A;
  return {Solution{most.current_A, most.voltage_V}, atLimit_A,
          (atLimit_A - most.current_A) * std::max(-most.slope_ohm, kLeast_ohm)};
}

/// Of a bank that no limit holds.
Settled settledFree(const Bank& bank, const Terminals& terminals, const Guess& guess) {
  const std::optional<Solution> free = solveFree(bank, terminals, guess);
  return {free, free ? free->current_A : guess.current_A};
}

/// With sources that could bring it to its limit.
Settled settledCharged(const Bank& bank, const Terminals& terminals, const ChargeLimit& limit,
                       const Guess& guess) {
  if (limit.isNear(guess) && limit.isExceeded(bank, terminals)) {
    const DeepestCharge most = deepestCharge(bank, limit, guess);
    const Settled held = settledAt(most, terminals);
    // As long as the sources outdo the loads of a bank at rest.
    if (held.kink < 0.0 && terminals.net(most.rest_V).current_A < 0.0)
      return held;
  }
  Settled settled = settledFree(bank, terminals, guess);
  const std::optional<Solution>& free = settled.solution;
  if (free && free->current_A >= 0.0)
    return settled;
  if (limit.takesCharge && free && free->voltage_V < limit.voltage_V) {
    settled.kink = limit.voltage_V - free->voltage_V;
    return settled;
  }
  const Settled held = settledAt(deepestCharge(bank, limit, guess), terminals);
  if (held.kink < 0.0)
    return held;
  settled.kink = held.kink;
  return settled;
}

const SunPiece& sunPiece(const Plant& plant, const State& state) {
  return plant.sun[state.sun];
}

/// What the source behind the transfer switch can carry.
double inputLimit_VA(const Plant& plant, const State& state, double time_s) {
  return state.acInput == AcInput::shore ? plant.sources[static_cast<int>(Source::shore)].limit_VA
                                         : generatorLimit_VA(plant, time_s);
}

Terminals terminalsAt(const Plant& plant, const State& state, const Demand& demand,
                      double middle_s) {
  Terminals terminals{demand.battery_W, demand.inverterDc_W, plant.cableLoop_ohm, 0, 0, 0, 0, 0};
  const SunPiece& sun = sunPiece(plant, state);
  terminals.sun_W = std::max(0.0, sun.output_W + sun.outputSlope_W_s * (middle_s - sun.start_s));
  terminals.sun_A = std::max(0.0, sun.tied_A + sun.tiedSlope_A_s * (middle_s - sun.start_s));
  if (plant.hasCharger && state.acInput != AcInput::none) {
    terminals.charger_A = state.charger.share * plant.charger.outputCurrent_A;
    terminals.charger_W = outputLimit_W(plant.charger);
    if (state.acInput == AcInput::shore || plant.charger.makesRoom) {
      const double left_VA = inputLimit_VA(plant, state, middle_s) - demand.onInput_VA;
      terminals.charger_W = std::clamp(
          left_VA * plant.charger.efficiency * plant.charger.powerFactor, 0.0, terminals.charger_W);
    }
  }
  if (plant.segments[state.segment].alternator)
    terminals.alternator_A = plant.alternator_A;
  return terminals;
}

/// Shares out among the sources what the bank and the loads take: the sun first, it is free.
void shareSources(const Plant& plant, const State& state, const Terminals& terminals,
                  double middle_s, Flows& flows) {
  const double voltage_V = flows.bankVoltage_V;
  const double load_A = terminals.load_W / voltage_V + flows.inverterCurrent_A;
  const double needed_A = std::max(0.0, load_A - flows.bankCurrent_A);
  double left_A = needed_A;
  const double sun_A = terminals.sunMost_A(voltage_V);
  const double sunUsed_A = flows.atVoltageLimit ? std::min(sun_A, left_A) : sun_A;
  left_A = std::max(0.0, left_A - sunUsed_A);
  const double charger_A = flows.atVoltageLimit
                               ? std::min(terminals.chargerMost_A(voltage_V), left_A)
                               : terminals.chargerMost_A(voltage_V);
  left_A = std::max(0.0, left_A - charger_A);
  const double alternator_A =
      flows.atVoltageLimit ? std::min(terminals.alternator_A, left_A) : terminals.alternator_A;

  flows.sunOutput_W = sunUsed_A * voltage_V;
  flows.chargerOutput_W = charger_A * voltage_V;
  flows.alternator_W = alternator_A * voltage_V;
  if (sun_A > 0.0) {
    const SunPiece& sun = sunPiece(plant, state);
    const double tied_W = terminals.sun_A * voltage_V;
    flows.sunShare = sunUsed_A / sun_A;
    flows.sunArrayAvailable_W =
        std::max(0.0, sun.array_W + sun.arraySlope_W_s * (middle_s - sun.start_s)) + tied_W;
    flows.sunArray_W = flows.sunArrayAvailable_W * flows.sunShare;
    flows.sunTied_W = tied_W * flows.sunShare;
  }
  if (flows.atVoltageLimit)  // before sunrise too: the sun may overtake the loads within the piece
    flows.kinks[static_cast<int>(Kink::curtailment)] = sun_A - needed_A;
}

}  // namespace

void findFlows(const Plant& plant, const State& state, const Demand& demand, const BankSpan& span,
               double guess_A, Flows& flows) {
  const Bank bank{plant.bank, state.bank, span};
  const double middle_s = state.time_s + 0.5 * span.span_s;
  const Terminals terminals = terminalsAt(plant, state, demand, middle_s);

  flows = {};
  const Guess guess{guess_A, bank(guess_A)};
  const auto [solution, wanted_A, kink] =
      terminals.haveSources() ? settledCharged(bank, terminals, chargeLimit(plant, state), guess)
                              : settledFree(bank, terminals, guess);
  flows.atVoltageLimit = kink < 0.0;
  flows.kinks[static_cast<int>(Kink::voltageLimit)] = kink;
  flows.collapsed = !solution;
  if (flows.collapsed) {
    flows.bankVoltage_V = 0.0;
    return;
  }
  flows.kinks[static_cast<int>(Kink::chargeOrDischarge)] = wanted_A;
  flows.bankCurrent_A = solution->current_A;
  flows.bankVoltage_V = solution->voltage_V;
  flows.inverterCurrent_A = terminals.inverter_A(flows.bankVoltage_V);
  flows.inverterVoltage_V = flows.bankVoltage_V - flows.inverterCurrent_A * plant.cableLoop_ohm;
  if (terminals.haveSources() || flows.atVoltageLimit)
    shareSources(plant, state, terminals, middle_s, flows);
  flows.input = demand.onInput;
  if (terminals.charger_A > 0.0) {
    flows.kinks[static_cast<int>(Kink::chargerLimit)] =
        terminals.charger_A * flows.bankVoltage_V - terminals.charger_W;
    const double input_W = inputPower_W(plant.charger, flows.chargerOutput_W);
    const double pf = plant.charger.powerFactor;
    flows.input += AcPower{input_W, input_W * std::sqrt(1.0 - pf * pf) / pf};
  }
}

double engineFuel_m3_s(const Plant& plant, const State& state, const Flows& flows) {
  const bool loaded = state.acInput == AcInput::generator;
  return fuelRate_m3_s(plant.generator.fuel, loaded ? flows.input.real_W : 0.0);
}

void advance(const Plant& plant, State& state, const Flows& flows, const BankSpan& span) {
  const double span_s = span.span_s;
  state.bank = advanced(plant.bank, state.bank, flows.bankCurrent_A, span);
  if (state.engine.mode != EngineMode::off)
    state.engine.fuel_m3 -= engineFuel_m3_s(plant, state, flows) * span_s;
  state.time_s += span_s;
}

double generatorLimit_VA(const Plant& plant, double time_s) {
  return onGrid(plant.generatorLimit_VA, kOutdoorGrid_s, time_s);
}

}  // namespace nightbank
