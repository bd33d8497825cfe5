#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>
#include <numeric>

#include "fit_data.h"

#include "nightbank/units/constants.h"

/// How far a reading may be off beside its own scatter: `common practice, no source`.
namespace nightbank {
namespace {

constexpr std::size_t kMostBlock = 120, kFewestMinutes = 10;

/// How far a bank's curve of volts over charge may be off, as a share of the charge; and the least
/// charge over which its slope is taken.
constexpr double kCurveOff = 0.002, kLeastCharge = 1e-4;

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

/// Values of some minutes.
struct LoggedPart {
  std::vector<std::size_t> minutes;
  std::vector<double> values;
};

/// Minutes of the on or the off part of a block.
struct CyclePart {
  LoggedPart current_A, voltage_V, power_W;
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

/// Mean distance from the median.
double meanOff(const std::vector<double>& sorted) {
  double sum = 0.0;
  for (const double value : sorted)
    sum += std::abs(value - medianOfSorted(sorted));
  return sum / static_cast<double>(sorted.size());
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

/// Without spikes.
LoggedPart clearOf(const LoggedPart& part) {
  if (part.values.empty())
    return part;
  std::vector<double> sorted = part.values;
  std::ranges::sort(sorted);
  const double middle = medianOfSorted(sorted);
  // Of a counter with whole steps most values are the same one, and its neighbours are no spikes.
  double scatter = scatterOf(sorted);
  if (scatter == 0.0)
    scatter = meanOff(sorted);
  const double most = 6.0 * std::max(scatter, 1e-3 * std::abs(middle));
  LoggedPart kept;
  for (std::size_t i = 0; i < part.values.size(); ++i)
    if (std::abs(part.values[i] - middle) <= most) {
      kept.minutes.push_back(part.minutes[i]);
      kept.values.push_back(part.values[i]);
    }
  return kept;
}

/// Shares of the minutes of a block that are on, by the current, and where it starts.
struct CycleCourse {
  std::vector<double> on;          ///< NaN: not logged
  std::vector<std::size_t> rises;  ///< the first minute more on than off
};

/// A share of the time on and the minutes [from, to) that it is of.
struct WholeCycles {
  double share = 0.0, deviation = 0.0;
  std::size_t from = 0, to = 0;
};

/// From the first start to the last one; nullopt: there is no whole cycle without a gap.
std::optional<WholeCycles> wholeCycles(const CycleCourse& course, double every_min) {
  if (course.rises.size() < 2 || course.rises.front() == 0)
    return std::nullopt;
  // A start lies where the on time of the minutes around it says.
  const auto startAt = [&](std::size_t rise) {
    return static_cast<double>(rise + 1) - course.on[rise - 1] - course.on[rise];
  };
  WholeCycles found;
  found.from = course.rises.front() - 1;
  found.to = course.rises.back() - 1;
  double on = 0.0;
  for (std::size_t i = found.from; i < found.to; ++i)
    on += course.on[i];
  const double span = startAt(course.rises.back()) - startAt(course.rises.front());
  found.share = on / span;
  const double cycles = static_cast<double>(course.rises.size() - 1);
  // The lengths of cycles differ: by a tenth. Both starts are known to half an interval.
  constexpr double kUneven = 0.1;
  found.deviation = std::hypot(kUneven * found.share * (1.0 - found.share) / std::sqrt(cycles),
                               0.5 * (every_min - 1.0) / span);
  return std::isnan(on) ? std::nullopt : std::optional(found);
}

/// Over all of a block.
WholeCycles anyCycles(const CycleCourse& course) {
  WholeCycles found{.to = course.on.size()};
  int count = 0;
  for (const double on : course.on)
    if (!std::isnan(on)) {
      found.share += on;
      ++count;
    }
  found.share /= std::max(1, count);
  const double cycles = std::max(1.0, static_cast<double>(course.rises.size()));
  found.deviation = 0.5 * found.share * (1.0 - found.share) / cycles;
  return found;
}

/// Adds what one block tells.
class BlockReader {
 public:
  BlockReader(const NightLog& log, const Plant& plant, const MinuteRun& plan, NightReadings& out)
      : log_(log),
        plan_(plan),
        out_(out),
        capacity_Ah_(plant.bank.capacity_Ah),
        every_(std::max(1.0, log.interval_s / kMinute_s)) {}

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
    block.cycles = block.cycles && readLevels(block, middle_A);
    if (!block.cycles && hasCurrent)
      readMean(current_A, block);
    readIndoor(block);
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

  /// Volts tell a charge, no better than a bank's curve of rest voltages is known: where they fall
  /// fast, near an empty bank, that is many of their own errors.
  void addVoltage(Reading::Kind kind, const LoggedPart& part, const Block& block) {
    const MeanLevel level = meanLevel(part.values, every_);
    add(kind, level, std::hypot(4e-4 * level.mean, kCurveOff * voltsPerCharge_V(part, block)));
  }

  /// How far volts fall from the first quarter to the last one, over the share of the bank that
  /// flowed out meanwhile; of a charge the rise. What comes back after a load goes the other way.
  double voltsPerCharge_V(const LoggedPart& part, const Block& block) const {
    const auto quarter = static_cast<std::ptrdiff_t>(part.values.size() / 4);
    if (quarter == 0)
      return 0.0;
    const auto half = static_cast<std::size_t>(quarter) / 2;
    const double first = std::accumulate(part.values.begin(), part.values.begin() + quarter, 0.0);
    const double last = std::accumulate(part.values.end() - quarter, part.values.end(), 0.0);
    double drawn_Ah = 0.0;
    const std::size_t to = part.minutes[part.minutes.size() - 1 - half];
    for (std::size_t i = std::max(block.from, part.minutes[half]); i < to; ++i)
      if (const double current_A = log_.of(LogChannel::bank_A)[i]; !std::isnan(current_A))
        drawn_Ah += current_A * kMinute_s / kHour_s;
    const double charge = std::max(std::abs(drawn_Ah) / capacity_Ah_, kLeastCharge);
    const double fall_V =
        (drawn_Ah > 0.0 ? first - last : last - first) / static_cast<double>(quarter);
    return std::max(0.0, fall_V) / charge;
  }

  void addCurrent(Reading::Kind kind, const std::vector<double>& values) {
    const MeanLevel level = meanLevel(values, every_);
    add(kind, level, std::hypot(1e-3 * level.mean, 0.02));
  }

  void readMean(const std::vector<double>& current_A, const Block& block) {
    addCurrent(Reading::Kind::mean_A, current_A);
    LoggedPart voltage_V;
    for (std::size_t i = block.from; i < block.to; ++i)
      addLogged(LogChannel::bank_V, i, voltage_V);
    if (!block.charges)
      addVoltage(Reading::Kind::mean_V, voltage_V, block);
  }

  /// On or off in a minute; nullopt outside the block and where the log says nothing.
  std::optional<bool> isOnAt(const Block& block, std::size_t minute, double middle_A) const {
    if (minute < block.from || minute >= block.to)
      return std::nullopt;
    const double current_A = log_.of(LogChannel::bank_A)[minute];
    return std::isnan(current_A) ? std::nullopt : std::optional(current_A > middle_A);
  }

  /// Minutes amid a phase: in the first and the last of one it may have switched.
  CyclePart amidPhases(const Block& block, double middle_A, bool isOn) const {
    CyclePart part;
    for (std::size_t i = block.from + 1; i + 1 < block.to; ++i) {
      if (isOnAt(block, i - 1, middle_A) != isOn || isOnAt(block, i, middle_A) != isOn ||
          isOnAt(block, i + 1, middle_A) != isOn)
        continue;
      addLogged(LogChannel::bank_A, i, part.current_A);
      addLogged(LogChannel::bank_V, i, part.voltage_V);
      addLogged(LogChannel::airConditioner_W, i, part.power_W);
    }
    return part;
  }

  void addLogged(LogChannel channel, std::size_t minute, LoggedPart& part) const {
    const double value = log_.of(channel)[minute];
    if (std::isnan(value))
      return;
    part.minutes.push_back(minute);
    part.values.push_back(value);
  }

  /// @returns whether there is enough amid the phases
  bool readLevels(const Block& block, double middle_A) {
    constexpr std::size_t kFewest = 3;
    const CyclePart on = amidPhases(block, middle_A, true);
    const CyclePart off = amidPhases(block, middle_A, false);
    if (on.current_A.values.size() < kFewest || off.current_A.values.size() < kFewest)
      return false;
    const double high_A = addLevel(Reading::Kind::on_A, on.current_A, block);
    const double low_A = addLevel(Reading::Kind::off_A, off.current_A, block);
    addLevel(Reading::Kind::on_V, on.voltage_V, block);
    addLevel(Reading::Kind::off_V, off.voltage_V, block);
    addLevel(Reading::Kind::on_W, on.power_W, block);
    addDuty(block, middle_A, high_A, low_A);
    return true;
  }

  /// @returns its mean
  double addLevel(Reading::Kind kind, const LoggedPart& part, const Block& block) {
    const LoggedPart clear = clearOf(part);
    const std::size_t before = out_.readings.size();
    if (kind == Reading::Kind::on_V || kind == Reading::Kind::off_V)
      addVoltage(kind, clear, block);
    else if (kind == Reading::Kind::on_W)
      add(kind, meanLevel(clear.values, every_), 0.005 * meanLevel(clear.values, every_).mean);
    else
      addCurrent(kind, clear.values);
    if (out_.readings.size() == before)
      return std::numeric_limits<double>::quiet_NaN();
    out_.readings.back().minutes = clear.minutes;
    return out_.readings.back().value;
  }

  /// By the mean between both levels, so that minutes in which it switched count in part. Of a
  /// given duty over whole cycles; else where a block begins and ends within its cycle is chance:
  /// half of X (1 - X) of a cycle.
  void addDuty(const Block& block, double middle_A, double high_A, double low_A) {
    constexpr double kBeyond = 0.2, kLeast = 0.005;  // a spike is no part of the cycle
    CycleCourse course;
    for (std::size_t i = block.from; i < block.to; ++i) {
      const double share = (log_.of(LogChannel::bank_A)[i] - low_A) / (high_A - low_A);
      course.on.push_back(std::clamp(share, -kBeyond, 1.0 + kBeyond));
      const bool isRise = isOnAt(block, i, middle_A) == true && i > block.from &&
                          isOnAt(block, i - 1, middle_A) == false;
      if (isRise)
        course.rises.push_back(i - block.from);
    }
    std::optional<WholeCycles> whole = block.known ? wholeCycles(course, every_) : std::nullopt;
    if (!whole)
      whole = anyCycles(course);
    Reading reading{Reading::Kind::duty, index_, std::clamp(whole->share, 0.0, 1.0),
                    std::hypot(whole->deviation, kLeast)};
    for (std::size_t i = whole->from; i < whole->to; ++i)
      reading.minutes.push_back(block.from + i);
    out_.readings.push_back(std::move(reading));
  }

  /// The outdoor column is no reading: it is the weather that the night is run with.
  void readIndoor(const Block& block) {
    constexpr double kIndoor_K = 0.2;
    if (std::isnan(plan_.indoor_degC.front()))
      return;
    std::vector<double> values;
    for (std::size_t i = block.from; i < block.to; ++i)
      if (const double value = log_.of(LogChannel::indoor_degC)[i]; !std::isnan(value))
        values.push_back(value);
    add(Reading::Kind::indoor_degC, meanLevel(values, every_), kIndoor_K);
  }

  const NightLog& log_;
  const MinuteRun& plan_;
  NightReadings& out_;
  double capacity_Ah_;
  double every_;
  std::size_t index_ = 0;
};

}  // namespace

NightReadings readingsOf(const NightLog& log, const Plant& plant, const MinuteRun& plan) {
  NightReadings out;
  BlockReader reader(log, plant, plan, out);
  for (const Block& block : blocksOf(log, plant, plan))
    reader.read(block);
  addCharge(log, out);
  for (const LogReading& typed : log.readings)
    addTyped(typed, plant, out);
  return out;
}

}  // namespace nightbank
