#include <bit>
#include <cstdint>
#include <vector>

#include "random_plants.h"
#include <gtest/gtest.h>

namespace nightbank {
namespace {

using namespace test;

// Every number that a run leaves behind, bit by bit; NaN equals NaN.
struct Bits {
  std::vector<std::uint64_t> words;

  void add(double value) { words.push_back(std::bit_cast<std::uint64_t>(value)); }

  template <class... Value>
  void addAll(Value... values) {
    (add(static_cast<double>(values)), ...);
  }
};

void addOutcome(Bits& bits, const Outcome& outcome) {
  const EnergyOutcome& e = outcome.energy_J;
  bits.addAll(e.solar, e.solarCurtailed, e.generator, e.shore, e.alternator, e.inverterLoss,
              e.chargerLoss, e.controllerLoss, e.bankLoss, e.selfDischarge, e.wiringLoss,
              e.unserved, e.unservedAtBank, e.bankChange, e.closureError, e.bankClosureError);
  const BankOutcome& bank = outcome.bank;
  bits.addAll(bank.lowestSoc, bank.endSoc, bank.lowestAt_s, bank.floorReachedAt_s, bank.spentAt_s,
              static_cast<int>(bank.spentBy), bank.usable_J, bank.margin_J);
  const GeneratorOutcome& generator = outcome.generator;
  bits.addAll(generator.engine_s, generator.quiet_s, generator.asleep_s, generator.fuel_m3,
              generator.highestShare, generator.starts);
  for (const SourceOutcome& source : outcome.sources)
    bits.addAll(source.trips, source.firstTripAt_s, source.firstTripLoad_VA, source.shutOff);
  bits.addAll(outcome.span_s, outcome.pieces);
}

Bits bitsOf(const Recorder& recorder, const Outcome& outcome) {
  Bits bits;
  addOutcome(bits, outcome);
  for (const Piece& piece : recorder.pieces)
    bits.addAll(piece.start_s, piece.span_s, piece.soc, piece.current_A, piece.voltage_V);
  for (const LoggedEvent& event : recorder.events)
    bits.addAll(event.at_s, static_cast<int>(event.kind), event.index, event.soc);
  for (const GeneratorRun& run : recorder.runs)
    bits.addAll(run.from_s, run.to_s, static_cast<int>(run.reason), static_cast<int>(run.stop),
                run.fuel_m3, run.energy_J);
  for (const Sample& sample : recorder.samples)
    bits.addAll(sample.start_s, sample.span_s, sample.socEnd, sample.bankVoltage_V,
                sample.bankCharge_As, sample.solar_J, sample.generator_J, sample.airConditioners_J,
                sample.loads_J, sample.losses_J, sample.unserved_J, sample.compressor_s);
  for (const AirConditionerOutcome& unit : recorder.airConditioners)
    bits.addAll(unit.wanted_s, unit.compressor_s, unit.starts, unit.energy_J, unit.unserved_J);
  bits.addAll(recorder.dropped);
  return bits;
}

TEST(Determinism, SamePlantGivesTheSameTraceToTheLastBit) {
  for (std::uint64_t seed = 0; seed < 200; ++seed) {
    const Plant plant = randomPlant(seed);
    const Night first = run(plant, true), second = run(plant, true);
    ASSERT_EQ(bitsOf(first.recorder, first.outcome).words,
              bitsOf(second.recorder, second.outcome).words)
        << "seed " << seed;
  }
}

TEST(Determinism, ReusedRecorderRemembersNothing) {
  for (std::uint64_t seed = 0; seed < 200; ++seed) {
    const Plant plant = randomPlant(seed);
    const Night fresh = run(plant, true);
    // Another night in between, of another plant, leaves its traces everywhere.
    Recorder recorder = makeRecorder(plant, true);
    Plant harder = plant;
    harder.startSoc = 0.5 * plant.startSoc;
    simulate(harder, recorder);
    reset(recorder, plant);
    const Outcome again = simulate(plant, recorder);
    ASSERT_EQ(bitsOf(fresh.recorder, fresh.outcome).words, bitsOf(recorder, again).words)
        << "seed " << seed;
  }
}

TEST(Determinism, KeepingTheTraceDoesNotChangeTheAnswer) {
  for (std::uint64_t seed = 0; seed < 200; ++seed) {
    const Plant plant = randomPlant(seed);
    Bits with, without;
    addOutcome(with, run(plant, true).outcome);
    addOutcome(without, run(plant, false).outcome);
    ASSERT_EQ(with.words, without.words) << "seed " << seed;
  }
}

TEST(Determinism, RoomOfTheRecorderIsKeptByReset) {
  const Plant plant = randomPlant(7);
  Recorder recorder = makeRecorder(plant, true);
  const std::size_t samples = recorder.samples.capacity(), events = recorder.events.capacity();
  simulate(plant, recorder);
  reset(recorder, plant);
  EXPECT_TRUE(recorder.samples.empty());
  EXPECT_TRUE(recorder.events.empty());
  EXPECT_EQ(recorder.samples.capacity(), samples);
  EXPECT_EQ(recorder.events.capacity(), events);
}

}  // namespace
}  // namespace nightbank
