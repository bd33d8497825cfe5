#include "nightbank/report/reasons.h"

#include <array>
#include <cstddef>

#include <fmt/format.h>

namespace nightbank::report {
namespace {

struct Names {
  std::string_view word, text;
};

// In the order of the enumerations.
constexpr std::array<Names, 6> kReasons{{{"hand", "by hand"},
                                         {"below_start", "below start"},
                                         {"cutoff", "at cut-off"},
                                         {"quiet_below_start", "below quiet start"},
                                         {"low_voltage", "low voltage"},
                                         {"high_load", "high load"}}};

constexpr std::array<Names, 8> kStops{{{"hand_end", "by hand"},
                                       {"reached_stop", "stop reached"},
                                       {"window_end", "hours end"},
                                       {"tripped", "overload"},
                                       {"period_end", "period end"},
                                       {"low_load", "low load"},
                                       {"longest_run", "longest run"},
                                       {"tank_empty", "tank empty"}}};

constexpr std::array<Names, 25> kEvents{{{"floor_reached", "bank down to its floor"},
                                         {"bank_spent", "bank has nothing left to give"},
                                         {"bank_recovered", "bank gives again"},
                                         {"bank_full", "bank full"},
                                         {"inverter_cut_off", "inverter cuts off on low voltage"},
                                         {"inverter_reconnected", "inverter is back"},
                                         {"source_tripped", "trips on overload"},
                                         {"source_reset", "is reset"},
                                         {"source_shut_off", "stays off after three trips"},
                                         {"generator_started", "engine starts"},
                                         {"generator_connected", "generator takes load"},
                                         {"generator_unloaded", "generator drops its load"},
                                         {"generator_stopped", "engine stops"},
                                         {"shore_connected", "shore power connected"},
                                         {"shore_left", "shore power gone"},
                                         {"source_transferred", "loads change their source"},
                                         {"start_failed", "engine does not start"},
                                         {"start_given_up", "engine is given up, stays off"},
                                         {"tank_empty", "tank is empty"},
                                         {"tank_filled", "tank is filled"},
                                         {"charge_tripped", "protection stops the charge"},
                                         {"charge_resumed", "protection lets charge in again"},
                                         {"unit_cut_off", "cuts off on low voltage"},
                                         {"unit_reconnected", "is back on the bank"},
                                         {"unit_start_failed", "does not start"}}};

constexpr std::array<std::string_view, kSources> kSourceWords{"inverter", "generator", "shore",
                                                              "bank", "charge"};

constexpr bool isOfSource(EventKind kind) {
  return kind == EventKind::sourceTripped || kind == EventKind::sourceReset ||
         kind == EventKind::sourceShutOff;
}

static_assert(kEvents.size() == static_cast<std::size_t>(EventKind::unitStartFailed) + 1);
static_assert(kReasons.size() == static_cast<std::size_t>(RunReason::highLoad) + 1);
static_assert(kStops.size() == static_cast<std::size_t>(StopReason::tankEmpty) + 1);

constexpr bool isOfUnit(EventKind kind) {
  return kind == EventKind::unitCutOff || kind == EventKind::unitReconnected;
}

constexpr bool isStart(EventKind kind) {
  return kind == EventKind::generatorStarted || kind == EventKind::startFailed ||
         kind == EventKind::startGivenUp;
}

}  // namespace

std::string_view reasonWord(RunReason reason) {
  return kReasons.at(static_cast<std::size_t>(reason)).word;
}

std::string_view reasonText(RunReason reason) {
  return kReasons.at(static_cast<std::size_t>(reason)).text;
}

std::string_view stopWord(StopReason reason) {
  return kStops.at(static_cast<std::size_t>(reason)).word;
}

std::string_view stopText(StopReason reason) {
  return kStops.at(static_cast<std::size_t>(reason)).text;
}

std::string_view sourceWord(Source source) {
  return kSourceWords.at(static_cast<std::size_t>(source));
}

std::string_view eventWord(EventKind kind) {
  return kEvents.at(static_cast<std::size_t>(kind)).word;
}

std::string_view eventReasonWord(const LoggedEvent& event) {
  if (isStart(event.kind))
    return reasonWord(static_cast<RunReason>(event.index));
  if (event.kind == EventKind::generatorUnloaded)
    return stopWord(static_cast<StopReason>(event.index));
  if (event.kind == EventKind::unitStartFailed)
    return sourceWord(event.gaveWay);
  return "";
}

std::string_view eventReasonText(const LoggedEvent& event) {
  if (isStart(event.kind))
    return reasonText(static_cast<RunReason>(event.index));
  if (event.kind == EventKind::generatorUnloaded)
    return stopText(static_cast<StopReason>(event.index));
  return "";
}

std::string eventText(const LoggedEvent& event) {
  const std::string_view text = kEvents.at(static_cast<std::size_t>(event.kind)).text;
  if (isOfSource(event.kind))
    return fmt::format("{} {}", kSourceWords.at(event.index), text);
  if (isOfUnit(event.kind))
    return fmt::format("air conditioner {} {}", event.index + 1, text);
  if (event.kind == EventKind::unitStartFailed)
    return fmt::format("air conditioner {} {}: {} trips", event.index + 1, text,
                       sourceWord(event.gaveWay));
  const std::string_view why = eventReasonText(event);
  return why.empty() ? std::string(text) : fmt::format("{} ({})", text, why);
}

}  // namespace nightbank::report
