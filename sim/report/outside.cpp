#include <array>
#include <cstddef>
#include <string_view>

#include <fmt/format.h>

#include "nightbank/report/text.h"
#include "nightbank/report/warnings.h"
#include "nightbank/units/calendar.h"

namespace nightbank::report {
namespace {

struct Words {
  std::string_view about;
  std::string_view text;  // {} stands for the time
};

// In the order of ModelLimit.
constexpr std::array<Words, kModelLimits> kWords = {{
    {"inverter.continuous",
     "For {} the inverter gave over one and a half times its continuous power; what it loses there "
     "is the curve carried on beyond its range."},
    {"loads.duty_per_kelvin",
     "For {} the outdoor temperature would take a load's duty below 0 or above 100 %; it is held "
     "at that end. At 100 % it no longer keeps its inside cold."},
    {"solar",
     "For {} heat leaves an array less voltage than a full charge needs: it gives less, counted "
     "here on the low side, and perhaps nothing as the bank fills. More panels in series help."},
    {"bank.temperature",
     "For {} the bank was colder or hotter than the table of what lead gives at a temperature "
     "(-3.9 "
     "to 51.7 degC); it is held at the table's end."},
    {"bank.coldest_charge",
     "For {} a charge was offered that the bank's protection did not let in, for cold or for "
     "heat."},
    {"air_conditioners.details.curves",
     "For {} an air conditioner ran at temperatures beyond its curves, most often outdoors below "
     "18 degC; its cooling and draw are held at their ends."},
    {"air_conditioners.running.power_per_kelvin",
     "For {} the outdoor temperature would take an air conditioner's watts below half of its "
     "reading's; they are held there."},
}};

// Shorter than this is an edge that was only touched.
constexpr double kLeastTold_s = 0.5;

}  // namespace

std::vector<Warning> outsideWarnings(const OutsideTimes& outside_s) {
  std::vector<Warning> found;
  for (std::size_t i = 0; i < kWords.size(); ++i)
    if (outside_s[i] >= kLeastTold_s)
      found.push_back({std::string(kWords[i].about),
                       fmt::format(fmt::runtime(kWords[i].text), durationText(outside_s[i]))});
  return found;
}

}  // namespace nightbank::report
