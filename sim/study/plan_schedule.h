#pragma once

#include <limits>
#include <optional>
#include <vector>

#include "nightbank/scenario/scenario.h"
#include "nightbank/study/plan_setpoints.h"

/// The settings that windows offer, and a thermostat's entries with them in. Private to the room.
namespace nightbank {

inline constexpr double kSetpointStep_K = 0.5;

struct Setting {
  double coolTo_degC = std::numeric_limits<double>::quiet_NaN();  ///< NaN: as the file has it
  bool isWhole = true;  ///< in whole kelvins from the coolest, an end, or the file's own
};

/// What may be chosen in the hours of a window.
struct Offer {
  std::vector<ClockSpan> hours;
  std::vector<Setting> settings;
  std::optional<std::size_t> asInFile;  ///< which of them is the file's own, where it is allowed
};

/// From the coolest to the warmest, and the file's own where that lies between.
Offer offerOf(const scenario::Scenario& given, const scenario::SetpointWindow& window);

/// The entries of every thermostat with the chosen settings in their hours, and the file's own at
/// all other times. What is too warm stays what it was, where it follows the settings.
/// @param resolved  the file's own
std::vector<scenario::Edit> setpointEdits(const scenario::Scenario& given,
                                          const scenario::Scenario& resolved,
                                          const std::vector<ChosenSetpoint>& chosen);

}  // namespace nightbank
