#pragma once

#include <cmath>
#include <cstdint>
#include <numbers>
#include <string>

#include "nights.h"
#include <fmt/format.h>

#include "nightbank/numerics/random.h"
#include "nightbank/study/fit.h"
#include "nightbank/units/calendar.h"

/// Logs that the simulator itself has made, with noise, and the fit of them.
namespace nightbank {

struct LogNoise {
  std::uint64_t seed = 1;
  double current_A = 0.0, voltage_V = 0.0;
  int every_min = 1;
  double indoor_K = -1.0;  ///< below 0: no column
  double days = 0.0;       ///< the stamps are moved by
  bool withOutdoor = false;
  bool isMean = false;  ///< rows are means over their interval; else of their first minute
  bool withSoc = true;
};

// Box and Muller (1958).
inline double noiseOf(const LogNoise& noise, std::uint64_t stream, std::uint64_t index) {
  const double radius = std::sqrt(-2.0 * std::log(uniform(noise.seed, 2 * stream, index)));
  return radius * std::cos(2.0 * std::numbers::pi * uniform(noise.seed, 2 * stream + 1, index));
}

/// What one row says of a run's samples [from, to).
struct LogRow {
  double voltage_V = 0.0, current_A = 0.0;
};

inline LogRow rowOf(const std::vector<Sample>& samples, std::size_t from, std::size_t to) {
  LogRow row;
  for (std::size_t i = from; i < to; ++i) {
    const double before_V = samples[i > 0 ? i - 1 : 0].bankVoltage_V;
    row.voltage_V += 0.5 * (before_V + samples[i].bankVoltage_V) / static_cast<double>(to - from);
    row.current_A += samples[i].bankCharge_As / samples[i].span_s / static_cast<double>(to - from);
  }
  return row;
}

/// @param night  with a step of a minute
inline std::string madeLog(const Night& night, const LogNoise& noise) {
  std::string text = noise.withSoc ? "time,volts,amps,soc %" : "time,volts,amps";
  text += noise.indoor_K >= 0.0 ? ",indoor degC" : "";
  text += noise.withOutdoor ? ",outdoor degC\n" : "\n";
  const auto& samples = night.recorder.samples;
  const auto every = static_cast<std::size_t>(noise.every_min);
  for (std::size_t i = 0; i < samples.size(); i += every) {
    const Sample& sample = samples[i];
    const LogRow row =
        rowOf(samples, i, noise.isMean ? std::min(i + every, samples.size()) : i + 1);
    const double local_s = night.plant.start_s + sample.start_s + noise.days * 86400.0;
    const std::string stamp = iso8601(local_s, 0.0).substr(0, 19);
    text += fmt::format("{},{:.4f},{:.4f}", stamp,
                        row.voltage_V + noise.voltage_V * noiseOf(noise, 1, i),
                        row.current_A + noise.current_A * noiseOf(noise, 2, i));
    if (noise.withSoc)
      text += fmt::format(",{:.2f}", 100.0 * sample.socEnd);
    if (noise.indoor_K >= 0.0)
      text += fmt::format(",{:.3f}", sample.indoor_degC + noise.indoor_K * noiseOf(noise, 3, i));
    if (noise.withOutdoor)
      text += fmt::format(",{:.3f}", sample.outdoor_degC);
    text += '\n';
  }
  return text;
}

/// @param yaml  with `step: 1 min`
inline std::string madeLog(const std::string& yaml, const LogNoise& noise) {
  return madeLog(ranOf(yaml), noise);
}

inline Log logOfText(const std::string& text, const std::string& yaml) {
  const scenario::Scenario given = scenarioOf(yaml);
  const Plant plant = derive(scenario::resolve(given));
  LogOptions options;
  options.utcOffset_s = plant.utcOffset_s;
  options.from_s = plant.start_s;
  options.to_s = plant.start_s + plant.span_s;
  auto read = readLog(text, options);
  if (const auto* faults = std::get_if<std::vector<SeriesFault>>(&read))
    throw std::runtime_error(faults->front().message);
  return std::get<Log>(std::move(read));
}

inline Fit fitOf(const std::string& yaml, const std::vector<std::string>& logs) {
  std::vector<Log> read;
  for (const std::string& text : logs)
    read.push_back(logOfText(text, yaml));
  auto fitted = fitLogs(scenarioOf(yaml), nullptr, read, 2);
  if (const auto* problems = std::get_if<std::vector<scenario::Problem>>(&fitted))
    throw std::runtime_error(problems->front().message);
  return std::get<Fit>(std::move(fitted));
}

inline const FitInput& inputOf(const Fit& fit, const std::string& path, int night = -1) {
  for (const FitInput& input : fit.inputs)
    if (input.path == path && (night < 0 || input.night == night))
      return input;
  throw std::runtime_error("no input " + path);
}

}  // namespace nightbank
