#include "nightbank/study/fit_gap.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "fit_model.h"

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

constexpr double kNotTold = std::numeric_limits<double>::quiet_NaN();

}  // namespace

double coveredEnergy_J(const NightLog& log, const MinuteRun& run) {
  double sum_J = 0.0;
  for (std::size_t i = 0; i < run.current_A.size(); ++i)
    if (!std::isnan(log.of(LogChannel::bank_A)[i]))
      sum_J += run.current_A[i] * run.voltage_V[i] * kMinute_s;
  return sum_J;
}

namespace {

/// By the log; where it has no voltage, at the plan's.
double loggedEnergy_J(const ModelNight& night) {
  double sum_J = 0.0;
  for (std::size_t i = 0; i < night.planned.voltage_V.size(); ++i) {
    const double logged_A = night.log.of(LogChannel::bank_A)[i];
    if (std::isnan(logged_A))
      continue;
    const double logged_V = night.log.of(LogChannel::bank_V)[i];
    sum_J += logged_A * (std::isnan(logged_V) ? night.planned.voltage_V[i] : logged_V) * kMinute_s;
  }
  return sum_J;
}

/// Moves the inputs from the plan to the fit one after the other and adds what each step moves.
void addSteps(const FitModel& model, const Numbers& x, std::size_t night,
              const std::vector<std::size_t>& order, std::vector<double>& moved_J) {
  const NightLog& log = model.nights[night].log;
  Numbers now = priorsOf(model.all);
  Plant plant;
  double before_J = coveredEnergy_J(log, runOf(model, now, night, plant));
  for (const std::size_t at : order) {
    now[at] = x[at];
    const double after_J = coveredEnergy_J(log, runOf(model, now, night, plant));
    moved_J[at] += 0.5 * (after_J - before_J);
    before_J = after_J;
  }
}

}  // namespace

Gap gapOf(const FitModel& model, const Numbers& x, std::size_t night) {
  const ModelNight& its = model.nights[night];
  Gap gap;
  for (const double logged_A : its.log.of(LogChannel::bank_A))
    gap.logged_Ah += std::isnan(logged_A) ? 0.0 : logged_A * kMinute_s / kHour_s;
  gap.planned_J = coveredEnergy_J(its.log, its.planned);
  gap.logged_J = loggedEnergy_J(its);
  gap.engine_J = its.engine_J;
  gap.weather_J = coveredEnergy_J(its.log, its.driven) - its.engine_J - gap.planned_J;
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < x.size(); ++i)
    if (x[i] != model.all.inputs[i].prior &&
        (model.all.inputs[i].night < 0 || model.all.inputs[i].night == static_cast<int>(night)))
      order.push_back(i);
  // Once forward and once backward: where two inputs work together, each gets half of that.
  std::vector<double> moved_J(x.size(), 0.0);
  addSteps(model, x, night, order, moved_J);
  addSteps(model, x, night, {order.rbegin(), order.rend()}, moved_J);
  for (const std::size_t i : order)
    gap.parts.push_back({i, moved_J[i]});
  Plant plant;
  gap.left_J = gap.logged_J - coveredEnergy_J(its.log, runOf(model, x, night, plant));
  return gap;
}

namespace {

/// Steps of the display and what flowed meanwhile.
struct DisplayStep {
  double shown = 0.0;     ///< change
  double drawn_Ah = 0.0;  ///< net, charging with its efficiency
  double lasted_h = 0.0;
  bool isJump = false;
};

/// A jump upwards that no current explains.
constexpr double kJumpUp = 0.02;

struct Watched {
  std::vector<DisplayStep> steps;
  double first = 0.0, last = 0.0;  ///< as shown
  double toFirst_Ah = 0.0;         ///< drawn before the first reading
  bool any = false;
};

/// Mean of what is there; NaN where nothing is.
double meanOfPart(std::span<const double> values) {
  double sum = 0.0;
  int count = 0;
  for (const double value : values)
    if (!std::isnan(value)) {
      sum += value;
      ++count;
    }
  return count > 0 ? sum / count : kNotTold;
}

/// The current, gaps filled with the mean of as long a time on both sides: the monitor counted on.
std::vector<double> withoutGaps(std::span<const double> current_A) {
  constexpr std::size_t kLeast = 10;
  std::vector<double> filled(current_A.begin(), current_A.end());
  for (std::size_t from = 0; from < filled.size();) {
    std::size_t to = from;
    while (to < filled.size() && std::isnan(current_A[to]))
      ++to;
    if (to == from) {
      ++from;
      continue;
    }
    const std::size_t reach = std::max(kLeast, to - from);
    const std::size_t first = from > reach ? from - reach : 0;
    const std::size_t last = std::min(to + reach, filled.size());
    const double mean_A = meanOfPart(current_A.subspan(first, last - first));
    for (; from < to; ++from)
      filled[from] = std::isnan(mean_A) ? 0.0 : mean_A;
  }
  return filled;
}

Watched watchedSteps(const WatchedMinutes& minutes, double capacity_Ah, double chargeEfficiency) {
  Watched watched;
  DisplayStep step;
  const std::vector<double> filled_A = withoutGaps(minutes.current_A);
  for (std::size_t i = 0; i < minutes.shown.size(); ++i) {
    if (const double shown = minutes.shown[i]; !std::isnan(shown)) {
      if (watched.any) {
        step.shown = shown - watched.last;
        step.isJump = step.shown + step.drawn_Ah / capacity_Ah > kJumpUp && step.shown > 0.0;
        watched.steps.push_back(step);
      } else {
        watched.first = shown;
        watched.toFirst_Ah = step.drawn_Ah;
      }
      watched.any = true;
      watched.last = shown;
      step = {};
    }
    const double current_A = filled_A[i];
    step.drawn_Ah += current_A * (current_A < 0.0 ? chargeEfficiency : 1.0) / 60.0;
    step.lasted_h += 1.0 / 60.0;
  }
  return watched;
}

/// Least squares of the display's course: shown = -drawn / C - offset t / C, apart from jumps.
/// Sums over the course, not over single steps, so that a display in whole percent does no harm.
struct DisplayLaw {
  double perAh = kNotTold, perHour = kNotTold;
};

DisplayLaw displayLaw(const std::vector<DisplayStep>& steps) {
  double qq = 0.0, tt = 0.0, qt = 0.0, qs = 0.0, ts = 0.0;
  double drawn_Ah = 0.0, lasted_h = 0.0, shown = 0.0, most_Ah = 0.0;
  for (const DisplayStep& step : steps) {
    drawn_Ah += step.drawn_Ah;
    lasted_h += step.lasted_h;
    shown += step.isJump ? 0.0 : step.shown;
    if (step.isJump)
      continue;
    qq += drawn_Ah * drawn_Ah;
    tt += lasted_h * lasted_h;
    qt += drawn_Ah * lasted_h;
    qs += drawn_Ah * shown;
    ts += lasted_h * shown;
    most_Ah = std::max(most_Ah, std::abs(drawn_Ah));
  }
  DisplayLaw law;
  const double apart = qq * tt - qt * qt;
  constexpr double kAlike = 1e-3;  // a steady current cannot be told from an offset
  if (most_Ah <= 0.0)
    return law;
  if (apart > kAlike * qq * tt) {
    law.perAh = (qs * tt - ts * qt) / apart;
    law.perHour = (ts * qq - qs * qt) / apart;
  } else {
    law.perAh = qs / qq;
  }
  return law;
}

}  // namespace

MonitorGap monitorGap(const WatchedMinutes& minutes, double capacity_Ah, double chargeEfficiency,
                      double startSoc) {
  MonitorGap gap;
  const Watched watched = watchedSteps(minutes, capacity_Ah, chargeEfficiency);
  if (!watched.any)
    return gap;
  double drawn_Ah = watched.toFirst_Ah, jumps = 0.0, sinceJumps_Ah = 0.0, lasted_h = 0.0;
  gap.atStart = watched.first - (startSoc - watched.toFirst_Ah / capacity_Ah);
  for (const DisplayStep& step : watched.steps) {
    drawn_Ah += step.drawn_Ah;
    if (step.isJump) {
      jumps += step.shown + step.drawn_Ah / capacity_Ah;
      continue;
    }
    sinceJumps_Ah += step.drawn_Ah;
    lasted_h += step.lasted_h;
  }
  gap.shown = watched.last;
  gap.counted = startSoc - drawn_Ah / capacity_Ah;
  gap.whole = gap.shown - gap.counted;
  gap.resets = jumps;
  const DisplayLaw law = displayLaw(watched.steps);
  gap.capacitySetting_Ah = law.perAh < 0.0 ? -1.0 / law.perAh : kNotTold;
  gap.offset_A = law.perAh < 0.0 ? law.perHour / law.perAh : kNotTold;
  if (law.perAh < 0.0)
    gap.capacity = sinceJumps_Ah * (law.perAh + 1.0 / capacity_Ah);
  if (law.perAh < 0.0 && !std::isnan(law.perHour))
    gap.offset = lasted_h * law.perHour;
  double shown = 0.0;
  for (const DisplayStep& step : watched.steps)
    shown += step.isJump ? 0.0 : step.shown;
  gap.drift = shown + sinceJumps_Ah / capacity_Ah - gap.capacity - gap.offset;
  return gap;
}

}  // namespace nightbank
