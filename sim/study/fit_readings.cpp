#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "fit_data.h"
#include "fit_levels.h"

#include "nightbank/units/constants.h"

/// How far a reading may be off beside its own scatter: `common practice, no source`.
namespace nightbank {
namespace {

constexpr std::size_t kFewestMinutes = 10;

/// How far a bank's curve of volts over charge may be off, as a share of the charge; and the least
/// charge over which its slope is taken.
constexpr double kCurveOff = 0.002, kLeastCharge = 1e-4;

/// Minutes of the on or the off part of a block.
struct CyclePart {
  LoggedPart current_A, voltage_V, power_W;
};

/// Adds what one block tells.
class BlockReader {
 public:
  BlockReader(const NightLog& log, const Plant& plant, const MinuteRun& plan, NightReadings& out)
      : log_(log),
        plan_(plan),
        out_(out),
        plant_(plant),
        every_(std::max(1.0, log.interval_s / kMinute_s)) {}

  /// Coarse rows of these blocks may tell moments.
  void look(const std::vector<Block>& blocks) {
    std::vector<Block> cycling;
    for (const Block& block : blocks)
      if (block.cycles && !block.charges && every_ > kFine && bothByPlan(block))
        cycling.push_back(block);
    double restsAt_A = std::numeric_limits<double>::infinity();
    for (const Block& block : cycling)
      for (std::size_t i = block.from; i < block.to; ++i)
        restsAt_A = std::min(restsAt_A, plan_.current_A[i]);
    moments_ = momentsOf(log_, cycling, restsAt_A);
    out_.areMoments = moments_.are;
    inStep_ = moments_.inStep * std::sqrt(static_cast<double>(cycling.size()));
  }

  void read(Block block) {
    std::vector<double> current_A;
    for (std::size_t i = block.from; i < block.to; ++i)
      if (const double value = log_.of(LogChannel::bank_A)[i]; !std::isnan(value))
        current_A.push_back(value);
    const bool hasCurrent = current_A.size() >= kFewestMinutes;
    const bool mayCycle = hasCurrent && block.cycles && !block.charges && bothByPlan(block);
    const double middle_A = !mayCycle        ? std::numeric_limits<double>::quiet_NaN()
                            : every_ > kFine ? moments_.middle_A
                                             : betweenLevels_A(current_A);
    index_ = out_.blocks.size();
    const std::size_t before = out_.readings.size();
    block.cycles =
        mayCycle && (moments_.are      ? readMoments(block)
                     : every_ <= kFine ? !std::isnan(middle_A) && readLevels(block, middle_A)
                                       : false);
    if (!block.cycles && hasCurrent)
      readMean(current_A, block, mayCycle);
    readIndoor(block);
    if (out_.readings.size() > before)
      out_.blocks.push_back(block);
  }

 private:
  static constexpr double kFine = 3.0;  ///< minutes between rows that show when a cycle turns

  /// Whether a compressor is wholly on at times and wholly off at others.
  bool bothByPlan(const Block& block) const {
    double least = 1.0, most = 0.0;
    for (std::size_t i = block.from; i < block.to; ++i) {
      least = std::min(least, plan_.compressor[i]);
      most = std::max(most, plan_.compressor[i]);
    }
    return least <= 0.0 && most >= 1.0 - 1e-6;
  }

  void add(Reading::Kind kind, const MeanLevel& level, double floor) {
    if (level.count > 0)
      out_.readings.push_back({kind, index_, level.mean, std::hypot(level.deviation, floor)});
  }

  /// Volts tell a charge, no better than a bank's curve of rest voltages is known: where they fall
  /// fast, near an empty bank, that is many of their own errors.
  void addVoltage(Reading::Kind kind, const LoggedPart& part, const Block& block,
                  double every_min) {
    const MeanLevel level = meanLevel(part.values, every_min);
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
    const double charge = std::max(std::abs(drawn_Ah) / plant_.bank.capacity_Ah, kLeastCharge);
    const double fall_V =
        (drawn_Ah > 0.0 ? first - last : last - first) / static_cast<double>(quarter);
    return std::max(0.0, fall_V) / charge;
  }

  void addCurrent(Reading::Kind kind, const std::vector<double>& values, double every_min) {
    const MeanLevel level = meanLevel(values, every_min);
    add(kind, level, std::hypot(1e-3 * level.mean, 0.02));
  }

  void readMean(const std::vector<double>& current_A, const Block& block, bool cycles) {
    addCurrent(Reading::Kind::mean_A, current_A, every_);
    if (cycles && block.known && every_ > kFine)
      out_.readings.back().deviation = meanOff_A(block, out_.readings.back().value);
    LoggedPart voltage_V;
    for (std::size_t i = block.from; i < block.to; ++i)
      addLogged(LogChannel::bank_V, i, voltage_V);
    if (!block.charges)
      addVoltage(Reading::Kind::mean_V, voltage_V, block, every_);
  }

  /// Of a mean over cycles: half of X (1 - X) of one between its levels, by the plan.
  double meanOff_A(const Block& block, double mean_A) const {
    const auto [least, most] =
        std::minmax_element(plan_.current_A.begin() + static_cast<std::ptrdiff_t>(block.from),
                            plan_.current_A.begin() + static_cast<std::ptrdiff_t>(block.to));
    const DutyTimes& duty = plant_.airConditioners[block.unit].duties[block.duty];
    const double cycles =
        kMinute_s * static_cast<double>(block.to - block.from) / (duty.on_s + duty.off_s);
    const double share = std::clamp((mean_A - *least) / (*most - *least), 0.1, 0.9);
    return std::hypot(0.5 * share * (1.0 - share) / cycles * (*most - *least), 1e-3 * mean_A, 0.02);
  }

  /// Rows that tell a moment each.
  /// @returns whether there are enough
  bool readMoments(const Block& block) {
    constexpr std::size_t kFewest = 4;
    CyclePart parts[2];
    std::size_t ons = 0, rows = 0;
    for (const std::size_t row : log_.rows)
      if (row >= block.from && row < block.to) {
        const bool isOn = log_.of(LogChannel::bank_A)[row] > moments_.middle_A;
        addMinute(row, parts[isOn ? 1 : 0]);
        ons += isOn ? 1 : 0;
        ++rows;
      }
    if (rows < kFewest)
      return false;
    addLevels(block, parts[1], parts[0]);
    // So that neither all nor none is a certainty.
    const double count = static_cast<double>(rows) + 1.0;
    const double share = (static_cast<double>(ons) + 0.5) / count;
    Reading reading{Reading::Kind::duty, index_, share,
                    std::max(std::sqrt(share * (1.0 - share) / count), inStep_)};
    for (std::size_t i = block.from; i < block.to; ++i)
      reading.minutes.push_back(i);
    out_.readings.push_back(std::move(reading));
    return true;
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
      addMinute(i, part);
    }
    return part;
  }

  void addMinute(std::size_t minute, CyclePart& part) const {
    addLogged(LogChannel::bank_A, minute, part.current_A);
    addLogged(LogChannel::bank_V, minute, part.voltage_V);
    addLogged(LogChannel::airConditioner_W, minute, part.power_W);
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
    const std::size_t before = out_.readings.size();
    const CyclePart on = amidPhases(block, middle_A, true);
    const CyclePart off = amidPhases(block, middle_A, false);
    if (!addLevels(block, on, off)) {
      out_.readings.resize(before);
      return false;
    }
    addDuty(block, middle_A, lineThrough(clearOf(on.current_A)),
            lineThrough(clearOf(off.current_A)));
    return true;
  }

  /// @returns whether there is a current of both
  bool addLevels(const Block& block, const CyclePart& on, const CyclePart& off) {
    const bool hasOn = addLevel(Reading::Kind::on_A, on.current_A, block);
    const bool hasOff = addLevel(Reading::Kind::off_A, off.current_A, block);
    addLevel(Reading::Kind::on_V, on.voltage_V, block);
    addLevel(Reading::Kind::off_V, off.voltage_V, block);
    addLevel(Reading::Kind::on_W, on.power_W, block);
    return hasOn && hasOff;
  }

  /// @returns whether there is enough of it
  bool addLevel(Reading::Kind kind, const LoggedPart& part, const Block& block) {
    constexpr std::size_t kFewest = 3;
    const LoggedPart clear = clearOf(part);
    if (clear.values.size() < kFewest)
      return false;
    const double every_min = moments_.are ? 1.0 : every_;
    if (kind == Reading::Kind::on_V || kind == Reading::Kind::off_V)
      addVoltage(kind, clear, block, every_min);
    else if (kind == Reading::Kind::on_W)
      addPower(kind, clear.values, every_min);
    else
      addCurrent(kind, clear.values, every_min);
    out_.readings.back().minutes = clear.minutes;
    return true;
  }

  void addPower(Reading::Kind kind, const std::vector<double>& values, double every_min) {
    const MeanLevel level = meanLevel(values, every_min);
    add(kind, level, 0.005 * level.mean);
  }

  /// By the mean between both levels, so that minutes in which it switched count in part. Of a
  /// given duty over whole cycles; else where a block begins and ends within its cycle is chance:
  /// half of X (1 - X) of a cycle.
  void addDuty(const Block& block, double middle_A, const LevelLine& high_A,
               const LevelLine& low_A) {
    constexpr double kBeyond = 0.2, kLeast = 0.005;  // a spike is no part of the cycle
    CycleCourse course;
    for (std::size_t i = block.from; i < block.to; ++i) {
      const double rests_A = low_A(i);
      const double share = (log_.of(LogChannel::bank_A)[i] - rests_A) / (high_A(i) - rests_A);
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
  const Plant& plant_;
  double every_;
  Moments moments_;
  double inStep_ = 0.0;  ///< Moments::inStep, of a block
  std::size_t index_ = 0;
};

/// What rows that tell moments leave open of the time on, all blocks together, as a share of it.
double momentsOff(const NightReadings& readings) {
  double share = 0.0, squares = 0.0;
  for (const Reading& reading : readings.readings)
    if (reading.kind == Reading::Kind::duty) {
      share += reading.value;
      squares += reading.deviation * reading.deviation;
    }
  return share > 0.0 ? std::sqrt(squares) / share : 0.0;
}

}  // namespace

NightReadings readingsOf(const NightLog& log, const Plant& plant, const MinuteRun& plan) {
  NightReadings out;
  BlockReader reader(log, plant, plan, out);
  const std::vector<Block> blocks = blocksOf(log, plant, plan);
  reader.look(blocks);
  for (const Block& block : blocks)
    reader.read(block);
  if (out.areMoments)
    out.momentsOff = momentsOff(out);
  addCharge(log, out);
  for (const LogReading& typed : log.readings)
    addTyped(typed, plant, out);
  return out;
}

}  // namespace nightbank
