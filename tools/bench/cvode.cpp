#include "cvode.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "integrator.h"
#include "known.h"
#include "modes.h"

#include "nightbank/units/constants.h"

namespace nightbank::bench {
namespace {

constexpr int kBankStates = 3;
/// Without sun and charger the last four energies stay 0 and are no states.
constexpr int kEnergiesWithoutSources = static_cast<int>(Energy::solar);

/// What the integrator's callbacks see. States: the bank's three, the ledger's energies, and those
/// of a cabin.
struct Problem {
  const Plant& plant;
  Modes modes;
  Circuit circuit;
  int energies;
  double lastVoltage_V;

  int firstOfCabin() const { return kBankStates + energies; }
};

struct Sun {
  double array_W = 0.0, output_W = 0.0;
};

Sun sunAt(const Problem& problem, double time_s) {
  const SunPiece& piece = problem.plant.sun[problem.modes.sun];
  const double since_s = time_s - piece.start_s;
  return {std::max(0.0, piece.array_W + piece.arraySlope_W_s * since_s),
          std::max(0.0, piece.output_W + piece.outputSlope_W_s * since_s)};
}

/// All that holds at an instant.
struct Instant {
  Point at;
  Sun sun;
  Cooling cooling;  ///< of a compressor that runs by its thermostat, built up
  Circuit circuit;
  Rates rates;
};

Point pointOf(const Problem& problem, const double* y) {
  Point point{{y[0], y[1], y[2]}, {}};
  if (problem.plant.hasCabin) {
    const double* cabin = y + problem.firstOfCabin();
    point.cabin = {cabin[0], cabin[1], cabin[2]};
  }
  return point;
}

Instant instantAt(Problem& problem, double time_s, const double* y) {
  const Plant& plant = problem.plant;
  Instant now{pointOf(problem, y), sunAt(problem, time_s), {}, problem.circuit, {}};
  if (plant.hasCabin && problem.modes.compressorOn) {
    now.cooling = fullCooling(plant, now.at.cabin, time_s);
    now.circuit =
        circuitOf(plant, problem.modes, unitDraw_W(plant.airConditioners.front(), now.cooling));
  }
  now.rates = ratesAt(plant, now.circuit, now.sun.output_W, now.at.bank.soc, problem.lastVoltage_V);
  problem.lastVoltage_V = now.rates.voltage_V;
  return now;
}

void bankSlopes(const BankParams& bank, const BankPoint& point, double current_A, double* slope) {
  const double kept = current_A < 0.0 ? bank.chargeEfficiency : 1.0;
  const double leaks_A = bank.selfDischarge_A * point.soc;
  slope[0] = -(kept * current_A + leaks_A) / (kHour_s * bank.capacity_Ah);
  slope[1] = slope[2] = 0.0;
  const PeukertParams& peukert = bank.peukert;
  if (peukert.exponent > 1.0)
    slope[1] = (std::max(current_A, 0.0) - point.mean_A) / peukert.window_s;
  if (current_A <= 0.0)
    slope[2] = -point.excess_Ah / peukert.recovery_s;
  else if (point.mean_A > peukert.ratedCurrent_A)
    slope[2] = current_A / kHour_s *
               (std::pow(point.mean_A / peukert.ratedCurrent_A, peukert.exponent - 1.0) - 1.0);
}

Totals powersOf(const Plant& plant, const Instant& now) {
  const Circuit& circuit = now.circuit;
  const Rates& rates = now.rates;
  const double current_A = rates.current_A;
  Totals power;
  power.of(Energy::airConditioners) = circuit.inverterOutput_W + circuit.throughSwitch_W;
  power.of(Energy::loads) = circuit.battery_W;
  if (circuit.inverterOn)
    power.of(Energy::inverterLoss) =
        inverterInput_W(plant.inverter, circuit.inverterOutput_W) - circuit.inverterOutput_W;
  power.of(Energy::wiringLoss) = rates.inverter_A * rates.inverter_A * plant.cableLoop_ohm;
  power.of(Energy::bankLoss) = current_A * current_A * plant.bank.resistance_ohm;
  if (current_A < 0.0)
    power.of(Energy::bankLoss) -= (1.0 - plant.bank.chargeEfficiency) * current_A *
                                  restVoltage_V(plant.bank.ocv, now.at.bank.soc);
  if (now.sun.output_W > 0.0)
    power.of(Energy::solar) = now.sun.array_W * rates.sun_W / now.sun.output_W;
  power.of(Energy::controllerLoss) = power.of(Energy::solar) - rates.sun_W;
  const double chargerInput_W = circuit.charging ? rates.charger_W / plant.charger.efficiency : 0.0;
  power.of(Energy::generator) = circuit.throughSwitch_W + chargerInput_W;
  power.of(Energy::chargerLoss) = chargerInput_W - rates.charger_W;
  return power;
}

void slopesOfCabin(const Problem& problem, double time_s, const Instant& now, const Totals& powers,
                   double* slope) {
  const Plant& plant = problem.plant;
  CabinHeats heats{.machines_W = now.circuit.heat_W +
                                 plant.cabin.inverterInside * powers.of(Energy::inverterLoss) +
                                 plant.cabin.chargerInside * powers.of(Energy::chargerLoss)};
  if (problem.modes.compressorOn)
    addCooling(plant, problem.modes.cooling, now.cooling, time_s, heats);
  const CabinSlopes slopes = cabinSlopes(plant, problem.modes.segment, now.at.cabin, heats, time_s);
  slope[0] = slopes.air_K_s;
  slope[1] = slopes.mass_K_s;
  slope[2] = slopes.humidityRatio_1_s;
}

int slopesAt(realtype time_s, N_Vector state, N_Vector slope, void* data) {
  auto& problem = *static_cast<Problem*>(data);
  const Instant now = instantAt(problem, time_s, N_VGetArrayPointer(state));
  double* out = N_VGetArrayPointer(slope);
  bankSlopes(problem.plant.bank, now.at.bank, now.rates.current_A, out);
  const Totals powers = powersOf(problem.plant, now);
  std::copy_n(powers.energy_J.begin(), problem.energies, out + kBankStates);
  if (problem.plant.hasCabin)
    slopesOfCabin(problem, time_s, now, powers, out + problem.firstOfCabin());
  return 0;
}

std::array<double, kCrossings> marginsAt(Problem& problem, double time_s, const double* y) {
  const Instant now = instantAt(problem, time_s, y);
  return margins(problem.plant, problem.modes, time_s, now.at, now.rates);
}

int rootsAt(realtype time_s, N_Vector state, realtype* roots, void* data) {
  auto& problem = *static_cast<Problem*>(data);
  const auto margin = marginsAt(problem, time_s, N_VGetArrayPointer(state));
  std::copy(margin.begin(), margin.end(), roots);
  return 0;
}

/// Does all that is due at this instant, one thing at a time. @returns whether modes changed
bool settle(Problem& problem, double time_s, const double* y) {
  const Plant& plant = problem.plant;
  const Point at = pointOf(problem, y);
  bool changed = false;
  for (bool again = true; again; changed = changed || again) {
    problem.circuit = circuitOf(plant, problem.modes, plant.airConditioners.front().running.real_W);
    const auto margin = marginsAt(problem, time_s, y);
    const auto first =
        std::find_if(margin.begin(), margin.end(), [](double m) { return m <= 0.0; });
    again = first != margin.end();
    if (again)
      happen(static_cast<Crossing>(first - margin.begin()), plant, problem.modes, time_s, at.bank);
    else
      again = doNextDue(plant, problem.modes, time_s, at.cabin);
  }
  return changed;
}

/// The roots that the integrator stopped at: by identity, not by looking at the margin again.
void takeRoots(const Integrator& integrator, Problem& problem, double time_s) {
  std::array<int, kCrossings> found{};
  integrator.rootsFound(found.data());
  const BankPoint bank = pointOf(problem, integrator.state()).bank;
  for (int i = 0; i < kCrossings; ++i)
    if (found[static_cast<std::size_t>(i)] < 0)  // falling
      happen(static_cast<Crossing>(i), problem.plant, problem.modes, time_s, bank);
}

std::vector<StartingState> startOf(const Problem& problem) {
  const Plant& plant = problem.plant;
  std::vector<StartingState> start{
      {plant.startSoc, 1.0}, {0.0, plant.bank.capacity_Ah}, {0.0, plant.bank.capacity_Ah}};
  start.resize(start.size() + static_cast<std::size_t>(problem.energies), {0.0, kKilowattHour_J});
  if (plant.hasCabin) {
    constexpr double kKelvin = 1.0, kGramPerKilogram = 1e-3;
    const CabinState& cabin = plant.cabin.start;
    start.insert(start.end(), {{cabin.temperatures.air_degC, kKelvin},
                               {cabin.temperatures.mass_degC, kKelvin},
                               {cabin.humidityRatio, kGramPerKilogram}});
  }
  return start;
}

Totals totalsOf(const Problem& problem, const double* y) {
  Totals totals;
  totals.starts = problem.modes.starts;
  totals.endSoc = y[0];
  totals.engine_s = problem.modes.engine_s;
  if (problem.modes.engine != Engine::off)
    totals.engine_s += problem.plant.span_s - problem.modes.engineStarted_s;
  std::copy_n(y + kBankStates, problem.energies, totals.energy_J.begin());
  return totals;
}

}  // namespace

Totals cvodeTotals(const Plant& plant, Method method, double tolerance) {
  requireKnown(plant);
  const bool haveSources = plant.sun.size() > 1 || plant.hasCharger;
  const int energies = haveSources ? static_cast<int>(kEnergies) : kEnergiesWithoutSources;
  Problem problem{
      plant, initialModes(plant), {}, energies, restVoltage_V(plant.bank.ocv, plant.startSoc)};
  Integrator integrator(method, startOf(problem), tolerance,
                        {slopesAt, rootsAt, kCrossings, &problem});
  settle(problem, 0.0, integrator.state());
  double time_s = 0.0;
  while (time_s < plant.span_s) {
    const bool atRoot = integrator.advance(time_s, nextInstant_s(plant, problem.modes, time_s));
    if (atRoot)
      takeRoots(integrator, problem, time_s);
    if (time_s < plant.span_s && (settle(problem, time_s, integrator.state()) || atRoot))
      integrator.restart(time_s);
  }
  return totalsOf(problem, integrator.state());
}

}  // namespace nightbank::bench
