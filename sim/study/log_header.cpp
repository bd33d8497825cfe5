#include <algorithm>
#include <charconv>
#include <cmath>
#include <limits>

#include "log_text.h"

#include "nightbank/units/quantity.h"

namespace nightbank {

std::array<std::string_view, kLogChannels> logChannelKeys() {
  return {"volts",  "amperes", "watts",     "used",     "soc",
          "indoor", "outdoor", "generator", "ac_watts", "ac_amperes"};
}

double LogMinute::mean(LogChannel channel) const {
  const auto i = static_cast<std::size_t>(channel);
  return count[i] > 0 ? sum[i] / count[i] : std::numeric_limits<double>::quiet_NaN();
}

namespace detail {
namespace {

using TitleWords = std::vector<std::string>;

/// Lower-case runs of letters and digits; "%" is a word of its own.
TitleWords titleWords(std::string_view title) {
  TitleWords words{""};
  for (const char c : title) {
    const bool isLetter = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
    const bool isCapital = c >= 'A' && c <= 'Z';
    if (isLetter || isCapital)
      words.back() += isCapital ? static_cast<char>(c - 'A' + 'a') : c;
    else if (!words.back().empty())
      words.emplace_back();
    if (c == '%') {
      words.back() = "%";
      words.emplace_back();
    }
  }
  if (words.back().empty())
    words.pop_back();
  return words;
}

bool hasAny(const TitleWords& words, std::initializer_list<std::string_view> wanted) {
  return std::ranges::any_of(words, [&](const std::string& word) {
    return std::ranges::find(wanted, word) != wanted.end();
  });
}

/// A unit as titles write it, and its factor to the kept unit (of temperatures none).
struct TitleUnit {
  std::string_view word;
  Dim dim;
  std::string_view unit;
};

constexpr TitleUnit kTitleUnits[] = {
    {"v", Dim::voltage, "V"},
    {"volt", Dim::voltage, "V"},
    {"volts", Dim::voltage, "V"},
    {"mv", Dim::voltage, "mV"},
    {"a", Dim::current, "A"},
    {"amp", Dim::current, "A"},
    {"amps", Dim::current, "A"},
    {"ampere", Dim::current, "A"},
    {"amperes", Dim::current, "A"},
    {"ma", Dim::current, "mA"},
    {"w", Dim::power, "W"},
    {"watt", Dim::power, "W"},
    {"watts", Dim::power, "W"},
    {"kw", Dim::power, "kW"},
    {"ah", Dim::charge, "Ah"},
    {"mah", Dim::charge, "mAh"},
    {"%", Dim::fraction, "%"},
    {"pct", Dim::fraction, "%"},
    {"percent", Dim::fraction, "%"},
    {"degc", Dim::temperature, "degC"},
    {"c", Dim::temperature, "degC"},
    {"celsius", Dim::temperature, "degC"},
    {"f", Dim::temperature, "degF"},
    {"degf", Dim::temperature, "degF"},
    {"fahrenheit", Dim::temperature, "degF"},
};

Dim dimOf(LogChannel channel) {
  switch (channel) {
    case LogChannel::bank_V:
      return Dim::voltage;
    case LogChannel::bank_A:
    case LogChannel::airConditioner_A:
      return Dim::current;
    case LogChannel::bank_W:
    case LogChannel::airConditioner_W:
      return Dim::power;
    case LogChannel::used_Ah:
      return Dim::charge;
    case LogChannel::soc:
      return Dim::fraction;
    case LogChannel::indoor_degC:
    case LogChannel::outdoor_degC:
      return Dim::temperature;
    case LogChannel::generatorOn:
      return Dim::number;
  }
  return Dim::number;
}

/// The last one counts: "volts [mV]".
const TitleUnit* unitIn(const TitleWords& words, Dim dim) {
  for (auto word = words.rbegin(); word != words.rend(); ++word)
    for (const TitleUnit& unit : kTitleUnits)
      if (unit.dim == dim && unit.word == *word)
        return &unit;
  return nullptr;
}

/// Which electrical quantity the words name.
std::optional<LogChannel> electrical(const TitleWords& words, bool ofCooler) {
  if (unitIn(words, Dim::charge) != nullptr)
    return ofCooler ? std::nullopt : std::optional(LogChannel::used_Ah);
  if (unitIn(words, Dim::power) != nullptr || hasAny(words, {"power"}))
    return ofCooler ? LogChannel::airConditioner_W : LogChannel::bank_W;
  if (unitIn(words, Dim::current) != nullptr || hasAny(words, {"current"}))
    return ofCooler ? LogChannel::airConditioner_A : LogChannel::bank_A;
  if (!ofCooler && (unitIn(words, Dim::voltage) != nullptr || hasAny(words, {"voltage"})))
    return LogChannel::bank_V;
  return std::nullopt;
}

/// The channel that a title names; nullopt where it names none, or another machine's.
std::optional<LogChannel> channelOf(const TitleWords& words) {
  if (hasAny(words, {"solar", "pv", "panel", "load", "loads", "shore", "alternator", "losses",
                     "unserved", "charger", "grid", "max", "min", "starter", "aux", "inverter"}))
    return std::nullopt;
  if (hasAny(words, {"generator", "genset", "engine"}))
    return LogChannel::generatorOn;
  if (hasAny(words, {"soc"}) || (hasAny(words, {"state"}) && hasAny(words, {"charge"})))
    return LogChannel::soc;
  if (hasAny(words, {"indoor", "inside", "cabin", "room", "interior"}))
    return LogChannel::indoor_degC;
  if (hasAny(words, {"outdoor", "outside", "ambient", "exterior"}))
    return LogChannel::outdoor_degC;
  return electrical(words, hasAny(words, {"ac", "air", "conditioner", "conditioners", "aircon",
                                          "compressor", "feeder", "roof"}));
}

LogColumn columnOf(std::size_t at, LogChannel channel, const TitleWords& words) {
  LogColumn column{at, channel};
  const Dim dim = dimOf(channel);
  if (const TitleUnit* unit = unitIn(words, dim); unit != nullptr) {
    column.zero = inUnit(0.0, dim, unit->unit);
    column.per = inUnit(1.0, dim, unit->unit) - column.zero;
    column.unitKnown = true;
  }
  return column;
}

std::string_view askedTitle(const std::vector<std::pair<std::string, std::string>>& asked,
                            std::string_view key) {
  const auto found = std::ranges::find(asked, key, &std::pair<std::string, std::string>::first);
  return found == asked.end() ? std::string_view() : std::string_view(found->second);
}

void addChannel(LogHeader& header, LogChannel channel, std::size_t at, std::string_view title) {
  std::string& taken = header.titles[static_cast<std::size_t>(channel)];
  if (!taken.empty())
    return;
  taken = title;
  header.columns.push_back(columnOf(at, channel, titleWords(title)));
}

/// Where the time is; nullopt: nowhere.
std::optional<std::size_t> timeAmong(const std::vector<std::string_view>& titles,
                                     std::string_view asked, std::optional<std::size_t>& clock) {
  if (!asked.empty()) {
    const auto found = std::ranges::find(titles, asked);
    return found == titles.end() ? std::nullopt
                                 : std::optional(static_cast<std::size_t>(found - titles.begin()));
  }
  std::optional<std::size_t> date, time;
  for (std::size_t i = 0; i < titles.size(); ++i) {
    const TitleWords words = titleWords(titles[i]);
    if (!date && hasAny(words, {"date"}) && !hasAny(words, {"time"}))
      date = i;
    else if (!time && hasAny(words, {"time", "timestamp", "datetime", "stamp", "epoch", "unix"}))
      time = i;
  }
  if (date && time)
    clock = time;
  return date ? date : time;
}

/// A switch in a word.
std::optional<double> switchOf(std::string_view cell) {
  constexpr std::array<std::string_view, 6> kOn{"on", "ON", "On", "true", "running", "yes"};
  constexpr std::array<std::string_view, 6> kOff{"off", "OFF", "Off", "false", "stopped", "no"};
  if (std::ranges::find(kOn, cell) != kOn.end())
    return 1.0;
  return std::ranges::find(kOff, cell) != kOff.end() ? std::optional(0.0) : std::nullopt;
}

}  // namespace

void splitCells(std::string_view line, char separator, std::vector<std::string_view>& cells) {
  cells.clear();
  std::size_t start = 0;
  bool quoted = false;
  for (std::size_t i = 0; i <= line.size(); ++i) {
    if (i < line.size() && line[i] == '"')
      quoted = !quoted;
    if (i < line.size() && (quoted || line[i] != separator))
      continue;
    cells.push_back(trimmedCell(line.substr(start, i - start)));
    start = i + 1;
  }
}

std::optional<LogHeader> logHeader(std::string_view line,
                                   const std::vector<std::pair<std::string, std::string>>& asked) {
  LogHeader header;
  std::ptrdiff_t most = 0;
  for (const char separator : {',', ';', '\t'})
    if (const auto count = std::ranges::count(line, separator); count > most) {
      most = count;
      header.separator = separator;
    }
  std::vector<std::string_view> titles;
  splitCells(line, header.separator, titles);
  const auto time = timeAmong(titles, askedTitle(asked, "time"), header.clock);
  if (!time)
    return std::nullopt;
  header.time = *time;
  const auto keys = logChannelKeys();
  for (std::size_t k = 0; k < keys.size(); ++k) {
    const auto found = std::ranges::find(titles, askedTitle(asked, keys[k]));
    if (found != titles.end() && !found->empty())
      addChannel(header, static_cast<LogChannel>(k),
                 static_cast<std::size_t>(found - titles.begin()), *found);
  }
  for (std::size_t i = 0; i < titles.size(); ++i) {
    const bool isTaken =
        i == header.time || i == header.clock ||
        std::ranges::find(header.columns, i, &LogColumn::at) != header.columns.end();
    if (isTaken)
      continue;
    if (const auto channel = channelOf(titleWords(titles[i])))
      addChannel(header, *channel, i, titles[i]);
  }
  return header.columns.empty() ? std::nullopt : std::optional(header);
}

std::optional<double> logValue(std::string_view cell, const LogColumn& column, bool commaDecimal) {
  constexpr std::string_view kMinusSign = "\xE2\x88\x92";  // as office programs write it
  std::array<char, 32> text{};
  if (cell.empty() || cell.size() >= text.size())
    return std::nullopt;
  if (cell.front() == '+')
    cell.remove_prefix(1);
  std::string minus;
  if (cell.starts_with(kMinusSign))
    cell = minus = '-' + std::string(cell.substr(kMinusSign.size()));
  std::ranges::copy(cell, text.begin());
  if (commaDecimal)
    std::ranges::replace(text, ',', '.');
  double value = 0.0;
  const char* const end = text.data() + cell.size();
  const auto [rest, error] = std::from_chars(text.data(), end, value);
  if (error != std::errc{})
    return column.channel == LogChannel::generatorOn ? switchOf(cell) : std::nullopt;
  const std::string_view unit = trimmedCell({rest, static_cast<std::size_t>(end - rest)});
  if (column.channel == LogChannel::generatorOn)
    return unit.empty() && std::isfinite(value) ? std::optional(value > 0.5 ? 1.0 : 0.0)
                                                : std::nullopt;
  if (unit.empty())
    return std::isfinite(value) ? std::optional((value - column.zero) / column.per) : std::nullopt;
  const auto parsed =
      parseQuantity(std::string_view(text.data(), cell.size()), dimOf(column.channel));
  const auto* quantity = std::get_if<Quantity>(&parsed);
  return quantity == nullptr ? std::nullopt : std::optional(quantity->value);
}

bool isPlausible(LogChannel channel, double value) {
  constexpr double kMost_V = 1000.0, kMost_A = 5000.0, kMost_W = 200'000.0;
  switch (channel) {
    case LogChannel::bank_V:
      return value > 0.5 && value < kMost_V;
    case LogChannel::bank_A:
    case LogChannel::airConditioner_A:
      return std::abs(value) < kMost_A;
    case LogChannel::bank_W:
    case LogChannel::airConditioner_W:
      return std::abs(value) < kMost_W;
    case LogChannel::used_Ah:
      return std::abs(value) < 1e6;
    case LogChannel::soc:
      return value >= 0.0 && value <= 105.0;
    case LogChannel::indoor_degC:
    case LogChannel::outdoor_degC:
      return value > -60.0 && value < 150.0;
    case LogChannel::generatorOn:
      return true;
  }
  return false;
}

}  // namespace detail
}  // namespace nightbank
