#include "nightbank/numerics/binomial.h"

#include <cassert>
#include <cmath>
#include <initializer_list>
#include <limits>

#include "nightbank/numerics/root.h"

namespace nightbank {
namespace {

// 1 / (1 + d1/(1 + d2/(1 + ...))) from the front, by Lentz's method as modified by Thompson and
// Barnett (J. Comput. Phys. 64 (1986) 490-509). Converges fast for x below (a + 1) / (a + b + 2).
double betaFraction(double a, double b, double x) {
  constexpr int kMostTerms = 10000;
  constexpr double kTiny = 1e-300;
  const auto nonZero = [](double value) { return std::abs(value) < kTiny ? kTiny : value; };
  double c = 1.0, d = 1.0 / nonZero(1.0 - (a + b) * x / (a + 1.0));
  double fraction = d;
  for (int i = 1; i < kMostTerms; ++i) {
    const double m = i;
    const double even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
    const double odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
    double change = 1.0;
    for (const double term : {even, odd}) {
      d = 1.0 / nonZero(1.0 + term * d);
      c = nonZero(1.0 + term / c);
      change = c * d;
      fraction *= change;
    }
    if (std::abs(change - 1.0) < std::numeric_limits<double>::epsilon())
      break;
  }
  return fraction;
}

// Where I_x(a, b) reaches `share`.
double betaQuantile(double a, double b, double share) {
  constexpr double kTolerance = 1e-14;
  const auto above = [&](double x) { return incompleteBeta(a, b, x) - share; };
  return bracketedRoot(above, 0.0, -share, 1.0, 1.0 - share, kTolerance);
}

}  // namespace

double incompleteBeta(double a, double b, double x) {
  assert(a > 0.0 && b > 0.0);
  if (x <= 0.0)
    return 0.0;
  if (x >= 1.0)
    return 1.0;
  const double front = std::exp(std::lgamma(a + b) - std::lgamma(a) - std::lgamma(b) +
                                a * std::log(x) + b * std::log1p(-x));
  if (x < (a + 1.0) / (a + b + 2.0))
    return front * betaFraction(a, b, x) / a;
  return 1.0 - front * betaFraction(b, a, 1.0 - x) / b;
}

ProbabilityRange clopperPearson(std::int64_t successes, std::int64_t trials, double confidence) {
  assert(trials > 0 && successes >= 0 && successes <= trials);
  const double tail = 0.5 * (1.0 - confidence);
  const auto k = static_cast<double>(successes);
  const auto n = static_cast<double>(trials);
  ProbabilityRange range;
  if (successes > 0)
    range.low = betaQuantile(k, n - k + 1.0, tail);
  if (successes < trials)
    range.high = betaQuantile(k + 1.0, n - k, 1.0 - tail);
  return range;
}

}  // namespace nightbank
