#include "nightbank/study/cabin_days.h"

#include <algorithm>
#include <utility>

#include "nightbank/scenario/same.h"

namespace nightbank {
namespace {

/// As many as a grid of a few settings has; to look through them costs little beside a day.
constexpr std::size_t kMostKnown = 16;

}  // namespace

CabinState CabinDays::after(const scenario::Scenario& day, const WeatherSeries* series,
                            const std::function<CabinState()>& follow) {
  {
    const std::scoped_lock lock(mutex_);
    const auto found = std::ranges::find_if(known_, [&](const Known& one) {
      return one.series == series && scenario::isSame(one.day, day);
    });
    if (found != known_.end()) {
      known_.splice(known_.begin(), known_, found);
      return found->left;
    }
  }
  const CabinState left = follow();
  const std::scoped_lock lock(mutex_);
  ++followed_;
  known_.push_front({day, series, left});
  if (known_.size() > kMostKnown)
    known_.pop_back();
  return left;
}

CabinDayBefore CabinDays::lent() {
  return [this](const scenario::Scenario& day, const WeatherSeries* series,
                const std::function<CabinState()>& follow) { return after(day, series, follow); };
}

int CabinDays::followed() const {
  const std::scoped_lock lock(mutex_);
  return followed_;
}

}  // namespace nightbank
