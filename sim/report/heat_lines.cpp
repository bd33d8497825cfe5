#include <cmath>

#include <fmt/format.h>

#include "nightbank/report/derived.h"
#include "nightbank/report/text.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {

std::string heatLines(const HeatWeights& weights) {
  constexpr double kWorthTelling = 0.002;  // of all that is asked for
  constexpr std::size_t kMost = 12;
  std::vector<Cells> rows;
  for (const HeatWeight& input : weights.inputs)
    if (std::abs(input.moved_J) >= kWorthTelling * weights.asked_J && rows.size() < kMost)
      rows.push_back({cut(printable(input.path), 44), input.change,
                      fmt::format("{:+.0f} Wh", input.moved_J / kWattHour_J),
                      fmt::format("{:+.1f} %", 100.0 * input.moved_J / weights.asked_J)});
  if (rows.empty())
    return "";
  return wrapped(fmt::format("What the night's energy ({:.0f} Wh asked for) hangs on; measure the "
                             "first that is typical",
                             weights.asked_J / kWattHour_J),
                 "", "") +
         table({{"input", false}, {"change"}, {"energy"}, {""}}, rows);
}

}  // namespace nightbank::report
