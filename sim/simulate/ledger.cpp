#include "nightbank/simulate/ledger.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "nightbank/numerics/interpolate.h"
#include "nightbank/simulate/outside.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// What a piece adds, in joules; kept apart so that ledger and sample add the same numbers.
struct Booking {
  double solar, curtailed, generator, shore, alternator;
  double inverterLoss, chargerLoss, controllerLoss, wiringLoss;
  BankLoss bank;

  double losses() const {
    return inverterLoss + chargerLoss + controllerLoss + wiringLoss + bank.inside_J +
           bank.selfDischarge_J;
  }
};

Booking bookingOf(const Plant& plant, const State& before, const Demand& demand, const Flows& flows,
                  double span_s, const BankSpan& bank) {
  Booking b{};
  b.solar = flows.sunArray_W * span_s;
  b.curtailed = (flows.sunArrayAvailable_W - flows.sunArray_W) * span_s;
  b.controllerLoss = (flows.sunArray_W - flows.sunOutput_W + demand.controllers_W) * span_s;
  b.generator = before.acInput == AcInput::generator ? flows.input.real_W * span_s : 0.0;
  b.shore = before.acInput == AcInput::shore ? flows.input.real_W * span_s : 0.0;
  b.alternator = flows.alternator_W * span_s;
  b.inverterLoss = demand.inverterLoss_W * span_s;
  if (flows.chargerOutput_W > 0.0)
    b.chargerLoss =
        (inputPower_W(plant.charger, flows.chargerOutput_W) - flows.chargerOutput_W) * span_s;
  b.wiringLoss = flows.inverterCurrent_A * flows.inverterCurrent_A * plant.cableLoop_ohm * span_s;
  b.bank = lossOverPiece(plant.bank, before.bank, flows.bankCurrent_A, bank);
  return b;
}

/// Books what each array gave; all are held back in proportion.
void bookArrays(Recorder& recorder, const Plant& plant, const State& before, const Flows& flows,
                double span_s) {
  const std::size_t count = plant.arrays.size();
  const double middle_s = before.time_s + 0.5 * span_s - plant.sun[before.sun].start_s;
  for (std::size_t i = 0; i < count; ++i) {
    const ArrayPiece& piece = plant.sunOfArrays[before.sun * count + i];
    const double amount = std::max(0.0, piece.start + piece.slope_1_s * middle_s);
    const double available_W = plant.arrays[i].isTied ? amount * flows.bankVoltage_V : amount;
    recorder.arrays_J[i] += available_W * flows.sunShare * span_s;
  }
}

/// Books what each load got. @returns the sum [J]
double bookLoads(Recorder& recorder, const Plant& plant, const State& before, const Demand& demand,
                 double span_s) {
  double sum_J = 0.0;
  std::uint64_t left = plant.segments[before.segment].loads;
  if (before.ventilates)
    left |= std::uint64_t{1} << plant.cabin.ventilation.load;
  for (std::size_t i = 0; left != 0; ++i, left >>= 1U) {
    if ((left & 1U) == 0)
      continue;
    const double energy_J = powerAt(plant.loads[i], before.time_s).real_W * span_s;
    const bool got = isServed(demand, feedFor(plant, before, plant.loads[i].feeds));
    (got ? recorder.loads_J : recorder.loadsUnserved_J)[i] += energy_J;
    sum_J += got ? energy_J : 0.0;
  }
  return sum_J;
}

/// Books what each air conditioner got, and its hours. @returns the sum [J]
double bookAirConditioners(Recorder& recorder, const Plant& plant, const State& before,
                           const Demand& demand, double span_s, Sample& sample) {
  double sum_J = 0.0;
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i) {
    const AirConditionerState& now = before.airConditioners[i];
    if (!now.inHours)
      continue;
    AirConditionerOutcome& outcome = recorder.airConditioners[i];
    outcome.wanted_s += span_s;
    sample.wanted_s += span_s;
    const double energy_J = demand.unit_W[i] * span_s;
    if (now.feed == Feed::none || !isServed(demand, now.feed)) {
      outcome.unserved_J += energy_J;
      continue;
    }
    outcome.energy_J += energy_J;
    sum_J += energy_J;
    if (now.compressorOn) {
      outcome.compressor_s += span_s;
      sample.compressor_s += span_s;
    }
  }
  return sum_J;
}

void bookEngine(Ledger& ledger, Recorder& recorder, const Plant& plant, const State& before,
                const Flows& flows, double span_s, Sample& sample) {
  if (before.engine.mode == EngineMode::off)
    return;
  const bool loaded = before.acInput == AcInput::generator;
  const double power_W = loaded ? flows.input.real_W : 0.0;
  const double fuel_m3 = engineFuel_m3_s(plant, before, flows) * span_s;
  const Segment& segment = plant.segments[before.segment];
  ledger.generator.engine_s += plant.sets * span_s;
  ledger.generator.fuel_m3 += fuel_m3;
  ledger.generator.quiet_s += segment.mayRun ? 0.0 : span_s;
  ledger.generator.asleep_s += segment.asleep ? span_s : 0.0;
  sample.engine_s += span_s;
  if (loaded) {
    sample.connected_s += span_s;
    const double limit_VA = generatorLimit_VA(plant, before.time_s);
    if (limit_VA > 0.0)
      ledger.generator.highestShare =
          std::max(ledger.generator.highestShare, apparent_VA(flows.input) / limit_VA);
  }
  if (recorder.runIsOpen) {
    recorder.runs.back().fuel_m3 += fuel_m3;
    recorder.runs.back().energy_J += power_W * span_s;
    recorder.runs.back().to_s = before.time_s + span_s;
  }
}

/// The sample of the output interval that the piece lies in.
Sample& sampleFor(Recorder& recorder, const Plant& plant, const State& before) {
  const auto index = static_cast<std::size_t>(before.time_s / plant.step_s + 1e-9);
  while (recorder.samples.size() <= index) {
    Sample sample;
    sample.start_s = static_cast<double>(recorder.samples.size()) * plant.step_s;
    sample.outdoor_degC = onGrid(plant.outdoor_degC, kOutdoorGrid_s, sample.start_s);
    sample.quiet = !plant.segments[before.segment].mayRun;
    recorder.samples.push_back(sample);  // reserved by makeRecorder for the whole period
  }
  return recorder.samples[index];
}

/// Where less than this went through, what does not close is rounding of the stored energy.
constexpr double kLeastThroughput_J = 1.0 * kWattHour_J;

/// Lows closer than this are one low: the first counts.
constexpr double kSameSoc = 1e-9;

void addToEnergies(EnergyOutcome& e, const Booking& b, const Demand& demand, double span_s) {
  e.solar += b.solar;
  e.solarCurtailed += b.curtailed;
  e.generator += b.generator;
  e.shore += b.shore;
  e.alternator += b.alternator;
  e.inverterLoss += b.inverterLoss;
  e.chargerLoss += b.chargerLoss;
  e.controllerLoss += b.controllerLoss;
  e.bankLoss += b.bank.inside_J;
  e.selfDischarge += b.bank.selfDischarge_J;
  e.wiringLoss += b.wiringLoss;
  e.unserved += demand.unserved_W * span_s;
  e.unservedAtBank += demand.unservedAtBank_W * span_s;
}

}  // namespace

void book(Ledger& ledger, Recorder& recorder, const Plant& plant, const State& before,
          const State& after, const Demand& demand, const Flows& flows, const BankSpan& bank) {
  const double span_s = after.time_s - before.time_s;
  Sample& sample = sampleFor(recorder, plant, before);
  const Booking b = bookingOf(plant, before, demand, flows, span_s, bank);
  addToEnergies(ledger.energy_J, b, demand, span_s);
  const double terminal_J = flows.bankCurrent_A * flows.bankVoltage_V * span_s;
  ledger.bankTerminal_J += terminal_J;
  ledger.bankThroughput_J += std::abs(terminal_J);
  if (after.bank.soc < ledger.lowestSoc - kSameSoc) {
    ledger.lowestSoc = after.bank.soc;
    ledger.lowestAt_s = after.time_s;
  }
  sample.span_s += span_s;
  sample.socEnd = after.bank.soc;
  sample.bankVoltage_V = flows.bankVoltage_V;
  sample.bankCharge_As += flows.bankCurrent_A * span_s;
  sample.solar_J += b.solar;
  sample.generator_J += b.generator;
  sample.shore_J += b.shore;
  sample.alternator_J += b.alternator;
  sample.losses_J += b.losses();
  sample.unserved_J += demand.unserved_W * span_s;
  sample.loads_J += bookLoads(recorder, plant, before, demand, span_s);
  sample.airConditioners_J += bookAirConditioners(recorder, plant, before, demand, span_s, sample);
  ledger.inverter.on_s += demand.inverterDc_W > 0.0 ? span_s : 0.0;
  ledger.inverter.searching_s += demand.searching ? span_s : 0.0;
  bookArrays(recorder, plant, before, flows, span_s);
  bookEngine(ledger, recorder, plant, before, flows, span_s, sample);
  bookOutside(ledger.outside_s, plant, before, demand, flows, span_s);
}

void noteInverterVoltage(Ledger& ledger, Recorder& recorder, const Demand& demand, const Flows& now,
                         double at_s) {
  if (demand.inverterDc_W <= 0.0 || now.collapsed)
    return;
  double& lowest_V = recorder.samples.back().inverterLowest_V;
  if (!(lowest_V <= now.inverterVoltage_V))  // NaN until it is on
    lowest_V = now.inverterVoltage_V;
  InverterOutcome& inverter = ledger.inverter;
  if (inverter.lowest_V <= now.inverterVoltage_V)
    return;
  inverter.lowest_V = now.inverterVoltage_V;
  inverter.lowestAt_s = at_s;
  inverter.lowestCurrent_A = now.inverterCurrent_A;
}

void closeBooks(Ledger& ledger, const Recorder& recorder, const Plant& plant, const State& end) {
  EnergyOutcome& e = ledger.energy_J;
  double used_J = std::accumulate(recorder.loads_J.begin(), recorder.loads_J.end(), 0.0);
  for (const AirConditionerOutcome& unit : recorder.airConditioners)
    used_J += unit.energy_J;
  const double given_J = e.solar + e.generator + e.shore + e.alternator;
  const double lost_J = e.inverterLoss + e.chargerLoss + e.controllerLoss + e.bankLoss +
                        e.selfDischarge + e.wiringLoss;
  e.bankChange =
      storedEnergy_J(plant.bank, end.bank.soc) - storedEnergy_J(plant.bank, plant.startSoc);
  const double throughput_J = given_J + used_J + lost_J + std::abs(e.bankChange);
  e.closureError =
      (given_J - used_J - lost_J - e.bankChange) / std::max(throughput_J, kLeastThroughput_J);
  if (plant.hasCabin)
    closeCabin(ledger.cabin, plant, end);
  e.bankClosureError = (-ledger.bankTerminal_J - e.bankLoss - e.selfDischarge - e.bankChange) /
                       std::max(ledger.bankThroughput_J, kLeastThroughput_J);
}

}  // namespace nightbank
