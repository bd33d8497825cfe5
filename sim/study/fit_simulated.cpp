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

/// How far a value goes as a compressor stops (its sign turned as one starts), over the minute in
/// which it does; the slow course goes with either and drops out of the mean of both.
double stepAsItStops(const Block& block, const MinuteRun& run, const std::vector<double>& values) {
  double sum[2] = {};
  int count[2] = {};
  for (std::size_t i = block.from + 2; i < block.to; ++i) {
    const bool starts = isOff(run, i - 2) && isOn(run, i);
    if (!starts && !(isOn(run, i - 2) && isOff(run, i)))
      continue;
    sum[starts ? 1 : 0] += (values[i] - values[i - 2]) * (starts ? -1.0 : 1.0);
    ++count[starts ? 1 : 0];
  }
  if (count[0] == 0 || count[1] == 0)
    return (sum[0] + sum[1]) / (count[0] + count[1]);
  return 0.5 * (sum[0] / count[0] + sum[1] / count[1]);
}

/// The mean of one of two levels over the minutes in which the log has it, wherever the run's own
/// cycle stands then: a value of the other level is moved by the step between them.
double levelOver(const Reading& reading, const Block& block, const MinuteRun& run,
                 const std::vector<double>& values, bool isOnLevel) {
  const double step = stepAsItStops(block, run, values);
  double sum = 0.0;
  for (const std::size_t minute : reading.minutes) {
    const double other = isOnLevel ? run.compressor[minute] - 1.0 : run.compressor[minute];
    sum += values[minute] + (other == 0.0 ? 0.0 : other * step);
  }
  return sum / static_cast<double>(reading.minutes.size());
}

/// Share of the time on: of a given duty the share itself, whatever the phase of its cycle, while
/// it is fed.
double shareOn(const Block& block, const Plant& plant, const MinuteRun& run,
               const std::vector<std::size_t>& minutes) {
  if (!block.known)
    return meanOver(block, run.compressor, [](std::size_t) { return true; });
  double unserved = 0.0;
  for (const std::size_t minute : minutes)
    unserved += run.unserved[minute] / static_cast<double>(minutes.size());
  if (minutes.empty())
    unserved = meanOver(block, run.unserved, [](std::size_t) { return true; });
  return plant.airConditioners[block.unit].duties[block.duty].share * (1.0 - unserved);
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
  const double composed = off + shareOn(block, plant, run, {}) * (on - off);
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
  switch (reading.kind) {
    case Reading::Kind::mean_A:
      return meanWithout(block, plant, run, run.current_A, log, LogChannel::bank_A, isTyped);
    case Reading::Kind::mean_V:
      return meanWithout(block, plant, run, run.voltage_V, log, LogChannel::bank_V, isTyped);
    case Reading::Kind::on_A:
      return levelOver(reading, block, run, run.current_A, true);
    case Reading::Kind::off_A:
      return levelOver(reading, block, run, run.current_A, false);
    case Reading::Kind::on_V:
      return levelOver(reading, block, run, run.voltage_V, true);
    case Reading::Kind::off_V:
      return levelOver(reading, block, run, run.voltage_V, false);
    case Reading::Kind::on_W:
      return levelOver(reading, block, run, run.cooler_W, true);
    case Reading::Kind::duty:
      return shareOn(block, plant, run, reading.minutes);
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
