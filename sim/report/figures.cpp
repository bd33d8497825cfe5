#include "nightbank/report/figures.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string_view>

#include <fmt/format.h>

#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {

std::string shareText(double share) {
  if (!std::isfinite(share))
    return "unknown";
  // A hair more, so that 0.57 * 100 stays 57.
  const double tenths = std::trunc(share * 1000.0 + std::copysign(1e-9, share));
  if (std::abs(tenths) < 100.0 && std::fmod(tenths, 10.0) != 0.0)
    return fmt::format("{:.1f} %", tenths / 10.0);
  return fmt::format("{:.0f} %", std::trunc(tenths / 10.0) + 0.0);
}

std::string socText(double soc) {
  return fmt::format("{:.0f} %", std::abs(soc * 100.0));
}

std::string heightText(double height_m, UnitSystem units) {
  const std::string_view unit = units == UnitSystem::us ? "ft" : "m";
  return fmt::format("{:.0f} {}", std::round(inUnit(height_m, Dim::length, unit)) + 0.0, unit);
}

std::string momentText(const Plant& plant, double at_s) {
  const double local_s = plant.start_s + at_s;
  return plant.span_s <= kDay_s ? clockText(local_s) : dayAndClockText(local_s);
}

std::string periodText(const Plant& plant) {
  return dayAndClockText(plant.start_s) + " to " + dayAndClockText(plant.start_s + plant.span_s);
}

double wantedUntil_s(const Plant& plant, double at_s) {
  const auto& segments = plant.segments;
  auto holder = std::upper_bound(segments.begin(), segments.end(), at_s,
                                 [](double t_s, const Segment& s) { return t_s < s.start_s; });
  if (holder == segments.begin() || std::prev(holder)->airConditioners == 0)
    return plant.span_s;
  while (holder != segments.end() && holder->airConditioners != 0)
    ++holder;
  return holder == segments.end() ? plant.span_s : holder->start_s;
}

double socAt(const Plant& plant, const std::vector<Sample>& samples, double at_s) {
  double before = plant.startSoc;
  for (const Sample& sample : samples) {
    if (at_s < sample.start_s + sample.span_s) {
      const double share = std::clamp((at_s - sample.start_s) / sample.span_s, 0.0, 1.0);
      return before + (sample.socEnd - before) * share;
    }
    before = sample.socEnd;
  }
  return before;
}

namespace {

// Adds `share` (0..1) of a sample that lies in the row; what is no total is the caller's.
void addShare(Sample& total, const Sample& sample, double share) {
  total.span_s += share * sample.span_s;
  total.bankCharge_As += share * sample.bankCharge_As;
  total.solar_J += share * sample.solar_J;
  total.generator_J += share * sample.generator_J;
  total.shore_J += share * sample.shore_J;
  total.alternator_J += share * sample.alternator_J;
  total.airConditioners_J += share * sample.airConditioners_J;
  total.loads_J += share * sample.loads_J;
  total.losses_J += share * sample.losses_J;
  total.unserved_J += share * sample.unserved_J;
  total.compressor_s += share * sample.compressor_s;
  total.wanted_s += share * sample.wanted_s;
  total.engine_s += share * sample.engine_s;
  total.connected_s += share * sample.connected_s;
}

// The next edge of the clock after `from_s`, at least a millisecond away.
double nextEdge_s(double start_s, double from_s, double row_s) {
  const double edges = std::floor((start_s + from_s + 1e-3) / row_s) + 1.0;
  return edges * row_s - start_s;
}

}  // namespace

std::vector<ClockRow> clockRows(const Plant& plant, const std::vector<Sample>& samples,
                                double row_s) {
  std::vector<ClockRow> rows;
  double socBefore = plant.startSoc;
  double edge_s = -1.0;
  for (const Sample& sample : samples) {
    const double end_s = sample.start_s + sample.span_s;
    for (double from_s = sample.start_s; from_s < end_s - 1e-3;) {
      if (rows.empty() || from_s > edge_s - 1e-3) {
        rows.emplace_back();
        rows.back().total.start_s = from_s;
        rows.back().total.outdoor_degC = sample.outdoor_degC;
        rows.back().total.quiet = sample.quiet;
        edge_s = nextEdge_s(plant.start_s, from_s, row_s);
      }
      const double to_s = edge_s < end_s - 1e-3 ? edge_s : end_s;
      const double share = (to_s - from_s) / sample.span_s;
      ClockRow& row = rows.back();
      addShare(row.total, sample, share);
      row.total.bankVoltage_V = sample.bankVoltage_V;
      row.total.indoor_degC = sample.indoor_degC;
      row.total.socEnd =
          socBefore + (sample.socEnd - socBefore) * (to_s - sample.start_s) / sample.span_s;
      row.quiet_s += sample.quiet ? share * sample.span_s : 0.0;
      from_s = to_s;
    }
    socBefore = sample.socEnd;
  }
  return rows;
}

double mostInverterCurrent_A(const Plant& plant) {
  return inverterDcPower_W(plant.inverter, plant.inverter.continuous_W) / plant.cutoff_V;
}

}  // namespace nightbank::report
