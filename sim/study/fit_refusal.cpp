#include <algorithm>
#include <cmath>
#include <limits>

#include "fit_model.h"
#include <fmt/format.h>

#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank {

std::string noneCovers(const std::vector<Log>& logs) {
  double from_s = std::numeric_limits<double>::infinity(), to_s = -from_s;
  const auto reach = [&](double at_s) {
    if (!std::isnan(at_s)) {
      from_s = std::min(from_s, at_s);
      to_s = std::max(to_s, at_s);
    }
  };
  for (const Log& log : logs) {
    for (const LogMinute& minute : log.minutes)
      reach(kMinute_s * static_cast<double>(minute.minute));
    for (const LogReading& reading : log.readings)
      reach(reading.from_s);
  }
  const auto text = [](double local_s) {
    std::string stamp = iso8601(local_s, 0.0).substr(0, 16);
    stamp[10] = ' ';
    return stamp;
  };
  return fmt::format(
      "no log has at least an hour within these hours of a day: they go from {} to {}",
      text(from_s), text(to_s));
}

std::string whyNotThisBank(const FitModel& model) {
  constexpr double kLeast = 0.7, kMost = 1.4, kMostTimesFull = 4.0;
  for (const ModelNight& night : model.nights) {
    double volts = 0.0, drawn_Ah = 0.0;
    int count = 0;
    for (const double voltage_V : night.log.of(LogChannel::bank_V))
      if (!std::isnan(voltage_V)) {
        volts += voltage_V;
        ++count;
      }
    for (const double current_A : night.log.of(LogChannel::bank_A))
      drawn_Ah += std::isnan(current_A) ? 0.0 : std::max(current_A, 0.0) * kMinute_s / kHour_s;
    const double ratio = volts / std::max(count, 1) / night.plan.nominal_V;
    if (count > 0 && (ratio < kLeast || ratio > kMost))
      return fmt::format(
          "bank has {:.4g} V, the log {:.4g} V in the mean: another bank, or volts in another unit",
          night.plan.nominal_V, volts / count);
    const double days = std::max(1.0, night.plan.span_s / kDay_s);
    if (drawn_Ah > kMostTimesFull * days * night.plan.bank.capacity_Ah)
      return fmt::format(
          "bank holds {:.0f} Ah, and by the log {:.0f} Ah flowed out of it: another bank, "
          "or amperes or watts in another unit",
          night.plan.bank.capacity_Ah, drawn_Ah);
  }
  return "";
}

}  // namespace nightbank
