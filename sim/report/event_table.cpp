#include <fmt/format.h>

#include "nightbank/report/figures.h"
#include "nightbank/report/reasons.h"
#include "nightbank/report/tables.h"

namespace nightbank::report {

std::string eventTable(const Night& night) {
  constexpr std::size_t kMostEvents = 40;
  const auto& events = night.recorder.events;
  if (events.empty())
    return "";
  std::vector<Cells> rows;
  for (const LoggedEvent& event : events) {
    if (rows.size() == kMostEvents)
      break;
    rows.push_back({momentText(night.plant, event.at_s), socText(event.soc), eventText(event)});
  }
  std::string text = "What happens\n" + table({{"at", false}, {"at SoC"}, {"", false}}, rows);
  if (events.size() > kMostEvents)
    text += fmt::format("  ... and {} more; --json has them all\n", events.size() - kMostEvents);
  return text;
}

}  // namespace nightbank::report
