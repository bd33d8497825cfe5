#pragma once

#include <string>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "nightbank/study/log_reader.h"
#include "nightbank/units/constants.h"

/// Logs as text for the tests of their reader.
namespace nightbank {

inline constexpr double kStart_s = 1941642000.0;  // 2031-07-12 17:00

inline LogOptions options() {
  LogOptions options;
  options.utcOffset_s = -6.0 * kHour_s;
  options.from_s = kStart_s;
  options.to_s = kStart_s + 16.0 * kHour_s;
  return options;
}

inline Log logOf(const std::string& text, LogOptions how = options()) {
  auto read = readLog(text, std::move(how));
  if (const auto* faults = std::get_if<std::vector<SeriesFault>>(&read)) {
    ADD_FAILURE() << faults->front().line << ": " << faults->front().message;
    return {};
  }
  return std::get<Log>(std::move(read));
}

inline std::string faultOf(const std::string& text, LogOptions how = options()) {
  const auto read = readLog(text, std::move(how));
  const auto* faults = std::get_if<std::vector<SeriesFault>>(&read);
  return faults == nullptr ? ""
                           : fmt::format("{}: {}", faults->front().line, faults->front().message);
}

inline double minuteStart_s(const Log& log, std::size_t i) {
  return 60.0 * static_cast<double>(log.minutes.at(i).minute);
}

// A discharge by 30 A in minutes, its voltage falling with the current.
inline std::string rows(const std::string& header, const std::vector<std::string>& stamps,
                        double sign = 1.0) {
  std::string text = header + '\n';
  double current_A = 30.0;
  for (const std::string& stamp : stamps) {
    text += fmt::format("{},{:.2f},{:.1f}\n", stamp, 13.0 - 0.01 * current_A, sign * current_A);
    current_A = current_A == 30.0 ? 90.0 : 30.0;
  }
  return text;
}

}  // namespace nightbank
