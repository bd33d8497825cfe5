#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>

#include "fit_data.h"

#include "nightbank/units/constants.h"

/// How far a reading may be off beside its own scatter: `common practice, no source`.
namespace nightbank {
namespace {

constexpr std::size_t kMostBlock = 120, kFewestMinutes = 10;

struct MeanLevel {
  double mean = std::numeric_limits<double>::quiet_NaN();
  double deviation = 0.0;  ///< of the mean, from the scatter about a slow course
  std::size_t count = 0;
};

/// @param every  minutes that one reading stands for
MeanLevel meanLevel(const std::vector<double>& values, double every) {
  MeanLevel level;
  double sum = 0.0, steps = 0.0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    sum += values[i];
    if (i > 0)
      steps += (values[i] - values[i - 1]) * (values[i] - values[i - 1]);
  }
  level.count = values.size();
  if (values.empty())
    return level;
  level.mean = sum / static_cast<double>(values.size());
  const double independent = std::max(1.0, static_cast<double>(values.size()) / every);
  const double changes = std::max(1.0, independent - 1.0);
  level.deviation = std::sqrt(0.5 * steps / changes / independent);
  return level;
}

/// What must be the same within a block.
struct BlockKey {
  std::uint8_t units = 0, duty = 0;
  std::uint8_t charging = 0;  ///< 0: no engine, 1: by plan and log, 2: one of both alone

  bool operator==(const BlockKey&) const = default;
};

BlockKey keyAt(const NightLog& log, const Plant& plant, const MinuteRun& plan, std::size_t minute) {
  const Segment& segment = segmentAt(plant, kMinute_s * static_cast<double>(minute) + 30.0);
  BlockKey key;
  key.units = segment.airConditioners;
  if (std::popcount(key.units) == 1)
    key.duty = segment.duty[static_cast<std::size_t>(std::countr_zero(key.units))];
  const bool byLog = chargesByLog(log, plant, minute);
  const bool byPlan = plan.engine[minute] > 0.5;
  key.charging = byLog == byPlan ? static_cast<std::uint8_t>(byLog) : 2;
  return key;
}

Block blockOf(const BlockKey& key, const Plant& plant, std::size_t from) {
  Block block;
  block.from = block.to = from;
  block.charges = key.charging == 1;
  if (std::popcount(key.units) == 1) {
    block.unit = static_cast<std::size_t>(std::countr_zero(key.units));
    block.duty = key.duty;
    block.known = !plant.airConditioners[block.unit].hasThermostat();
    block.cycles = true;  // until it shows that it does not
  }
  return block;
}

std::vector<Block> blocksOf(const NightLog& log, const Plant& plant, const MinuteRun& plan) {
  std::vector<Block> blocks;
  std::optional<BlockKey> before;
  for (std::size_t i = 0; i < plan.current_A.size(); ++i) {
    const BlockKey key = keyAt(log, plant, plan, i);
    if (key.charging == 2) {
      before.reset();
      continue;
    }
    if (!before || !(key == *before) || i - blocks.back().from >= kMostBlock)
      blocks.push_back(blockOf(key, plant, i));
    blocks.back().to = i + 1;
    before = key;
  }
  return blocks;
}

/// Minutes of a block, or of its on and off parts.
struct CyclePart {
  std::vector<double> current_A, voltage_V, power_W;
};

double medianOfSorted(const std::vector<double>& sorted) {
  return sorted[sorted.size() / 2];
}

/// Half of the values of one level lie within this of its median.
double scatterOf(const std::vector<double>& level) {
  std::vector<double> off;
  for (const double value : level)
    off.push_back(std::abs(value - medianOfSorted(level)));
  std::ranges::sort(off);
  return medianOfSorted(off);
}

/// Whether values above and below are two levels, and not one with noise: of a normal distribution
/// cut in the middle, the medians are four times the scatter of its halves apart.
bool isApart(const std::vector<double>& values, double middle) {
  constexpr double kClearly = 8.0;
  std::vector<double> below, above;
  for (const double value : values)
    (value > middle ? above : below).push_back(value);
  std::ranges::sort(below);
  std::ranges::sort(above);
  return medianOfSorted(above) - medianOfSorted(below) >
         kClearly * std::max(scatterOf(below), scatterOf(above));
}

/// The middle between the two levels of a current; NaN where it has but one.
double betweenLevels_A(const std::vector<double>& values) {
  std::vector<double> sorted = values;
  std::ranges::sort(sorted);
  const std::size_t edge = values.size() / 50;  // spikes
  double middle = 0.5 * (sorted[edge] + sorted[values.size() - 1 - edge]);
  for (int pass = 0; pass < 20; ++pass) {
    double below = 0.0, above = 0.0;
    int belows = 0, aboves = 0;
    for (const double value : values) {
      (value > middle ? above : below) += value;
      ++(value > middle ? aboves : belows);
    }
    if (belows < 3 || aboves < 3)
      return std::numeric_limits<double>::quiet_NaN();
    middle = 0.5 * (below / belows + above / aboves);
  }
  return isApart(values, middle) ? middle : std::numeric_limits<double>::quiet_NaN();
}

/// Without minutes in which it switched.
std::vector<double> clearOf(const std::vector<double>& values, bool high) {
  if (values.empty())
    return values;
  std::vector<double> sorted = values;
  std::ranges::sort(sorted);
  const double middle = sorted[sorted.size() / 2];
  const double spread =
      std::max(sorted[sorted.size() * 3 / 4] - sorted[sorted.size() / 4], 1e-3 * std::abs(middle));
  std::vector<double> kept;
  for (const double value : values)
    if ((high ? value - middle : middle - value) > -3.0 * spread)
      kept.push_back(value);
  return kept;
}

/// Adds what one block tells.
class BlockReader {
 public:
  BlockReader(const NightLog& log, const MinuteRun& plan, NightReadings& out)
      : log_(log), plan_(plan), out_(out), every_(std::max(1.0, log.interval_s / kMinute_s)) {}

  void read(Block block) {
    std::vector<double> current_A;
    for (std::size_t i = block.from; i < block.to; ++i)
      if (const double value = log_.of(LogChannel::bank_A)[i]; !std::isnan(value))
        current_A.push_back(value);
    const bool hasCurrent = current_A.size() >= kFewestMinutes;
    const double middle_A = hasCurrent && block.cycles && mayShowLevels(block)
                                ? betweenLevels_A(current_A)
                                : std::numeric_limits<double>::quiet_NaN();
    block.cycles = !std::isnan(middle_A);
    index_ = out_.blocks.size();
    const std::size_t before = out_.readings.size();
    if (block.cycles)
      readLevels(block, middle_A);
    else if (hasCurrent)
      readMean(current_A, block);
    readTemperatures(block);
    if (out_.readings.size() > before)
      out_.blocks.push_back(block);
  }

 private:
  bool mayShowLevels(const Block& block) const {
    constexpr double kFine = 3.0;
    double least = 1.0, most = 0.0;
    for (std::size_t i = block.from; i < block.to; ++i) {
      least = std::min(least, plan_.compressor[i]);
      most = std::max(most, plan_.compressor[i]);
    }
    return every_ <= kFine && least <= 0.0 && most >= 1.0 - 1e-6 && !block.charges;
  }

  void add(Reading::Kind kind, const MeanLevel& level, double floor) {
    if (level.count > 0)
      out_.readings.push_back({kind, index_, level.mean, std::hypot(level.deviation, floor)});
  }

  void addVoltage(Reading::Kind kind, const std::vector<double>& values) {
    const MeanLevel level = meanLevel(values, every_);
    add(kind, level, 4e-4 * level.mean);
  }

  void addCurrent(Reading::Kind kind, const std::vector<double>& values) {
    const MeanLevel level = meanLevel(values, every_);
    add(kind, level, std::hypot(1e-3 * level.mean, 0.02));
  }

  void readMean(const std::vector<double>& current_A, const Block& block) {
    addCurrent(Reading::Kind::mean_A, current_A);
    std::vector<double> voltage_V;
    for (std::size_t i = block.from; i < block.to; ++i)
      if (const double value = log_.of(LogChannel::bank_V)[i]; !std::isnan(value))
        voltage_V.push_back(value);
    if (!block.charges)
      addVoltage(Reading::Kind::mean_V, voltage_V);
  }

  void readLevels(const Block& block, double middle_A) {
    CyclePart on, off;
    int switches = 0;
    std::optional<bool> before;
    for (std::size_t i = block.from; i < block.to; ++i) {
      const double current_A = log_.of(LogChannel::bank_A)[i];
      if (std::isnan(current_A))
        continue;
      const bool isOn = current_A > middle_A;
      switches += before && *before != isOn ? 1 : 0;
      before = isOn;
      CyclePart& part = isOn ? on : off;
      part.current_A.push_back(current_A);
      if (const double value = log_.of(LogChannel::bank_V)[i]; !std::isnan(value))
        part.voltage_V.push_back(value);
      if (const double value = log_.of(LogChannel::airConditioner_W)[i]; !std::isnan(value))
        part.power_W.push_back(value);
    }
    addCurrent(Reading::Kind::on_A, clearOf(on.current_A, true));
    addCurrent(Reading::Kind::off_A, clearOf(off.current_A, false));
    addVoltage(Reading::Kind::on_V, clearOf(on.voltage_V, false));
    addVoltage(Reading::Kind::off_V, clearOf(off.voltage_V, true));
    const MeanLevel power = meanLevel(clearOf(on.power_W, true), every_);
    add(Reading::Kind::on_W, power, 0.005 * power.mean);
    addDuty(on.current_A, off.current_A, switches);
  }

  /// By the mean between both levels, so that minutes in which it switched count in part. Where a
  /// block begins and ends within its cycle is chance: half of X (1 - X) of a cycle.
  void addDuty(const std::vector<double>& on_A, const std::vector<double>& off_A, int switches) {
    const double high_A = meanLevel(clearOf(on_A, true), every_).mean;
    const double low_A = meanLevel(clearOf(off_A, false), every_).mean;
    constexpr double kBeyond = 0.2;  // a spike is no part of the cycle
    double sum_A = 0.0;
    for (const std::vector<double>* part : {&on_A, &off_A})
      for (const double value : *part)
        sum_A += std::clamp(value, low_A - kBeyond * (high_A - low_A),
                            high_A + kBeyond * (high_A - low_A));
    const double mean_A = sum_A / static_cast<double>(on_A.size() + off_A.size());
    const double share = std::clamp((mean_A - low_A) / (high_A - low_A), 0.0, 1.0);
    const double cycles = std::max(1.0, 0.5 * switches);
    constexpr double kLeast = 0.005;
    out_.readings.push_back({Reading::Kind::duty, index_, share,
                             std::hypot(0.5 * share * (1.0 - share) / cycles, kLeast)});
  }

  void readTemperatures(const Block& block) {
    constexpr double kIndoor_K = 0.2, kOutdoor_K = 0.5;
    const auto addMean = [&](Reading::Kind kind, LogChannel channel, double floor) {
      std::vector<double> values;
      for (std::size_t i = block.from; i < block.to; ++i)
        if (const double value = log_.of(channel)[i]; !std::isnan(value))
          values.push_back(value);
      add(kind, meanLevel(values, every_), floor);
    };
    if (!std::isnan(plan_.indoor_degC.front()))
      addMean(Reading::Kind::indoor_degC, LogChannel::indoor_degC, kIndoor_K);
    addMean(Reading::Kind::outdoor_degC, LogChannel::outdoor_degC, kOutdoor_K);
  }

  const NightLog& log_;
  const MinuteRun& plan_;
  NightReadings& out_;
  double every_;
  std::size_t index_ = 0;
};

}  // namespace

NightReadings readingsOf(const NightLog& log, const Plant& plant, const MinuteRun& plan) {
  NightReadings out;
  BlockReader reader(log, plan, out);
  for (const Block& block : blocksOf(log, plant, plan))
    reader.read(block);
  addCharge(log, out);
  for (const LogReading& typed : log.readings)
    addTyped(typed, plant, out);
  return out;
}

}  // namespace nightbank
