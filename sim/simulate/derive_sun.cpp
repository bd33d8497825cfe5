#include <algorithm>
#include <cmath>
#include <span>

#include "derive_array.h"
#include "derive_parts.h"

#include "nightbank/weather/tilt.h"

namespace nightbank {
namespace {

/// All arrays at one instant.
using Outputs = std::span<ArrayOutput>;

/// @param outputs  of nothing yet
void findOutputs(const WeatherSource& weather, const std::vector<ArrayOnRoof>& arrays, double t_s,
                 double inside_s, Outputs outputs) {
  const Sky sky = skyAt(weather, t_s, inside_s);
  if (sky.irradiance.global_W_m2 <= 0.0 && sky.everywhere_W_m2 <= 0.0)
    return;
  const double air_degC = outdoorAt_degC(weather, t_s);
  for (std::size_t i = 0; i < arrays.size(); ++i) {
    const ArrayOnRoof& array = arrays[i];
    double plane_W_m2 = sky.everywhere_W_m2;
    if (plane_W_m2 == 0.0)
      plane_W_m2 = planeOfArray_W_m2(sky.irradiance, sky.sun, sky.extraterrestrial_W_m2,
                                     array.tilt_deg, array.facing_deg, kAlbedo);
    outputs[i] = outputOf(array, plane_W_m2 * unshadedAt(array, inside_s), air_degC);
  }
}

/// What the arrays give together at an instant, in the members of a piece's start.
SunPiece sumOf(const std::vector<ArrayOnRoof>& arrays, Outputs outputs) {
  SunPiece sum;
  for (std::size_t i = 0; i < arrays.size(); ++i) {
    const auto [amount, heatHolds] = outputs[i];
    sum.heatHolds = sum.heatHolds || heatHolds;
    if (arrays[i].isTied) {
      sum.tied_A += amount;
      continue;
    }
    sum.array_W += amount;
    sum.output_W += amount * arrays[i].params.conversion;
  }
  return sum;
}

/// Every instant at which shade, the sun window or a file's step changes at once; sorted.
std::vector<double> jumpTimes(const WeatherSource& weather, const std::vector<ArrayOnRoof>& arrays,
                              double span_s) {
  std::vector<double> times = skyJumps(weather, span_s);
  const auto add = [&](const Interval& interval) {
    for (const double end_s : {interval.from_s, interval.to_s})
      if (end_s > 0.0 && end_s < span_s)
        times.push_back(end_s);
  };
  for (const ArrayOnRoof& array : arrays)
    for (const ShadeWindow& shade : array.shades)
      std::for_each(shade.hours.begin(), shade.hours.end(), add);
  std::sort(times.begin(), times.end());
  return times;
}

/// The even grid, and the jumps.
std::vector<double> knotTimes(const std::vector<double>& jumps, double span_s, int knotsApart) {
  std::vector<double> times = jumps;
  for (double t_s = 0.0; t_s < span_s; t_s += knotsApart * kSunGrid_s)
    times.push_back(t_s);
  times.push_back(span_s);
  std::sort(times.begin(), times.end());
  times.erase(std::unique(times.begin(), times.end()), times.end());
  return times;
}

/// The arrays at the ends of pieces between knots.
struct Course {
  std::size_t count;  ///< of arrays
  std::vector<double> times;
  std::vector<bool> goesOn;  ///< a piece begins as the one before ended
  std::vector<ArrayOutput> begins, ends;

  Outputs begin(std::size_t piece) { return Outputs(begins).subspan(piece * count, count); }

  Outputs end(std::size_t piece) { return Outputs(ends).subspan(piece * count, count); }

  std::size_t pieces() const { return times.size() - 1; }

  double span_s(std::size_t piece) const { return times[piece + 1] - times[piece]; }
};

/// Lifts knots so that lines between them give what the arc under which they lie gives: by a
/// twelfth of its second difference, as the next term of the trapezoidal rule has it.
void liftChords(Course& course) {
  for (std::size_t i = 0; i < course.count; ++i) {
    double before = course.begin(0)[i].amount;
    for (std::size_t k = 1; k < course.pieces(); ++k) {
      double& here = course.begin(k)[i].amount;
      const double after = course.end(k)[i].amount;
      const double lift = (2.0 * here - before - after) / 12.0;
      const bool isEven = course.goesOn[k] && course.span_s(k) == course.span_s(k - 1);
      before = here;
      if (isEven && here > 0.0 && here + lift > 0.0)
        course.end(k - 1)[i].amount = here += lift;
    }
  }
}

/// Between jumps a piece begins as the one before ended. What stands around may hide the sun for
/// less than a piece: there nothing is taken for granted.
Course courseOf(const WeatherSource& weather, const std::vector<ArrayOnRoof>& arrays,
                double most_s) {
  const int knotsApart = weather.track != nullptr ? weather.track->knotsApart : 1;
  const std::vector<double> jumps = jumpTimes(weather, arrays, most_s);
  Course course{arrays.size(), knotTimes(jumps, most_s, knotsApart), {}, {}, {}};
  course.begins.resize(course.pieces() * course.count);
  course.ends.resize(course.pieces() * course.count);
  for (std::size_t k = 0; k < course.pieces(); ++k) {
    const double from_s = course.times[k], middle_s = from_s + 0.5 * course.span_s(k);
    course.goesOn.push_back(k > 0 && weather.horizon.empty() &&
                            !std::binary_search(jumps.begin(), jumps.end(), from_s));
    if (course.goesOn[k])
      std::ranges::copy(course.end(k - 1), course.begin(k).begin());
    else
      findOutputs(weather, arrays, from_s, middle_s, course.begin(k));
    findOutputs(weather, arrays, course.times[k + 1], middle_s, course.end(k));
  }
  if (knotsApart > 1)
    liftChords(course);
  return course;
}

bool isDark(const SunPiece& p) {
  return p.array_W == 0.0 && p.arraySlope_W_s == 0.0 && p.tied_A == 0.0 && p.tiedSlope_A_s == 0.0;
}

bool differs(const SunPiece& a, const SunPiece& b) {
  constexpr double kRounding = 1e-6;  // W or A
  return std::abs(a.array_W - b.array_W) > kRounding || std::abs(a.tied_A - b.tied_A) > kRounding;
}

/// One linear piece from its two ends. @returns whether it was needed: one dark piece is enough
bool appendPiece(std::vector<SunPiece>& pieces, double from_s, double span_s, const SunPiece& from,
                 const SunPiece& to, const SunPiece& endBefore) {
  SunPiece piece = from;
  piece.start_s = from_s;
  piece.arraySlope_W_s = (to.array_W - from.array_W) / span_s;
  piece.outputSlope_W_s = (to.output_W - from.output_W) / span_s;
  piece.tiedSlope_A_s = (to.tied_A - from.tied_A) / span_s;
  piece.heatHolds = from.heatHolds || to.heatHolds;
  piece.jumps = differs(from, endBefore);
  if (!pieces.empty() && isDark(pieces.back()) && isDark(piece))
    return false;
  pieces.push_back(piece);
  return true;
}

}  // namespace

void deriveOutdoor(const WeatherSource& weather, Plant& plant) {
  const double end_s = plant.span_s + kOutdoorGrid_s;
  const auto points = static_cast<std::size_t>(end_s / kOutdoorGrid_s) + 1;
  plant.outdoor_degC.reserve(points);
  plant.generatorLimit_VA.reserve(points);
  for (double t_s = 0.0; t_s < end_s; t_s += kOutdoorGrid_s) {
    const double outdoor_degC = outdoorAt_degC(weather, t_s);
    plant.outdoor_degC.push_back(outdoor_degC);
    plant.generatorLimit_VA.push_back(
        plant.hasGenerator ? deratedPower_W(plant.generator, outdoor_degC) : 0.0);
    if (plant.inverter.heatLoss_1_K > 0.0)
      plant.inverterLimit_VA.push_back(continuousAt_W(plant.inverter, outdoor_degC));
  }
}

void deriveSun(const WeatherSource& weather, Plant& plant) {
  const scenario::Scenario& scenario = weather.scenario;
  if (scenario.solar.empty()) {
    plant.sun.push_back({});
    return;
  }
  const std::vector<ArrayOnRoof> arrays = arraysOf(scenario, plant);
  for (std::size_t i = 0; i < arrays.size(); ++i) {
    plant.arrays.push_back({scenario.solar[i].name, arrays[i].isTied});
    plant.controllers_W += scenario.solar[i].standby_W.value;
  }
  Course course = courseOf(weather, arrays, plant.span_s);
  plant.sun.reserve(course.pieces());
  plant.sunOfArrays.reserve(course.pieces() * arrays.size());
  SunPiece endBefore;
  for (std::size_t k = 0; k < course.pieces(); ++k) {
    const Outputs from = course.begin(k), to = course.end(k);
    const double span_s = course.span_s(k);
    const SunPiece atEnd = sumOf(arrays, to);
    if (appendPiece(plant.sun, course.times[k], span_s, sumOf(arrays, from), atEnd, endBefore))
      for (std::size_t i = 0; i < arrays.size(); ++i)
        plant.sunOfArrays.push_back({from[i].amount, (to[i].amount - from[i].amount) / span_s});
    endBefore = atEnd;
  }
}

}  // namespace nightbank
