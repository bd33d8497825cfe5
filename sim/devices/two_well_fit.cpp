#include "nightbank/devices/two_well_fit.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "mean_decay.h"
#include "require.h"
#include <fmt/format.h>

#include "nightbank/devices/two_well_capacity.h"
#include "nightbank/numerics/root.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

// k times the hours of the slowest rate, and of the fastest one, at the ends of the search. Beyond
// them a table shows a limit of the model only, and neither c nor k of their own.
constexpr double kSlowest = 1e-3;
constexpr double kFastest = 30.0;

// 1 / q = constant + answer g(k T)
struct Reciprocal {
  double constant_1_Ah = 0.0, answer_1_Ah = 0.0;
};

bool hasTwoWells(const Reciprocal& line) {
  return line.constant_1_Ah > 0.0 && line.answer_1_Ah > 0.0;
}

TwoWellParams wellsOf(const Reciprocal& line, double rate_1_h) {
  return {.total_Ah = 1.0 / line.constant_1_Ah,
          .fastShare = line.constant_1_Ah / (line.constant_1_Ah + line.answer_1_Ah),
          .rate_1_s = rate_1_h / kHour_s};
}

TwoWellFit fitOf(const Reciprocal& line, double rate_1_h, std::span<const RatePoint> rates) {
  TwoWellFit fit;
  fit.params = wellsOf(line, rate_1_h);
  double sum = 0.0;
  for (const RatePoint& rate : rates) {
    const double deviation = rate.capacity_Ah / deliveredCapacity_Ah(fit.params, rate.over_h) - 1.0;
    sum += deviation * deviation;
    if (std::fabs(deviation) >= std::fabs(fit.worst)) {
      fit.worst = deviation;
      fit.worstAt_h = rate.over_h;
    }
  }
  fit.rms = std::sqrt(sum / static_cast<double>(rates.size()));
  return fit;
}

TwoWellFit refused(std::string why) {
  TwoWellFit fit;
  fit.refusal = std::move(why);
  return fit;
}

std::vector<RatePoint> sorted(std::span<const RatePoint> rates) {
  for (const RatePoint& rate : rates) {
    detail::requirePositive("hours of a rate", rate.over_h);
    detail::requirePositive("capacity of a rate", rate.capacity_Ah);
  }
  std::vector<RatePoint> made(rates.begin(), rates.end());
  std::sort(made.begin(), made.end(),
            [](const RatePoint& a, const RatePoint& b) { return a.over_h < b.over_h; });
  return made;
}

// What no battery shows, whatever the model. `rates` are sorted.
std::string contradictionIn(std::span<const RatePoint> rates) {
  if (rates.size() < 3)
    return fmt::format("two wells need 3 rates or more; {} given", rates.size());
  for (std::size_t i = 1; i < rates.size(); ++i) {
    if (rates[i].over_h == rates[i - 1].over_h)
      return fmt::format("two of the rates are over {:g} h", rates[i].over_h);
    if (rates[i].capacity_Ah <= rates[i - 1].capacity_Ah)
      return fmt::format(
          "{:g} Ah over {:g} h is not more than {:g} Ah over {:g} h, but a slower "
          "discharge delivers more; compare the end voltages of the table",
          rates[i].capacity_Ah, rates[i].over_h, rates[i - 1].capacity_Ah, rates[i - 1].over_h);
  }
  return {};
}

constexpr std::string_view kAdvice =
    "take the rates that the night uses, to one end voltage, or give an exponent";

std::string capacityDropsTooFast(const RatePoint& fastest, const RatePoint& slowest) {
  return fmt::format(
      "no two wells lose so little charge at slow rates and so much at fast ones as "
      "from {:g} Ah over {:g} h to {:g} Ah over {:g} h; {}",
      slowest.capacity_Ah, slowest.over_h, fastest.capacity_Ah, fastest.over_h, kAdvice);
}

std::string capacityGrowsTooEvenly(const RatePoint& fastest, const RatePoint& slowest) {
  return fmt::format(
      "from {:g} Ah over {:g} h to {:g} Ah over {:g} h the capacity keeps growing at "
      "the slow rates, where two wells level off; {}",
      fastest.capacity_Ah, fastest.over_h, slowest.capacity_Ah, slowest.over_h, kAdvice);
}

// Least squares of q (constant + answer g) - 1, with k held.
Reciprocal lineAt(std::span<const RatePoint> rates, double rate_1_h) {
  double aa = 0.0, ab = 0.0, bb = 0.0, a1 = 0.0, b1 = 0.0;
  for (const RatePoint& rate : rates) {
    const double a = rate.capacity_Ah, b = a * detail::meanDecay(rate_1_h * rate.over_h);
    aa += a * a, ab += a * b, bb += b * b, a1 += a, b1 += b;
  }
  const double determinant = aa * bb - ab * ab;
  return {(a1 * bb - b1 * ab) / determinant, (aa * b1 - ab * a1) / determinant};
}

double sumOfSquares(std::span<const RatePoint> rates, double rate_1_h) {
  const Reciprocal line = lineAt(rates, rate_1_h);
  double sum = 0.0;
  for (const RatePoint& rate : rates) {
    const double deviation =
        rate.capacity_Ah *
            (line.constant_1_Ah + line.answer_1_Ah * detail::meanDecay(rate_1_h * rate.over_h)) -
        1.0;
    sum += deviation * deviation;
  }
  return sum;
}

// Golden section on the logarithm of k, within a bracket of the least sum.
double leastBetween(std::span<const RatePoint> rates, double low, double high) {
  constexpr double kGolden = 1.0 / std::numbers::phi;
  const auto sumAt = [&](double logRate) { return sumOfSquares(rates, std::exp(logRate)); };
  double inner = high - kGolden * (high - low), outer = low + kGolden * (high - low);
  double atInner = sumAt(inner), atOuter = sumAt(outer);
  while (high - low > 1e-9) {
    if (atInner < atOuter) {
      high = outer, outer = inner, atOuter = atInner;
      atInner = sumAt(inner = high - kGolden * (high - low));
    } else {
      low = inner, inner = outer, atInner = atOuter;
      atOuter = sumAt(outer = low + kGolden * (high - low));
    }
  }
  return std::exp(0.5 * (low + high));
}

}  // namespace

// The ratio of the two differences of 1 / q hangs on k alone and rises with it, between two limits.
TwoWellFit identifiedTwoWells(const std::array<RatePoint, 3>& rates) {
  const std::vector<RatePoint> p = sorted(rates);
  if (std::string why = contradictionIn(p); !why.empty())
    return refused(std::move(why));
  const double first_1_Ah = 1.0 / p[0].capacity_Ah - 1.0 / p[1].capacity_Ah;
  const double second_1_Ah = 1.0 / p[1].capacity_Ah - 1.0 / p[2].capacity_Ah;
  const auto excess = [&](double logRate) {
    const double k = std::exp(logRate);
    const double g1 = detail::meanDecay(k * p[1].over_h);
    return (detail::meanDecay(k * p[0].over_h) - g1) * second_1_Ah -
           (g1 - detail::meanDecay(k * p[2].over_h)) * first_1_Ah;
  };
  const double low = std::log(kSlowest / p[2].over_h), high = std::log(kFastest / p[0].over_h);
  if (excess(low) >= 0.0)
    return refused(capacityGrowsTooEvenly(p.front(), p.back()));
  if (excess(high) <= 0.0)
    return refused(capacityDropsTooFast(p.front(), p.back()));
  const double k = std::exp(bracketedRoot(excess, low, excess(low), high, excess(high), 1e-13));
  const double g0 = detail::meanDecay(k * p[0].over_h), g1 = detail::meanDecay(k * p[1].over_h);
  Reciprocal line{.answer_1_Ah = first_1_Ah / (g0 - g1)};
  line.constant_1_Ah = 1.0 / p[0].capacity_Ah - line.answer_1_Ah * g0;
  if (!hasTwoWells(line))
    return refused(capacityGrowsTooEvenly(p.front(), p.back()));
  return fitOf(line, k, p);
}

TwoWellFit fitTwoWells(std::span<const RatePoint> rates) {
  const std::vector<RatePoint> p = sorted(rates);
  if (std::string why = contradictionIn(p); !why.empty())
    return refused(std::move(why));
  // The sum may have several dips: a fine scan finds the deepest.
  constexpr int kSteps = 400;
  const double low = std::log(kSlowest / p.back().over_h);
  const double high = std::log(kFastest / p.front().over_h);
  const double step = (high - low) / kSteps;
  int best = 0;
  double least = sumOfSquares(p, std::exp(low));
  for (int i = 1; i <= kSteps; ++i) {
    const double sum = sumOfSquares(p, std::exp(low + i * step));
    if (sum < least)
      best = i, least = sum;
  }
  if (best == 0)
    return refused(capacityGrowsTooEvenly(p.front(), p.back()));
  if (best == kSteps)
    return refused(capacityDropsTooFast(p.front(), p.back()));
  const double k = leastBetween(p, low + (best - 1) * step, low + (best + 1) * step);
  const Reciprocal line = lineAt(p, k);
  if (!hasTwoWells(line))
    return refused(capacityGrowsTooEvenly(p.front(), p.back()));
  TwoWellFit fit = fitOf(line, k, p);
  if (fit.rms > kWorstTwoWellRms)
    fit.refusal = fmt::format(
        "two wells meet these rates only to {:.1f} % (rms), worst at {:g} h: "
        "{:+.0f} %; {}",
        100.0 * fit.rms, fit.worstAt_h, 100.0 * fit.worst, kAdvice);
  return fit;
}

}  // namespace nightbank
