#include "numbers_json.h"

#include <cmath>

#include "start_parts.h"
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "nightbank/report/words.h"

namespace nightbank::report {
namespace {

constexpr std::string_view kStartLevelWords[] = {"should_start", "doubtful", "expected_to_trip"};

// One cell, with as many digits as the engine's answer carries.
std::string numberCell(double value, int decimals) {
  if (!std::isfinite(value))
    return ",";
  const std::string text = fmt::format("{:.{}f}", value, decimals);
  const bool isNegativeZero = text.find_first_not_of("-0.") == std::string::npos;
  return ',' + (isNegativeZero ? fmt::format("{:.{}f}", 0.0, decimals) : text);
}

}  // namespace

Json numbersOf(const NightNumbers& n) {
  return {{"level", levelWord(n.level)},
          {"limited_by", limitWord(n.limit)},
          {"to_floor_h", decimals(n.toFloor_s / kHour_s, 4, "to_floor_h")},
          {"reaches_floor", n.reachesFloor},
          {"lowest_soc", decimals(n.lowestSoc, 6, "lowest_soc")},
          {"margin_Wh", decimals(n.margin_J / kWattHour_J, 2, "margin_Wh")},
          {"margin_share", maybe(n.marginShare, 6, "margin_share")},
          {"engine_h", decimals(n.engine_s / kHour_s, 4, "engine_h")},
          {"engine_starts", n.engineStarts},
          {"fuel_L", decimals(n.fuel_m3 / kLitre_m3, 4, "fuel_L")},
          {"quiet_min", decimals(n.quiet_s / kMinute_s, 2, "quiet_min")},
          {"too_warm_min", decimals(n.tooWarm_s / kMinute_s, 2, "too_warm_min")},
          {"unserved_Wh", decimals(n.unserved_J / kWattHour_J, 2, "unserved_Wh")},
          {"cost", maybe(n.cost, 2, "cost")}};
}

Json startsOf(const std::vector<SourceStart>& starts) {
  Json all = Json::array();
  for (const SourceStart& one : starts)
    all.push_back({{"source", startSourceWord(one.source)},
                   {"level", kStartLevelWords[static_cast<std::size_t>(one.level)]},
                   {"margin", decimals(one.margin, 4, "margin")},
                   {"running_VA", decimals(one.running_VA, 1, "running_VA")},
                   {"continuous_VA", decimals(one.continuous_VA, 1, "continuous_VA")}});
  return all;
}

std::string numbersCsvHead() {
  return ",verdict,limited_by,to_floor_h,reaches_floor,lowest_soc,margin_Wh,margin_share,engine_h,"
         "engine_starts,fuel_L,quiet_min,too_warm_min,unserved_Wh,cost";
}

std::string numbersCsv(const NightNumbers& n) {
  return fmt::format(",{},{}", levelWord(n.level), limitWord(n.limit)) +
         numberCell(n.toFloor_s / kHour_s, 4) + (n.reachesFloor ? ",1" : ",0") +
         numberCell(n.lowestSoc, 6) + numberCell(n.margin_J / kWattHour_J, 2) +
         numberCell(n.marginShare, 6) + numberCell(n.engine_s / kHour_s, 4) +
         fmt::format(",{}", n.engineStarts) + numberCell(n.fuel_m3 / kLitre_m3, 4) +
         numberCell(n.quiet_s / kMinute_s, 2) + numberCell(n.tooWarm_s / kMinute_s, 2) +
         numberCell(n.unserved_J / kWattHour_J, 2) + numberCell(n.cost, 2);
}

std::string csvCell(std::string_view text) {
  if (text.find_first_of(",\"\r\n") == std::string_view::npos)
    return std::string(text);
  std::string quoted = "\"";
  for (const char c : text) {
    quoted += c;
    if (c == '"')
      quoted += '"';
  }
  return quoted + '"';
}

}  // namespace nightbank::report
