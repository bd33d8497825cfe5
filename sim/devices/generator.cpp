#include "nightbank/devices/generator.h"

#include <algorithm>

#include "require.h"

namespace nightbank {
namespace {

double factor(const DeratingSlope& slope, double value) noexcept {
  return std::clamp(1.0 - slope.perUnit * (value - slope.above), 0.0, 1.0);
}

void requireBurns(std::span<const LoadBurn> points) {
  if (points.empty())
    throw std::invalid_argument("the fuel rate has no point; expected at least one");
  for (const LoadBurn& point : points) {
    detail::require(point.load >= 0.0 && point.load <= 1.0, "load of a fuel rate", point.load,
                    "0 to 1");
    detail::requirePositive("fuel rate", point.rate_m3_s);
    const auto same = std::count_if(points.begin(), points.end(), [&](const LoadBurn& other) {
      return other.load == point.load;
    });
    detail::require(same == 1, "load of a fuel rate", point.load, "one fuel rate for each load");
  }
}

struct Line {
  double atZero, slope;
};

Line leastSquares(std::span<const LoadBurn> points) {
  const double count = static_cast<double>(points.size());
  double meanLoad = 0.0, meanRate_m3_s = 0.0;
  for (const LoadBurn& point : points) {
    meanLoad += point.load / count;
    meanRate_m3_s += point.rate_m3_s / count;
  }
  double spread = 0.0, rise = 0.0, square = 0.0, moment = 0.0;
  for (const LoadBurn& point : points) {
    const double load = point.load - meanLoad;
    spread += load * load;
    rise += load * (point.rate_m3_s - meanRate_m3_s);
    square += point.load * point.load;
    moment += point.load * point.rate_m3_s;
  }
  const double slope = rise / spread;
  const double atZero = meanRate_m3_s - slope * meanLoad;
  if (atZero < 0.0)
    return {0.0, moment / square};
  return {atZero, slope};
}

}  // namespace

void validate(const GeneratorParams& params) {
  detail::requirePositive("generator power", params.continuous_W);
  detail::requireNotNegative("no-load fuel rate", params.fuel.noLoad_m3_s);
  detail::requireNotNegative("fuel per watt", params.fuel.perWatt_m3_J);
  detail::requireNotNegative("altitude derating", params.altitude.perUnit);
  detail::requireNotNegative("heat derating", params.heat.perUnit);
  detail::require(std::isfinite(params.altitude.above), "altitude threshold", params.altitude.above,
                  "a finite number");
  detail::require(std::isfinite(params.heat.above), "heat threshold", params.heat.above,
                  "a finite number");
  detail::require(params.ratingLeft > 0.0 && params.ratingLeft <= 1.0, "rating left on the fuel",
                  params.ratingLeft, "above 0, up to 1");
  detail::require(std::isfinite(params.elevation_m), "elevation", params.elevation_m,
                  "a finite number");
}

FuelLine fitFuelLine(double continuous_W, std::span<const LoadBurn> points, double noLoadShare) {
  detail::requirePositive("generator power", continuous_W);
  requireBurns(points);
  Line line{};
  if (points.size() == 1) {
    detail::require(noLoadShare >= 0.0 && noLoadShare < 1.0, "no-load share of the fuel rate",
                    noLoadShare, "0 up to 1, 1 excluded");
    const double ofFull = noLoadShare + (1.0 - noLoadShare) * points[0].load;
    detail::require(ofFull > 0.0, "load of the only fuel rate", points[0].load, "more than 0");
    const double full_m3_s = points[0].rate_m3_s / ofFull;
    line = {noLoadShare * full_m3_s, (1.0 - noLoadShare) * full_m3_s};
  } else {
    line = leastSquares(points);
  }
  detail::require(line.slope > 0.0, "rise of the fuel rate from no load to full load", line.slope,
                  "more fuel at more load");
  return {.noLoad_m3_s = line.atZero, .perWatt_m3_J = line.slope / continuous_W};
}

FuelLine atFixedSpeed(const FuelLine& line, double continuous_W, double noLoadShare) {
  detail::requirePositive("generator power", continuous_W);
  detail::require(noLoadShare >= 0.0 && noLoadShare < 1.0, "no-load share of the fuel rate",
                  noLoadShare, "0 up to 1, 1 excluded");
  const double full_m3_s = fuelRate_m3_s(line, continuous_W);
  const double noLoad_m3_s = std::max(line.noLoad_m3_s, noLoadShare * full_m3_s);
  return {noLoad_m3_s, (full_m3_s - noLoad_m3_s) / continuous_W};
}

double deratingFactor(const GeneratorParams& params, double outdoor_degC) noexcept {
  return factor(params.altitude, params.elevation_m) * factor(params.heat, outdoor_degC);
}

double deratedPower_W(const GeneratorParams& params, double outdoor_degC) noexcept {
  return params.continuous_W * params.ratingLeft * deratingFactor(params, outdoor_degC);
}

}  // namespace nightbank
