#include "nightbank/devices/cabin.h"

#include <cmath>

#include "require.h"

namespace nightbank {
namespace {

using detail::requireNotNegative;
using detail::requirePositive;

/// Below this the closed forms lose digits, and their series is used.
constexpr double kSmall = 0.1;

/// The exponential's remainders divided by what they begin with, smooth through 0:
/// first (e^x - 1) / x, second (e^x - 1 - x) / x^2, and so on.
struct Remainders {
  double exponential, first, second, third, fourth, fifth;
};

Remainders remaindersOf(double x) {
  Remainders r{};
  if (std::abs(x) < kSmall) {
    r.fifth =
        1.0 / 120 + x * (1.0 / 720 + x * (1.0 / 5040 + x * (1.0 / 40320 + x * (1.0 / 362880))));
    r.fourth = 1.0 / 24 + x * r.fifth;
    r.third = 1.0 / 6 + x * r.fourth;
    r.second = 0.5 + x * r.third;
    r.first = 1.0 + x * r.second;
    r.exponential = 1.0 + x * r.first;
  } else {
    const double once = 1.0 / x;
    r.exponential = std::exp(x);
    r.first = (r.exponential - 1.0) * once;
    r.second = (r.first - 1.0) * once;
    r.third = (r.second - 0.5) * once;
    r.fourth = (r.third - 1.0 / 6) * once;
    r.fifth = (r.fourth - 1.0 / 24) * once;
  }
  return r;
}

/// Of the span's integral of e^(-rate (span - s)) e^(-s/fade); the two may have the same pace.
double fadingWeight(double rate_1_s, const Fade& fade, double span_s, double exponential) {
  const double difference_1_s = rate_1_s - 1.0 / fade.fade_s;
  const double x = difference_1_s * span_s;
  if (std::abs(x) < kSmall)
    return fade.atEnd * span_s * remaindersOf(-x).first;
  return (fade.atEnd - exponential) / difference_1_s;
}

double weighted(const NodeWeights& w, double start, const Supply& supply, double fading) {
  return w.start * start + w.constant * supply.at + w.linear * supply.perSecond +
         w.square * supply.perSecond2 + w.cube * supply.perSecond3 - w.fading * fading;
}

}  // namespace

void validate(const CabinParams& params) {
  requirePositive("the heat held by the cabin's air", params.air_J_K);
  requirePositive("the heat held by the cabin's mass", params.mass_J_K);
  requirePositive("the exchange between the cabin's air and mass", params.airMass_W_K);
  requirePositive("the heat loss of the cabin's shell", params.outdoorMass_W_K);
  requirePositive("the air that takes up moisture", params.moist_kg);
  requireNotNegative("the heat loss of the cabin's air", params.outdoorAir_W_K);
  requireNotNegative("the infiltration", params.outdoorAir_kg_s);
}

// With x = sqrt(C) T the matrix is symmetric, so that a turn takes it apart.
CabinModes modesOf(const CabinParams& p, double slope_W_K) noexcept {
  const double air = -(p.outdoorAir_W_K + p.airMass_W_K + slope_W_K) / p.air_J_K;
  const double mass = -(p.airMass_W_K + p.outdoorMass_W_K) / p.mass_J_K;
  const double rootAir = std::sqrt(p.air_J_K), rootMass = std::sqrt(p.mass_J_K);
  const double cross = p.airMass_W_K / (rootAir * rootMass);
  const double middle = 0.5 * (air + mass), half = 0.5 * (air - mass);
  const double apart = std::sqrt(half * half + cross * cross);
  // The eigenvector of middle + apart is (cross, apart - half), or (apart + half, cross).
  const double alongAir = half >= 0.0 ? apart + half : cross;
  const double alongMass = half >= 0.0 ? cross : apart - half;
  const double length = std::sqrt(alongAir * alongAir + alongMass * alongMass);
  return {{middle + apart, middle - apart},
          alongAir / length,
          alongMass / length,
          rootAir,
          rootMass,
          1.0 / rootAir,
          1.0 / rootMass};
}

Fade fadeOver(double fade_s, double span_s) noexcept {
  const Remainders r = remaindersOf(-span_s / fade_s);
  return {fade_s, r.exponential, r.first};
}

NodeSpan nodeSpan(double rate_1_s, const Fade& fade, double span_s) noexcept {
  const double x = -rate_1_s * span_s;
  const Remainders r = remaindersOf(x);
  const double fading = fadingWeight(rate_1_s, fade, span_s, r.exponential);
  // x' integrated gives the end: rate times the mean is what was driven less what is there.
  const double fadingMean = -x < 1e-6 ? fade.fade_s * (1.0 - fade.mean)
                                      : (span_s * fade.mean - fading) / (span_s * rate_1_s);
  const double span2 = span_s * span_s, twice3 = 2.0 * span2 * span_s,
               sixfold4 = 6.0 * span2 * span2;
  return {{r.exponential, span_s * r.first, span2 * r.second, twice3 * r.third, sixfold4 * r.fourth,
           fading},
          {r.first, span_s * r.second, span2 * r.third, twice3 * r.fourth, sixfold4 * r.fifth,
           fadingMean}};
}

CabinSpan cabinSpan(const CabinModes& modes, const Fade& fade, double span_s) noexcept {
  return {{nodeSpan(-modes.rate_1_s[0], fade, span_s), nodeSpan(-modes.rate_1_s[1], fade, span_s)}};
}

CabinCourse course(const CabinModes& modes, const CabinSpan& span, const CabinTemperatures& start,
                   const CabinHeat& heat) noexcept {
  const double c = modes.cosine, s = modes.sine;
  const auto turned = [c, s](double air, double mass) {
    return std::array<double, 2>{c * air + s * mass, c * mass - s * air};
  };
  const auto from = turned(modes.rootAir * start.air_degC, modes.rootMass * start.mass_degC);
  const auto driven = [&](double air, double mass) {
    return turned(modes.perRootAir * air, modes.perRootMass * mass);
  };
  const auto at = driven(heat.toAir.at, heat.toMass.at);
  const auto perSecond = driven(heat.toAir.perSecond, heat.toMass.perSecond);
  const auto perSecond2 = driven(heat.toAir.perSecond2, heat.toMass.perSecond2);
  const auto perSecond3 = driven(heat.toAir.perSecond3, heat.toMass.perSecond3);
  const auto fading = driven(heat.fading_W, 0.0);
  std::array<NodeCourse, 2> mode{};
  for (std::size_t i = 0; i < 2; ++i)
    mode[i] = course(span.modes[i], from[i], {at[i], perSecond[i], perSecond2[i], perSecond3[i]},
                     fading[i]);
  const auto back = [&](double first, double second) {
    return CabinTemperatures{(c * first - s * second) * modes.perRootAir,
                             (s * first + c * second) * modes.perRootMass};
  };
  return {back(mode[0].end, mode[1].end), back(mode[0].mean, mode[1].mean)};
}

NodeCourse course(const NodeSpan& span, double start, const Supply& supply,
                  double fading) noexcept {
  return {weighted(span.atEnd, start, supply, fading),
          weighted(span.inTheMean, start, supply, fading)};
}

}  // namespace nightbank
