#pragma once

#include <string>
#include <string_view>

#include "nightbank/simulate/outcome.h"
#include "nightbank/simulate/plant.h"

/// Names of what a run logs: a word for programs, words for people.
namespace nightbank::report {

std::string_view reasonWord(RunReason reason);  ///< "hand", "below_start" ...
std::string_view reasonText(RunReason reason);  ///< "by hand", "below start" ...
std::string_view stopWord(StopReason reason);
std::string_view stopText(StopReason reason);
std::string_view sourceWord(Source source);  ///< "inverter", "generator", "shore"
std::string_view eventWord(EventKind kind);  ///< "floor_reached" ...
/// Why the engine starts or drops its load: the run's reason; "" of other events.
std::string_view eventReasonWord(const LoggedEvent& event);
std::string_view eventReasonText(const LoggedEvent& event);
/// "inverter trips on overload", "engine starts (below start)"
std::string eventText(const LoggedEvent& event);

}  // namespace nightbank::report
