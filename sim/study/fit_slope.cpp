#include <algorithm>
#include <cmath>
#include <vector>

#include "fit_model.h"

namespace nightbank {
namespace {

/// Power while a compressor runs in a block, and the outdoor temperature there.
struct SlopePoint {
  double outdoor_degC, logged_W, planned_W;
};

/// The reading of a kind in a block; NaN where it has none.
double readingIn(const NightReadings& readings, const std::vector<double>& values,
                 std::size_t block, Reading::Kind kind) {
  for (std::size_t i = 0; i < readings.readings.size(); ++i)
    if (readings.readings[i].kind == kind && readings.readings[i].block == block)
      return values[i];
  return std::nan("");
}

/// Whether the compressor runs all through a block: then its mean is that of running.
bool neverRests(const Block& block, const MinuteRun& run) {
  double least = 1.0;
  for (std::size_t i = block.from; i < block.to; ++i)
    least = std::min(least, run.compressor[i]);
  return !block.cycles && least >= 1.0 - 1e-6;
}

void addSlopePoints(const ModelNight& night, const Plant& plant, const MinuteRun& run,
                    std::vector<SlopePoint>& points) {
  const std::vector<double> values = simulated(night.readings, night.log, plant, run);
  std::vector<double> logged;
  for (const Reading& reading : night.readings.readings)
    logged.push_back(reading.value);
  for (std::size_t b = 0; b < night.readings.blocks.size(); ++b) {
    const Block& block = night.readings.blocks[b];
    const bool isSteady = neverRests(block, run);
    const auto powerOf = [&](const std::vector<double>& from) {
      return readingIn(night.readings, from, b,
                       isSteady ? Reading::Kind::mean_A : Reading::Kind::on_A) *
             readingIn(night.readings, from, b,
                       isSteady ? Reading::Kind::mean_V : Reading::Kind::on_V);
    };
    const SlopePoint point{run.outdoor_degC[(block.from + block.to) / 2], powerOf(logged),
                           powerOf(values)};
    if (point.logged_W > 0.0 && point.planned_W > 0.0)
      points.push_back(point);
  }
}

/// Straight line of the logarithm by least squares: its slope and the error of that.
struct LogLine {
  double slope_1_K = 0.0, deviation_1_K = 0.0;
};

LogLine lineThrough(const std::vector<SlopePoint>& points, double SlopePoint::*what) {
  const auto count = static_cast<double>(points.size());
  double mean_degC = 0.0, mean = 0.0, spread = 0.0, along = 0.0, squares = 0.0;
  for (const SlopePoint& point : points) {
    mean_degC += point.outdoor_degC / count;
    mean += std::log(point.*what) / count;
  }
  for (const SlopePoint& point : points) {
    const double away_K = point.outdoor_degC - mean_degC;
    spread += away_K * away_K;
    along += away_K * (std::log(point.*what) - mean);
  }
  LogLine line;
  line.slope_1_K = along / spread;
  for (const SlopePoint& point : points) {
    const double off =
        std::log(point.*what) - mean - line.slope_1_K * (point.outdoor_degC - mean_degC);
    squares += off * off;
  }
  line.deviation_1_K = std::sqrt(squares / (count - 2.0) / spread);
  return line;
}

}  // namespace

std::optional<FitSlope> slopeOf(const FitModel& model, const Numbers& x) {
  std::vector<SlopePoint> points;
  for (std::size_t k = 0; k < model.nights.size(); ++k) {
    Plant plant;
    const MinuteRun run = runOf(model, x, k, plant);
    addSlopePoints(model.nights[k], plant, run, points);
  }
  constexpr std::size_t kFewest = 4;
  constexpr double kLeast_K = 3.0;
  if (points.size() < kFewest)
    return std::nullopt;
  const auto [coolest, warmest] =
      std::ranges::minmax_element(points, {}, &SlopePoint::outdoor_degC);
  const double over_K = warmest->outdoor_degC - coolest->outdoor_degC;
  if (over_K < kLeast_K)
    return std::nullopt;
  const LogLine logged = lineThrough(points, &SlopePoint::logged_W);
  return FitSlope{logged.slope_1_K, logged.deviation_1_K,
                  lineThrough(points, &SlopePoint::planned_W).slope_1_K, over_K};
}

}  // namespace nightbank
