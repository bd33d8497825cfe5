#include "nightbank/study/log_reader.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <unordered_map>

#include "log_text.h"
#include <fmt/format.h>

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

using Cells = std::vector<std::string_view>;

/// Lines looked at before it is settled what the text is.
constexpr std::size_t kSniffedLines = 200;
/// Longer ones are no rows.
constexpr std::size_t kMostLineBytes = 16'384;
/// A year and a day: about 70 MB.
constexpr std::size_t kMostMinutes = std::size_t{366} * 1440;
/// Row to row, for their median.
constexpr std::size_t kKeptIntervals = 4096;

double medianOf(std::vector<double> values) {
  std::ranges::sort(values);
  return values.empty() ? 0.0 : values[values.size() / 2];
}

}  // namespace

struct LogReader::Work {
  enum class Form : std::uint8_t { open, csv, typed };

  struct Row {
    double at_s = 0.0;  ///< on the scenario's clock, changes of an hour undone
    std::array<double, kLogChannels> value{};
  };

  LogOptions options;
  Log log;
  Form form = Form::open;
  std::vector<SeriesFault> faults;
  std::string rest;                  ///< of a line whose end has not come
  std::vector<std::string> sniffed;  ///< while the form is open
  int line = 0;                      ///< of the text, from 1
  detail::LogHeader header;
  bool commaDecimal = false;
  Cells cells;
  std::unordered_map<std::int64_t, std::size_t> places;  ///< of minutes in log.minutes
  std::vector<double> intervals_s;
  double interval_s = 0.0;  ///< median of the first ones
  double shift_s = 0.0;     ///< of clock changes
  double last_s = std::numeric_limits<double>::quiet_NaN();
  std::optional<Row> held;  ///< an hour back: a clock change, or a row out of order
  std::array<double, kLogChannels> highest{};
  std::string badStamp;  ///< the first that is none

  explicit Work(LogOptions given) : options(std::move(given)) {}

  void fault(std::string message) {
    constexpr std::size_t kMostFaults = 20;
    if (faults.size() < kMostFaults)
      faults.push_back({std::max(line, 1), 1, std::move(message)});
  }

  void takeLine(std::string_view text);
  void settleForm();
  void settleOrder();
  void takeBody(std::string_view text);
  std::optional<detail::LogStamp> stampOfRow() const;
  void takeRow(std::string_view text);
  void takeCells(Row& row);
  void place(Row row, bool isUtc);
  void keep(const Row& row);
  void follow(double at_s);
  bool isSteppedBy(double step_s, double hour_s) const;
};

void LogReader::Work::takeLine(std::string_view text) {
  if (line == 0 && text.starts_with("\xEF\xBB\xBF"))
    text.remove_prefix(3);
  if (text.ends_with('\r'))
    text.remove_suffix(1);
  if (form != Form::open)
    return takeBody(text);
  if (!faults.empty())
    return;  // none of the lines before told what it is
  sniffed.emplace_back(text);
  ++line;
  if (sniffed.size() >= kSniffedLines)
    settleForm();
}

/// Tells what the text is from its first lines, then reads those.
void LogReader::Work::settleForm() {
  const std::vector<std::string> lines = std::move(sniffed);
  sniffed.clear();
  std::size_t first = 0;
  for (; first < lines.size() && form == Form::open; ++first) {
    const std::string_view text = detail::trimmedCell(lines[first]);
    if (text.empty() || text.starts_with('#'))
      continue;
    if (const auto found = detail::logHeader(text, options.columns)) {
      header = *found;
      log.titles = header.titles;
      form = Form::csv;
      log.repairs.textLines += static_cast<std::int64_t>(first);
      sniffed.assign(lines.begin() + static_cast<std::ptrdiff_t>(first) + 1, lines.end());
    } else if (detail::looksTyped(text)) {
      form = Form::typed;
      sniffed.assign(lines.begin() + static_cast<std::ptrdiff_t>(first), lines.end());
    }
  }
  if (form == Form::open) {
    line = 1;
    return fault(
        "has no header that names a time and what was recorded, such as "
        "time,volts [V],current [A]; name columns with --column volts=TITLE");
  }
  const std::vector<std::string> body = std::move(sniffed);
  sniffed.clear();
  line = static_cast<int>(lines.size() - body.size());
  if (form == Form::csv) {
    for (const std::string& text : body)
      sniffed.push_back(text);
    settleOrder();
    sniffed.clear();
  }
  for (const std::string& text : body)
    takeBody(text);
}

/// Month first or day first, by what the first rows allow, else by what is nearer to the period.
void LogReader::Work::settleOrder() {
  bool monthCan = true, dayCan = true, isOpen = false;
  double monthAway_s = 0.0, dayAway_s = 0.0;
  commaDecimal = header.separator == ';';
  for (std::size_t i = 0; i < sniffed.size(); ++i) {
    detail::splitCells(sniffed[i], header.separator, cells);
    if (header.time >= cells.size() || !detail::isSlashDate(cells[header.time]))
      continue;
    std::string text(cells[header.time]);
    if (header.clock && *header.clock < cells.size())
      text.append(" ").append(cells[*header.clock]);
    const auto month = detail::logStamp(text, false), day = detail::logStamp(text, true);
    if (!month && !day)
      continue;
    isOpen = true;
    monthCan = monthCan && month;
    dayCan = dayCan && day;
    monthAway_s += month ? std::abs(month->at_s - options.from_s) : 0.0;
    dayAway_s += day ? std::abs(day->at_s - options.from_s) : 0.0;
  }
  if (!isOpen)
    return;
  log.orderGuessed = monthCan && dayCan && monthAway_s != dayAway_s;
  log.dayFirst = dayCan && (!monthCan || dayAway_s < monthAway_s);
}

void LogReader::Work::takeBody(std::string_view text) {
  ++line;
  if (form == Form::csv)
    return takeRow(text);
  text = detail::trimmedCell(text.substr(0, text.find('#')));
  if (text.empty())
    return;
  if (std::string wrong = detail::readNote(text, options, log); !wrong.empty())
    fault(std::move(wrong));
}

/// When the row in `cells` is of, where that can be read.
std::optional<detail::LogStamp> LogReader::Work::stampOfRow() const {
  if (header.time >= cells.size() || (header.clock && *header.clock >= cells.size()))
    return std::nullopt;
  if (!header.clock) {
    const auto stamp = detail::logStamp(cells[header.time], log.dayFirst);
    return stamp ? stamp : detail::clockStamp(cells[header.time], options);
  }
  return detail::logStamp(fmt::format("{} {}", cells[header.time], cells[*header.clock]),
                          log.dayFirst);
}

/// What the columns of the row in `cells` say; NaN where nothing that can be.
void LogReader::Work::takeCells(Row& row) {
  row.value.fill(std::numeric_limits<double>::quiet_NaN());
  for (const detail::LogColumn& column : header.columns) {
    const std::string_view cell = column.at < cells.size() ? cells[column.at] : "";
    if (cell.empty())
      continue;
    const auto value = detail::logValue(cell, column, commaDecimal);
    const double most = column.unitKnown && column.channel == LogChannel::soc ? 1.05 : 1e9;
    if (!value)
      ++log.repairs.badCells;
    else if (!detail::isPlausible(column.channel, *value) || *value > most)
      ++log.repairs.implausible;
    else
      row.value[static_cast<std::size_t>(column.channel)] = *value;
  }
}

void LogReader::Work::takeRow(std::string_view text) {
  detail::splitCells(text, header.separator, cells);
  std::optional<detail::LogStamp> stamp;
  if (text.size() <= kMostLineBytes)
    stamp = stampOfRow();
  if (!stamp) {
    if (!detail::trimmedCell(text).empty())
      ++log.repairs.textLines;
    if (badStamp.empty() && header.time < cells.size())
      badStamp = cells[header.time].substr(0, 40);
    return;
  }
  Row row;
  takeCells(row);
  ++log.repairs.rows;
  const bool isUtc = stamp->isUtc || options.bareIsUtc;
  log.stampsAreUtc = log.stampsAreUtc || isUtc;
  row.at_s = stamp->at_s + (isUtc ? options.utcOffset_s : shift_s);
  place(row, isUtc);
}

/// Whether a step from row to row is the usual one but for an hour.
bool LogReader::Work::isSteppedBy(double step_s, double hour_s) const {
  const double tolerance_s = std::max(2.0, 0.5 * interval_s);
  return interval_s > 0.0 && std::abs(step_s - hour_s - interval_s) <= tolerance_s;
}

/// Undoes changes of the clock: an hour back and on from there, or an hour ahead by night.
void LogReader::Work::place(Row row, bool isUtc) {
  if (held) {
    Row back = *held;
    held.reset();
    if (isSteppedBy(row.at_s - back.at_s, 0.0)) {
      shift_s += kHour_s;
      ++log.repairs.clockChanges;
      back.at_s += kHour_s;
      row.at_s += kHour_s;
    }
    keep(back);
  }
  const double step_s = row.at_s - last_s;
  if (!isUtc && isSteppedBy(step_s, -kHour_s)) {
    held = row;
    return;
  }
  const double clock_s = std::fmod(row.at_s, kDay_s);
  const bool isChangeHour = clock_s >= 2.0 * kHour_s && clock_s < 4.0 * kHour_s;
  if (!isUtc && isChangeHour && isSteppedBy(step_s, kHour_s)) {
    shift_s -= kHour_s;
    ++log.repairs.clockChanges;
    row.at_s -= kHour_s;
  }
  keep(row);
}

/// Intervals and gaps, from row to row.
void LogReader::Work::follow(double at_s) {
  const double step_s = at_s - last_s;
  if (step_s < 0.0) {
    ++log.repairs.outOfOrder;
    return;
  }
  if (step_s > 0.0 && intervals_s.size() < kKeptIntervals) {
    intervals_s.push_back(step_s);
    const std::size_t count = intervals_s.size();
    if (count <= 16 || (count & (count - 1)) == 0)  // now and then is enough
      interval_s = medianOf(intervals_s);
  }
  last_s = at_s;
}

void LogReader::Work::keep(const Row& row) {
  const auto second = static_cast<std::int64_t>(std::floor(row.at_s));
  const std::int64_t minute = second >= 0 ? second / 60 : (second - 59) / 60;
  auto [found, isNew] = places.try_emplace(minute, log.minutes.size());
  if (isNew && log.minutes.size() >= kMostMinutes) {
    places.erase(found);
    return fault("covers more than a year; cut it");
  }
  if (isNew)
    log.minutes.emplace_back().minute = minute;
  LogMinute& bin = log.minutes[found->second];
  const std::uint64_t bit = std::uint64_t{1} << static_cast<unsigned>(second - minute * 60);
  if ((bin.seconds & bit) != 0) {
    ++log.repairs.duplicates;
    return;
  }
  follow(row.at_s);
  bin.seconds |= bit;
  for (std::size_t i = 0; i < row.value.size(); ++i) {
    if (std::isnan(row.value[i]))
      continue;
    bin.sum[i] += row.value[i];
    ++bin.count[i];
    highest[i] = std::max(highest[i], row.value[i]);
  }
}

LogReader::LogReader(LogOptions options) : work_(std::make_unique<Work>(std::move(options))) {}

LogReader::~LogReader() = default;

void LogReader::feed(std::string_view block) {
  Work& work = *work_;
  for (std::size_t end = block.find('\n'); end != block.npos; end = block.find('\n')) {
    if (work.rest.empty()) {
      work.takeLine(block.substr(0, end));
    } else {
      work.rest.append(block.substr(0, end));
      work.takeLine(work.rest);
      work.rest.clear();
    }
    block.remove_prefix(end + 1);
  }
  if (work.rest.size() <= kMostLineBytes)  // what is longer is no row; its rest need not be kept
    work.rest.append(block);
}

std::variant<Log, std::vector<SeriesFault>> LogReader::finish() {
  Work& work = *work_;
  if (!work.rest.empty())
    work.takeLine(work.rest);
  if (work.form == Work::Form::open && work.faults.empty())
    work.settleForm();
  if (work.held)
    work.keep(*work.held);
  Log& log = work.log;
  std::ranges::sort(log.minutes, {}, &LogMinute::minute);
  log.interval_s = medianOf(std::move(work.intervals_s));
  if (work.faults.empty() && log.minutes.empty() && log.readings.empty())
    work.fault(
        work.badStamp.empty()
            ? "holds no row with a time and a value"
            : fmt::format("holds no row with a time: '{}' is none; expected such as 2031-07-22 "
                          "20:00, 7/22/2031 8:00 PM, 22.07.2031 20:00 or seconds since 1970",
                          work.badStamp));
  if (work.faults.empty()) {
    detail::settleUnits(log, work.header, work.highest);
    if (std::string wrong = detail::settleLog(log, work.options); !wrong.empty())
      work.fault(std::move(wrong));
  }
  if (!work.faults.empty())
    return std::move(work.faults);
  return std::move(log);
}

}  // namespace nightbank
