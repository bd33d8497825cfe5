#include "trace.h"

#include <cstddef>
#include <cstring>
#include <type_traits>

namespace nightbank::structure {
namespace {

constexpr std::uint64_t kOffsetBasis = 14695981039346656037U;
constexpr std::uint64_t kPrime = 1099511628211U;

struct Hash {
  std::uint64_t value = kOffsetBasis;

  // Numbers one by one: a struct as a whole would bring its padding along.
  template <class... Number>
  void add(const Number&... numbers) {
    static_assert((std::is_scalar_v<Number> && ...));
    (addBytes(numbers), ...);
  }

  template <class Number>
  void addBytes(Number number) {
    unsigned char bytes[sizeof number];
    std::memcpy(bytes, &number, sizeof number);
    for (const unsigned char byte : bytes) {
      value = (value ^ byte) * kPrime;
    }
  }
};

// Each struct is taken apart whole, so that a new member does not compile until it is hashed.

void add(Hash& hash, const Piece& piece) {
  const auto& [start_s, span_s, soc, current_A, voltage_V] = piece;
  hash.add(start_s, span_s, soc, current_A, voltage_V);
}

void add(Hash& hash, const LoggedEvent& event) {
  const auto& [at_s, kind, index, soc, gaveWay] = event;
  hash.add(at_s, kind, index, soc, gaveWay);
}

void add(Hash& hash, const GeneratorRun& run) {
  const auto& [from_s, to_s, reason, stop, fuel_m3, energy_J] = run;
  hash.add(from_s, to_s, reason, stop, fuel_m3, energy_J);
}

void add(Hash& hash, const AirConditionerOutcome& unit) {
  const auto& [wanted_s, compressor_s, starts, energy_J, unserved_J, failedStarts] = unit;
  hash.add(wanted_s, compressor_s, starts, energy_J, unserved_J, failedStarts);
}

void add(Hash& hash, const Sample& sample) {
  const auto& [start_s, span_s, socEnd, voltage_V, inverterLowest_V, charge_As, outdoor_degC,
               indoor_degC, mass_degC, humidityRatio, solar_J, generator_J, shore_J, alternator_J,
               units_J, loads_J, losses_J, unserved_J, compressor_s, wanted_s, engine_s,
               connected_s, quiet] = sample;
  hash.add(start_s, span_s, socEnd, voltage_V, inverterLowest_V, charge_As, outdoor_degC,
           indoor_degC, mass_degC, humidityRatio, solar_J, generator_J, shore_J, alternator_J,
           units_J, loads_J, losses_J, unserved_J, compressor_s, wanted_s, engine_s, connected_s,
           quiet);
}

void add(Hash& hash, const BankOutcome& bank) {
  const auto& [startSoc, lowestSoc, endSoc, floorSoc, lowestAt_s, floorReachedAt_s, spentAt_s,
               spentBy, usable_J, margin_J] = bank;
  hash.add(startSoc, lowestSoc, endSoc, floorSoc, lowestAt_s, floorReachedAt_s, spentAt_s, spentBy,
           usable_J, margin_J);
}

void add(Hash& hash, const GeneratorOutcome& generator) {
  const auto& [engine_s, quiet_s, asleep_s, fuel_m3, highestShare, starts, tankLeft_m3, counts] =
      generator;
  const auto& [startAttempts, refuels, ranDry, gaveUpAt_s] = counts;
  hash.add(engine_s, quiet_s, asleep_s, fuel_m3, highestShare, starts, tankLeft_m3, startAttempts,
           refuels, ranDry, gaveUpAt_s);
}

void add(Hash& hash, const EnergyOutcome& energy) {
  const auto& [solar, curtailed, generator, shore, alternator, inverterLoss, chargerLoss,
               controllerLoss, bankLoss, wiringLoss, selfDischarge, unserved, unservedAtBank,
               bankChange, closureError, bankClosureError] = energy;
  hash.add(solar, curtailed, generator, shore, alternator, inverterLoss, chargerLoss,
           controllerLoss, bankLoss, wiringLoss, selfDischarge, unserved, unservedAtBank,
           bankChange, closureError, bankClosureError);
}

void add(Hash& hash, const SourceOutcome& source) {
  const auto& [trips, startTrips, firstTripAt_s, load_VA, limit_VA, load_A, limit_A, shutOff] =
      source;
  hash.add(trips, startTrips, firstTripAt_s, load_VA, limit_VA, load_A, limit_A, shutOff);
}

void add(Hash& hash, double number) {
  hash.add(number);
}

template <class T>
void addAll(Hash& hash, const std::vector<T>& list) {
  hash.add(list.size());
  for (const T& entry : list) {
    add(hash, entry);
  }
}

}  // namespace

std::uint64_t traceHash(const Recorder& recorder, const Outcome& outcome) {
  Hash hash;
  addAll(hash, recorder.pieces);
  addAll(hash, recorder.samples);
  addAll(hash, recorder.events);
  addAll(hash, recorder.runs);
  addAll(hash, recorder.airConditioners);
  addAll(hash, recorder.loads_J);
  addAll(hash, recorder.loadsUnserved_J);
  add(hash, outcome.bank);
  add(hash, outcome.generator);
  add(hash, outcome.energy_J);
  for (const SourceOutcome& source : outcome.sources) {
    add(hash, source);
  }
  hash.add(outcome.starts.tested, outcome.starts.doubtful, outcome.starts.failed);
  hash.add(recorder.dropped, outcome.span_s, outcome.pieces);
  return hash.value;
}

}  // namespace nightbank::structure
