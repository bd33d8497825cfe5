#include "fit_data.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

constexpr double kNothing = std::numeric_limits<double>::quiet_NaN();

/// Minutes for which a reading stands: until the next, at most its usual interval.
std::int64_t standsFor(const Log& log, std::size_t i) {
  const double usual_min = std::ceil(log.interval_s / kMinute_s - 1e-9);
  auto most = std::max<std::int64_t>(1, static_cast<std::int64_t>(usual_min));
  if (i + 1 < log.minutes.size())
    most = std::min(most, log.minutes[i + 1].minute - log.minutes[i].minute);
  return most;
}

std::int64_t minuteOf(double local_s) {
  return static_cast<std::int64_t>(std::floor(local_s / kMinute_s));
}

/// Nights by their distance in days from the plan's.
struct Nights {
  std::int64_t start;   ///< minute of the plan
  std::int64_t length;  ///< minutes
  std::int64_t every;   ///< minutes from night to night
  std::map<std::int64_t, NightLog> byNumber = {};

  /// The night that holds a minute, and where in it; nullptr: none does.
  NightLog* at(std::int64_t minute, std::size_t& index) {
    const std::int64_t away = minute - start;
    const std::int64_t number = away >= 0 ? away / every : (away - every + 1) / every;
    const std::int64_t within = away - number * every;
    if (within >= length)
      return nullptr;
    index = static_cast<std::size_t>(within);
    auto [night, isNew] = byNumber.try_emplace(number);
    if (isNew) {
      night->second.days = static_cast<int>(number * every / 1440);
      for (auto& values : night->second.values)
        values.assign(static_cast<std::size_t>(length), kNothing);
    }
    return &night->second;
  }
};

/// One channel's value at one minute, where nothing stands there yet.
/// @param begins  a row does
void addValue(const Log& log, Nights& nights, LogChannel channel, std::int64_t minute, double value,
              bool begins) {
  std::size_t index = 0;
  NightLog* night = nights.at(minute, index);
  if (night == nullptr || std::isnan(value))
    return;
  double& at = night->values[static_cast<std::size_t>(channel)][index];
  if (!std::isnan(at))
    return;
  at = value;
  if (channel != LogChannel::bank_A)
    return;
  if (begins)
    night->rows.push_back(index);
  night->interval_s =
      night->interval_s > 0.0 ? std::min(night->interval_s, log.interval_s) : log.interval_s;
}

void addMinutes(const Log& log, Nights& nights) {
  const bool isCounted = log.titles[static_cast<std::size_t>(LogChannel::bank_A)] ==
                             log.titles[static_cast<std::size_t>(LogChannel::used_Ah)] &&
                         log.has(LogChannel::used_Ah);
  for (std::size_t i = 0; i < log.minutes.size(); ++i) {
    const LogMinute& minute = log.minutes[i];
    const std::int64_t span = standsFor(log, i);
    for (std::int64_t k = 0; k < span; ++k) {
      for (std::size_t c = 0; c < kLogChannels; ++c) {
        const auto channel = static_cast<LogChannel>(c);
        // A counter's current is that of the time before its reading.
        const bool isBefore = isCounted && channel == LogChannel::bank_A;
        addValue(log, nights, channel, isBefore ? minute.minute - 1 - k : minute.minute + k,
                 minute.mean(channel), k == 0 && !isBefore);
      }
    }
  }
}

void addReadings(const Log& log, Nights& nights) {
  for (const LogReading& reading : log.readings) {
    std::size_t index = 0;
    const std::int64_t minute =
        std::isnan(reading.from_s) ? nights.start : minuteOf(reading.from_s);
    // The last moment of a night belongs to it.
    NightLog* night = nights.at(minute, index);
    if (night == nullptr)
      night = nights.at(minute - 1, index);
    if (night != nullptr)
      night->readings.push_back(reading);
  }
}

}  // namespace

bool NightLog::has(LogChannel channel) const {
  return std::ranges::any_of(of(channel), [](double value) { return !std::isnan(value); });
}

std::vector<NightLog> nightLogs(const std::vector<Log>& logs, double start_s, double span_s) {
  const auto length = static_cast<std::int64_t>(std::llround(span_s / kMinute_s));
  constexpr std::int64_t kDayMinutes = 1440;
  const std::int64_t days = std::max<std::int64_t>(1, (length + kDayMinutes - 1) / kDayMinutes);
  Nights nights{minuteOf(start_s), length, days * kDayMinutes};
  for (const Log& log : logs) {
    addMinutes(log, nights);
    addReadings(log, nights);
  }
  std::vector<NightLog> found;
  for (auto& [number, night] : nights.byNumber) {
    std::size_t covered = 0;
    for (const auto& values : night.values)
      covered = std::max(covered, static_cast<std::size_t>(std::ranges::count_if(
                                      values, [](double value) { return !std::isnan(value); })));
    constexpr std::size_t kFewest = 60;
    std::ranges::sort(night.rows);
    if (covered >= kFewest || !night.readings.empty())
      found.push_back(std::move(night));
  }
  return found;
}

MinuteRun minuteRun(Plant plant) {
  plant.step_s = kMinute_s;
  Recorder recorder = makeRecorder(plant);
  const Outcome outcome = simulate(plant, recorder);
  MinuteRun run;
  for (const Sample& sample : recorder.samples) {
    const double span_s = sample.span_s;
    const double before_V = run.voltage_V.empty()
                                ? sample.bankVoltage_V
                                : recorder.samples[run.soc.size() - 1].bankVoltage_V;
    run.current_A.push_back(sample.bankCharge_As / span_s);
    run.voltage_V.push_back(0.5 * (before_V + sample.bankVoltage_V));
    run.soc.push_back(sample.socEnd);
    run.indoor_degC.push_back(sample.indoor_degC);
    run.outdoor_degC.push_back(sample.outdoor_degC);
    run.compressor.push_back(sample.compressor_s / span_s);
    run.cooler_W.push_back(sample.airConditioners_J / span_s);
    run.unserved.push_back(sample.unserved_J > 0.0 ? 1.0 : 0.0);
    run.engine.push_back(sample.connected_s / span_s);
  }
  run.fuel_m3 = outcome.generator.fuel_m3;
  run.startSoc = outcome.bank.startSoc;
  run.lowestSoc = outcome.bank.lowestSoc;
  run.margin_J = outcome.bank.margin_J;
  return run;
}

bool chargesByLog(const NightLog& log, const Plant& plant, std::size_t minute) {
  const double on = log.of(LogChannel::generatorOn)[minute];
  if (!std::isnan(on))
    return on > 0.5;
  // Without a column of its own: more current in than a roof of panels gives by night.
  const double current_A = log.of(LogChannel::bank_A)[minute];
  if (!plant.hasGenerator || std::isnan(current_A))
    return false;
  const double time_s = kMinute_s * static_cast<double>(minute);
  double sun_W = 0.0;
  for (const SunPiece& piece : plant.sun)
    if (piece.start_s <= time_s)
      sun_W = piece.output_W + piece.tied_A * plant.nominal_V +
              piece.outputSlope_W_s * (time_s - piece.start_s);
  constexpr double kClearly_A = 5.0;
  return -current_A > kClearly_A + 1.3 * sun_W / plant.nominal_V;
}

}  // namespace nightbank
