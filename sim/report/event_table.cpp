#include <fmt/format.h>

#include "nightbank/report/figures.h"
#include "nightbank/report/reasons.h"
#include "nightbank/report/sections.h"
#include "nightbank/report/tables.h"

namespace nightbank::report {

Section eventSection(const Night& night) {
  constexpr std::size_t kMostEvents = 40;
  const auto& events = night.recorder.events;
  if (events.empty())
    return {};
  std::vector<Cells> rows;
  for (const LoggedEvent& event : events) {
    if (rows.size() == kMostEvents)
      break;
    rows.push_back({momentText(night.plant, event.at_s), socText(event.soc), eventText(event)});
  }
  Section section{"What happens", "", {{{"at", false}, {"at SoC"}, {"", false}}, rows}, ""};
  if (events.size() > kMostEvents)
    section.tail = fmt::format("... and {} more; --json has them all", events.size() - kMostEvents);
  return section;
}

std::string eventTable(const Night& night) {
  return sectionText(eventSection(night));
}

}  // namespace nightbank::report
