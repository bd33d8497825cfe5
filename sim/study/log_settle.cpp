#include <algorithm>
#include <cmath>

#include "log_text.h"
#include <fmt/format.h>

#include "nightbank/units/constants.h"

namespace nightbank::detail {
namespace {

constexpr std::size_t indexOfChannel(LogChannel channel) {
  return static_cast<std::size_t>(channel);
}

template <class F>
void changeAll(Log& log, LogChannel channel, F&& changed) {
  const std::size_t i = indexOfChannel(channel);
  for (LogMinute& minute : log.minutes)
    if (minute.count[i] > 0)
      minute.sum[i] = changed(minute.sum[i], static_cast<double>(minute.count[i]));
}

/// Correlation of the changes of two quantities from minute to minute.
double correlationOfChanges(const Log& log, LogChannel first, LogChannel second) {
  double xx = 0.0, yy = 0.0, xy = 0.0;
  int count = 0;
  for (std::size_t i = 1; i < log.minutes.size(); ++i) {
    const double x = log.minutes[i].mean(first) - log.minutes[i - 1].mean(first);
    const double y = log.minutes[i].mean(second) - log.minutes[i - 1].mean(second);
    if (std::isnan(x) || std::isnan(y))
      continue;
    xx += x * x;
    yy += y * y;
    xy += x * y;
    ++count;
  }
  constexpr int kFewest = 5;
  return count < kFewest || xx <= 0.0 || yy <= 0.0 ? 0.0 : xy / std::sqrt(xx * yy);
}

/// Ampere-hours against the monitor's charge: below 0 where a positive current empties the bank.
/// 0: it cannot be told.
double signBySoc(const Log& log) {
  double used_Ah = 0.0, gained = 0.0, against = 0.0;
  for (std::size_t i = 1; i < log.minutes.size(); ++i) {
    const double span_h =
        static_cast<double>(log.minutes[i].minute - log.minutes[i - 1].minute) / 60.0;
    const double current_A = log.minutes[i].mean(LogChannel::bank_A);
    const double change =
        log.minutes[i].mean(LogChannel::soc) - log.minutes[i - 1].mean(LogChannel::soc);
    constexpr double kJump = 0.2;  // a reset of the monitor
    if (std::isnan(current_A) || std::isnan(change) || span_h > 1.0 || std::abs(change) > kJump)
      continue;
    against += current_A * change;
    used_Ah += std::abs(current_A) * span_h;
    gained += std::abs(change);
  }
  constexpr double kLeastChange = 0.015;
  return gained < kLeastChange || used_Ah <= 0.0 ? 0.0 : against;
}

void leaveOut(Log& log, LogChannel channel, const std::string& why) {
  const std::size_t i = indexOfChannel(channel);
  log.leftOut.push_back(fmt::format("'{}': {}", log.titles[i], why));
  log.titles[i].clear();
  for (LogMinute& minute : log.minutes) {
    minute.sum[i] = 0.0;
    minute.count[i] = 0;
  }
}

/// Columns in which no cell has a value that can be.
void leaveOutEmpty(Log& log) {
  for (std::size_t i = 0; i < kLogChannels; ++i) {
    const auto channel = static_cast<LogChannel>(i);
    if (log.has(channel) &&
        std::ranges::none_of(log.minutes, [&](const auto& minute) { return minute.has(channel); }))
      leaveOut(log, channel, "no number that can be; its unit may be another");
  }
}

/// Below 0 where a positive current pulls the volts down: it empties the bank. 0: it cannot be
/// told.
double signByVoltage(const Log& log) {
  constexpr double kClear = 0.3;
  const double together = correlationOfChanges(log, LogChannel::bank_A, LogChannel::bank_V);
  return std::abs(together) < kClear ? 0.0 : together;
}

std::string settleSign(Log& log, const LogOptions& options) {
  if (!log.has(LogChannel::bank_A))
    return "";
  const double bySoc = signBySoc(log), byVoltage = signByVoltage(log);
  bool isPositiveOnDischarge = (bySoc != 0.0 ? bySoc : byVoltage) < 0.0;
  if (options.dischargePositive) {
    log.sign = LogSign::asked;
    isPositiveOnDischarge = *options.dischargePositive;
    if (bySoc != 0.0 && (bySoc < 0.0) != isPositiveOnDischarge)
      leaveOut(log, LogChannel::soc, "it rises while the current empties the bank");
  } else if (bySoc * byVoltage < 0.0) {
    return fmt::format(
        "says two things of its current: by the state of charge a positive one {} the bank, by the "
        "volts it {} it; say --positive discharge or --positive charge",
        bySoc < 0.0 ? "empties" : "charges", byVoltage < 0.0 ? "empties" : "charges");
  } else if (bySoc == 0.0 && byVoltage == 0.0) {
    return "does not tell whether a positive current charges or empties the bank; say "
           "--positive discharge or --positive charge";
  } else {
    log.sign = bySoc != 0.0 ? LogSign::bySoc : LogSign::byVoltage;
  }
  log.wasTurned = !isPositiveOnDischarge;
  if (log.wasTurned)
    for (const LogChannel channel : {LogChannel::bank_A, LogChannel::bank_W})
      changeAll(log, channel, [](double sum, double) { return -sum; });
  return "";
}

/// Amperes from watts and volts, or from a counter of ampere-hours; what is read directly wins.
void completeCurrent(Log& log) {
  const std::size_t ampere = indexOfChannel(LogChannel::bank_A);
  if (log.has(LogChannel::bank_A) || !log.has(LogChannel::bank_W))
    return;
  if (!log.has(LogChannel::bank_V))
    return leaveOut(log, LogChannel::bank_W, "watts without volts beside them");
  for (LogMinute& minute : log.minutes)
    if (minute.has(LogChannel::bank_W) && minute.has(LogChannel::bank_V)) {
      minute.sum[ampere] = minute.mean(LogChannel::bank_W) / minute.mean(LogChannel::bank_V);
      minute.count[ampere] = 1;
    }
  log.titles[ampere] = log.titles[indexOfChannel(LogChannel::bank_W)];
}

/// A counter that falls back to nearly nothing was reset; the step over it is left out.
void currentFromCounter(Log& log) {
  const std::size_t ampere = indexOfChannel(LogChannel::bank_A);
  if (log.has(LogChannel::bank_A) || !log.has(LogChannel::used_Ah))
    return;
  double highest_Ah = 0.0;
  for (const LogMinute& minute : log.minutes)
    if (minute.has(LogChannel::used_Ah))
      highest_Ah = std::max(highest_Ah, std::abs(minute.mean(LogChannel::used_Ah)));
  const LogMinute* before = nullptr;
  for (LogMinute& minute : log.minutes) {
    if (!minute.has(LogChannel::used_Ah))
      continue;
    if (before != nullptr) {
      const double from_Ah = before->mean(LogChannel::used_Ah);
      const double to_Ah = minute.mean(LogChannel::used_Ah);
      const double span_h = static_cast<double>(minute.minute - before->minute) / 60.0;
      constexpr double kNothing = 0.02, kMuch = 0.05;
      if (std::abs(to_Ah) < kNothing * highest_Ah && std::abs(from_Ah) > kMuch * highest_Ah) {
        ++log.repairs.counterResets;
      } else {
        minute.sum[ampere] = (to_Ah - from_Ah) / span_h;
        minute.count[ampere] = 1;
      }
    }
    before = &minute;
  }
  log.titles[ampere] = log.titles[indexOfChannel(LogChannel::used_Ah)];
}

void countGaps(Log& log) {
  const double usual_s = std::max(3.0 * log.interval_s, 2.0 * kMinute_s);
  for (std::size_t i = 1; i < log.minutes.size(); ++i) {
    const double step_s =
        60.0 * static_cast<double>(log.minutes[i].minute - log.minutes[i - 1].minute);
    if (step_s <= usual_s)
      continue;
    ++log.repairs.gaps;
    log.repairs.gaps_s += step_s;
    log.repairs.longestGap_s = std::max(log.repairs.longestGap_s, step_s);
  }
}

}  // namespace

void settleUnits(Log& log, const LogHeader& header,
                 const std::array<double, kLogChannels>& highest) {
  constexpr double kNoCelsius = 55.0, kNoShare = 1.5;
  const auto isOpen = [&](LogChannel channel) {
    const auto found = std::ranges::find(header.columns, channel, &LogColumn::channel);
    return found != header.columns.end() && !found->unitKnown;
  };
  bool isFahrenheit = false;
  for (const LogChannel channel : {LogChannel::indoor_degC, LogChannel::outdoor_degC})
    isFahrenheit =
        isFahrenheit || (isOpen(channel) && highest[indexOfChannel(channel)] > kNoCelsius);
  for (const LogChannel channel : {LogChannel::indoor_degC, LogChannel::outdoor_degC})
    if (isFahrenheit && isOpen(channel)) {
      log.fahrenheitGuessed = true;
      changeAll(log, channel,
                [](double sum, double count) { return count * fahrenheit_degC(sum / count); });
    }
  if (isOpen(LogChannel::soc) && highest[indexOfChannel(LogChannel::soc)] > kNoShare)
    changeAll(log, LogChannel::soc, [](double sum, double) { return sum / 100.0; });
}

std::string settleLog(Log& log, const LogOptions& options) {
  leaveOutEmpty(log);
  completeCurrent(log);
  const bool hasAny =
      std::ranges::any_of(log.titles, [](const auto& title) { return title != ""; });
  if (!hasAny && log.readings.empty())
    return fmt::format("has nothing that can be used: {}", fmt::join(log.leftOut, "; "));
  currentFromCounter(log);
  countGaps(log);
  return settleSign(log, options);
}

}  // namespace nightbank::detail
