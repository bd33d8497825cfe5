#include <algorithm>
#include <bit>
#include <cmath>

#include "fit_data.h"

#include "nightbank/units/constants.h"

namespace nightbank {

const Segment& segmentAt(const Plant& plant, double time_s) {
  const auto after = std::upper_bound(plant.segments.begin(), plant.segments.end(), time_s,
                                      [](double t_s, const Segment& s) { return t_s < s.start_s; });
  return *std::prev(after);
}

void addCharge(const NightLog& log, NightReadings& out) {
  constexpr double kRead = 0.02, kWitness = 0.05;
  const std::vector<double>& soc = log.of(LogChannel::soc);
  const bool hasCurrent = log.has(LogChannel::bank_A);
  std::size_t next = 0;
  for (std::size_t i = 0; i < soc.size(); ++i) {
    if (std::isnan(soc[i]) || i < next)
      continue;
    out.readings.push_back({Reading::Kind::soc, i, soc[i], hasCurrent ? kWitness : kRead});
    if (hasCurrent)
      break;
    next = i + 60;
  }
  // Between rows that tell moments the monitor has counted on.
  if (hasCurrent && out.areMoments)
    for (std::size_t i = soc.size(); i-- > 0;)
      if (!std::isnan(soc[i])) {
        out.readings.push_back({Reading::Kind::soc, i, soc[i], kWitness});
        break;
      }
}

void addTyped(const LogReading& typed, const Plant& plant, NightReadings& out) {
  const double from =
      std::clamp((typed.from_s - plant.start_s) / kMinute_s, 0.0, plant.span_s / kMinute_s - 1.0);
  const double to = (typed.to_s - plant.start_s) / kMinute_s;
  const auto minute = static_cast<std::size_t>(std::isnan(from) ? 0.0 : from);
  const auto addBlock = [&](Reading::Kind kind, double value, double deviation) {
    Block block;
    const Segment& segment = segmentAt(plant, kMinute_s * (static_cast<double>(minute) + 0.5));
    if (std::popcount(segment.airConditioners) == 1) {
      block.unit = static_cast<std::size_t>(std::countr_zero(segment.airConditioners));
      block.duty = segment.duty[block.unit];
      block.known = !plant.airConditioners[block.unit].hasThermostat();
    }
    block.from = minute;
    block.to =
        std::max(minute + 1,
                 static_cast<std::size_t>(std::min(std::max(to, 0.0), plant.span_s / kMinute_s)));
    out.blocks.push_back(block);
    out.readings.push_back({kind, out.blocks.size() - 1, value, deviation});
  };
  switch (typed.kind) {
    case LogReading::Kind::soc:
      out.readings.push_back({Reading::Kind::soc, minute, typed.value, 0.02});
      return;
    case LogReading::Kind::refilled:
      out.readings.push_back(
          {Reading::Kind::fuel_m3, 0, typed.value, std::hypot(0.03 * typed.value, 1e-4)});
      return;
    case LogReading::Kind::volts:
      return addBlock(Reading::Kind::mean_V, typed.value, 0.05);
    case LogReading::Kind::indoor:
      return addBlock(Reading::Kind::indoor_degC, typed.value, 0.7);
    case LogReading::Kind::outdoor:  // the weather that the night is run with
      return;
    case LogReading::Kind::compressorOn: {
      const double span_s = typed.to_s - typed.from_s;
      const double share = typed.value / span_s;
      const double cycles = std::max(1.0, 3.0 * span_s / kHour_s);
      return addBlock(Reading::Kind::duty, share,
                      std::hypot(0.5 * share * (1.0 - share) / cycles, 0.02));
    }
  }
}

}  // namespace nightbank
