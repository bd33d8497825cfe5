#include <cmath>
#include <limits>

#include "fit_data.h"

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

constexpr double kMissing = std::numeric_limits<double>::quiet_NaN();

/// Whether a log with a current has one at that minute; one typed by hand has none anywhere.
bool isCovered(const NightLog& log, LogChannel channel, std::size_t minute, bool isTyped) {
  return isTyped || !std::isnan(log.of(channel)[minute]);
}

/// Mean over the minutes of a block that the log covers and `counts` lets through.
template <class Counts>
double meanOver(const Block& block, const std::vector<double>& values, Counts&& counts) {
  double sum = 0.0;
  int count = 0;
  for (std::size_t i = block.from; i < block.to; ++i)
    if (counts(i)) {
      sum += values[i];
      ++count;
    }
  return count > 0 ? sum / count : kMissing;
}

bool isOn(const MinuteRun& run, std::size_t minute) {
  return run.compressor[minute] >= 1.0 - 1e-6;
}

bool isOff(const MinuteRun& run, std::size_t minute) {
  return run.compressor[minute] <= 0.0;
}

/// Share of the time on: of a given duty the share itself, whatever the phase of its cycle, while
/// it is fed.
double shareOn(const Block& block, const Plant& plant, const MinuteRun& run) {
  if (block.known)
    return plant.airConditioners[block.unit].duties[block.duty].share *
           (1.0 - meanOver(block, run.unserved, [](std::size_t) { return true; }));
  return meanOver(block, run.compressor, [](std::size_t) { return true; });
}

/// The mean of a block that cycles by the plan: of both levels by the share, not by the phase.
double meanWithout(const Block& block, const Plant& plant, const MinuteRun& run,
                   const std::vector<double>& values, const NightLog& log, LogChannel channel,
                   bool isTyped) {
  const auto covered = [&](std::size_t i) { return isCovered(log, channel, i, isTyped); };
  const double mean = meanOver(block, values, covered);
  if (!block.known || isTyped)
    return mean;
  const double on = meanOver(block, values, [&](std::size_t i) { return isOn(run, i); });
  const double off = meanOver(block, values, [&](std::size_t i) { return isOff(run, i); });
  const double composed = off + shareOn(block, plant, run) * (on - off);
  return std::isnan(composed) ? mean : composed;
}

double valueOf(const Reading& reading, const NightReadings& readings, const NightLog& log,
               const Plant& plant, const MinuteRun& run) {
  if (reading.kind == Reading::Kind::soc)
    return reading.block == 0 ? run.startSoc : run.soc[reading.block - 1];
  if (reading.kind == Reading::Kind::fuel_m3)
    return plant.hasGenerator ? run.fuel_m3 : kMissing;
  const Block& block = readings.blocks[reading.block];
  const bool isTyped = !log.has(LogChannel::bank_A);
  const auto on = [&](std::size_t i) { return isOn(run, i); };
  const auto off = [&](std::size_t i) { return isOff(run, i); };
  switch (reading.kind) {
    case Reading::Kind::mean_A:
      return meanWithout(block, plant, run, run.current_A, log, LogChannel::bank_A, isTyped);
    case Reading::Kind::mean_V:
      return meanWithout(block, plant, run, run.voltage_V, log, LogChannel::bank_V, isTyped);
    case Reading::Kind::on_A:
      return meanOver(block, run.current_A, on);
    case Reading::Kind::off_A:
      return meanOver(block, run.current_A, off);
    case Reading::Kind::on_V:
      return meanOver(block, run.voltage_V, on);
    case Reading::Kind::off_V:
      return meanOver(block, run.voltage_V, off);
    case Reading::Kind::on_W:
      return meanOver(block, run.cooler_W, on);
    case Reading::Kind::duty:
      return shareOn(block, plant, run);
    case Reading::Kind::indoor_degC:
      return meanOver(block, run.indoor_degC, [&](std::size_t i) {
        return isCovered(log, LogChannel::indoor_degC, i, !log.has(LogChannel::indoor_degC));
      });
    case Reading::Kind::soc:
    case Reading::Kind::fuel_m3:
      break;
  }
  return kMissing;
}

}  // namespace

std::vector<double> simulated(const NightReadings& readings, const NightLog& log,
                              const Plant& plant, const MinuteRun& run) {
  std::vector<double> values;
  for (const Reading& reading : readings.readings)
    values.push_back(valueOf(reading, readings, log, plant, run));
  return values;
}

}  // namespace nightbank
