#pragma once

#include <algorithm>
#include <cstdint>
#include <vector>

#include "plan_step.h"

namespace nightbank {

/// The runs of all plans of a search: each label points at its last, and each run at the one
/// before, so that plans share how they began. Private to the room.
class RunChains {
 public:
  /// The label's present run is over. @param to  cell in which it is off
  void end(PlanLabel& label, std::uint32_t to) {
    links_.push_back({label.last, label.began, to});
    label.last = static_cast<int>(links_.size()) - 1;
    label.began = 0;
  }

  /// Earliest first.
  std::vector<Interval> runsOf(const PlanLabel& label, double cell_s) const {
    std::vector<Interval> runs;
    for (int i = label.last; i >= 0; i = links_[static_cast<std::size_t>(i)].before) {
      const Link& link = links_[static_cast<std::size_t>(i)];
      runs.push_back({link.from * cell_s, link.to * cell_s});
    }
    std::reverse(runs.begin(), runs.end());
    return runs;
  }

 private:
  struct Link {
    int before = -1;
    std::uint32_t from = 0, to = 0;
  };

  std::vector<Link> links_;
};

}  // namespace nightbank
