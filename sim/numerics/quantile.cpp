#include "nightbank/numerics/quantile.h"

#include <array>
#include <cassert>
#include <cmath>
#include <cstddef>

namespace nightbank {
namespace {

// Highest power first.
using Coefficients = std::array<double, 8>;

constexpr Coefficients kMiddleAbove{2.5090809287301226727e3, 3.3430575583588128105e4,
                                    6.7265770927008700853e4, 4.5921953931549871457e4,
                                    1.3731693765509461125e4, 1.9715909503065514427e3,
                                    1.3314166789178437745e2, 3.3871328727963666080e0};
constexpr Coefficients kMiddleBelow{5.2264952788528545610e3, 2.8729085735721942674e4,
                                    3.9307895800092710610e4, 2.1213794301586595867e4,
                                    5.3941960214247511077e3, 6.8718700749205790830e2,
                                    4.2313330701600911252e1, 1.0};
constexpr Coefficients kTailAbove{7.74545014278341407640e-4, 2.27238449892691845833e-2,
                                  2.41780725177450611770e-1, 1.27045825245236838258e0,
                                  3.64784832476320460504e0,  5.76949722146069140550e0,
                                  4.63033784615654529590e0,  1.42343711074968357734e0};
constexpr Coefficients kTailBelow{1.05075007164441684324e-9, 5.47593808499534494600e-4,
                                  1.51986665636164571966e-2, 1.48103976427480074590e-1,
                                  6.89767334985100004550e-1, 1.67638483018380384940e0,
                                  2.05319162663775882187e0,  1.0};
constexpr Coefficients kFarAbove{2.01033439929228813265e-7, 2.71155556874348757815e-5,
                                 1.24266094738807843860e-3, 2.65321895265761230930e-2,
                                 2.96560571828504891230e-1, 1.78482653991729133580e0,
                                 5.46378491116411436990e0,  6.65790464350110377720e0};
constexpr Coefficients kFarBelow{2.04426310338993978564e-15, 1.42151175831644588870e-7,
                                 1.84631831751005468180e-5,  7.86869131145613259100e-4,
                                 1.48753612908506148525e-2,  1.36929880922735805310e-1,
                                 5.99832206555887937690e-1,  1.0};

double ratio(const Coefficients& above, const Coefficients& below, double x) {
  double a = 0.0, b = 0.0;
  for (std::size_t i = 0; i < above.size(); ++i) {
    a = a * x + above[i];
    b = b * x + below[i];
  }
  return a / b;
}

}  // namespace

double normalQuantile(double share) {
  assert(share > 0.0 && share < 1.0);
  const double q = share - 0.5;
  if (std::abs(q) <= 0.425)
    return q * ratio(kMiddleAbove, kMiddleBelow, 0.180625 - q * q);
  const double tail = q < 0.0 ? share : 1.0 - share;
  const double r = std::sqrt(-std::log(tail));
  const double value =
      r <= 5.0 ? ratio(kTailAbove, kTailBelow, r - 1.6) : ratio(kFarAbove, kFarBelow, r - 5.0);
  return q < 0.0 ? -value : value;
}

double uniformQuantile(double share, double low, double high) {
  return low + share * (high - low);
}

double triangularQuantile(double share, double low, double mode, double high) {
  const double span = high - low;
  const double below = (mode - low) / span;
  return share < below ? low + std::sqrt(share * span * (mode - low))
                       : high - std::sqrt((1.0 - share) * span * (high - mode));
}

double percentile(std::span<const double> sorted, double share) {
  assert(!sorted.empty() && share >= 0.0 && share <= 1.0);
  const double at = share * static_cast<double>(sorted.size() - 1);
  const auto below = static_cast<std::size_t>(at);
  if (below + 1 >= sorted.size())
    return sorted.back();
  return sorted[below] + (at - static_cast<double>(below)) * (sorted[below + 1] - sorted[below]);
}

}  // namespace nightbank
