#include <algorithm>
#include <cmath>
#include <limits>

#include "log_text.h"
#include <fmt/format.h>

#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"
#include "nightbank/units/quantity.h"
#include "nightbank/units/suggest.h"

namespace nightbank::detail {
namespace {

struct NoteWord {
  std::string_view word;
  LogReading::Kind kind;
  Dim dim;
  bool needsSpan;
};

constexpr NoteWord kNoteWords[] = {
    {"soc", LogReading::Kind::soc, Dim::fraction, false},
    {"volts", LogReading::Kind::volts, Dim::voltage, false},
    {"indoor", LogReading::Kind::indoor, Dim::temperature, false},
    {"outdoor", LogReading::Kind::outdoor, Dim::temperature, false},
    {"on", LogReading::Kind::compressorOn, Dim::duration, true},
    {"off", LogReading::Kind::compressorOn, Dim::duration, true},
    {"refill", LogReading::Kind::refilled, Dim::volume, false},
};

constexpr std::string_view kBetweenWords = " \t";

std::string_view firstWord(std::string_view& text) {
  const std::size_t end = std::min(text.find_first_of(kBetweenWords), text.size());
  const std::string_view word = text.substr(0, end);
  text = trimmedCell(text.substr(end));
  return word;
}

/// The word of those that are known, in small letters or capitals.
const NoteWord* knownWord(std::string_view typed) {
  const auto isSame = [](char a, char b) {
    return (a >= 'A' && a <= 'Z' ? a - 'A' + 'a' : a) == b;
  };
  const auto found = std::ranges::find_if(
      kNoteWords, [&](const NoteWord& one) { return std::ranges::equal(typed, one.word, isSame); });
  return found == std::end(kNoteWords) ? nullptr : found;
}

/// "16.2 L" up to the next word that is no unit: number, then unit.
std::string_view amountOf(std::string_view& text) {
  std::size_t end = text.find(' ');
  if (end != text.npos && text.find_first_of("0123456789") == 0) {
    const std::size_t unit = text.find_first_not_of(' ', end);
    end = unit == text.npos ? unit : text.find(' ', unit);
  }
  const std::string_view amount = text.substr(0, std::min(end, text.size()));
  text = trimmedCell(text.substr(amount.size()));
  return amount;
}

struct NoteTime {
  double from_s = std::numeric_limits<double>::quiet_NaN(), to_s = from_s;

  bool isSpan() const { return to_s > from_s; }
};

/// The first moment of the period with that clock time.
double momentAt(const LogOptions& options, double clock_s) {
  const double midnight_s = std::floor(options.from_s / kDay_s) * kDay_s;
  const double at_s = midnight_s + clock_s;
  return at_s >= options.from_s ? at_s : at_s + kDay_s;
}

/// Clock or span at the front, with a date where one is given; nothing taken where there is none.
/// @returns whether what stands there is read
bool takeTime(std::string_view& text, const LogOptions& options, NoteTime& time) {
  if (text.empty() || text.front() < '0' || text.front() > '9')
    return true;
  std::optional<double> day_s;
  for (const bool dayFirst : {false, true}) {
    std::string_view rest = text;
    const auto date = day_s ? std::nullopt : takeDate(rest, dayFirst);
    if (!date)
      continue;
    day_s = static_cast<double>(daysSince1970(*date)) * kDay_s;
    text = trimmedCell(rest);
  }
  const auto moment = [&](double clock_s) {
    return day_s ? *day_s + clock_s : momentAt(options, clock_s);
  };
  const std::optional<double> from_s = takeClock(text);
  if (!from_s)
    return false;
  time.from_s = time.to_s = moment(*from_s);
  if (text.starts_with('-')) {
    text.remove_prefix(1);
    const std::optional<double> to_s = takeClock(text);
    if (!to_s)
      return false;
    const double length_s = std::fmod(*to_s - *from_s + kDay_s, kDay_s);
    time.to_s = time.from_s + (length_s > 0.0 ? length_s : kDay_s);
  }
  if (text.starts_with(':') || text.starts_with(','))
    text.remove_prefix(1);
  const bool isApart = text.empty() || kBetweenWords.find(text.front()) != text.npos;
  text = trimmedCell(text);
  return isApart;
}

std::string readAmount(const NoteWord& word, std::string_view amount, const NoteTime& time,
                       Log& log) {
  const auto parsed = parseQuantity(amount, word.dim);
  if (const auto* wrong = std::get_if<QuantityError>(&parsed))
    return fmt::format("{} is '{}', {}", word.word, amount, wrong->message);
  double value = std::get<Quantity>(parsed).value;
  if (word.needsSpan && !time.isSpan())
    return fmt::format("{} needs the span that was watched, such as 23:00-24:00", word.word);
  const double span_s = time.to_s - time.from_s;
  if (word.word == "off")
    value = span_s - value;
  if (word.needsSpan && (value < 0.0 || value > span_s))
    return fmt::format("{} is '{}', longer than the span that was watched", word.word, amount);
  if (word.kind == LogReading::Kind::soc && (value < 0.0 || value > 1.0))
    return fmt::format("soc is '{}'; expected 0 % to 100 %", amount);
  const bool isTimed = word.kind == LogReading::Kind::refilled || !std::isnan(time.from_s);
  if (!isTimed)
    return fmt::format("{} has no time before it, such as 21:30", word.word);
  log.readings.push_back({word.kind, time.from_s, time.to_s, value});
  return "";
}

}  // namespace

bool looksTyped(std::string_view line) {
  const bool isNumberFirst = !line.empty() && line.front() >= '0' && line.front() <= '9';
  if (isNumberFirst && line.find_first_of(",;\t") == line.npos && line.find(' ') != line.npos)
    return true;
  bool isFirst = true;
  for (std::string_view rest = line; !rest.empty(); isFirst = false)
    if (knownWord(firstWord(rest)) != nullptr)
      return isFirst || isNumberFirst;
  return false;
}

std::string readNote(std::string_view line, const LogOptions& options, Log& log) {
  NoteTime time;
  std::string_view text = line;
  if (!takeTime(text, options, time))
    return fmt::format(
        "'{}' begins with no time; expected 21:30, 9:30 pm, 23:00-24:00, or a date "
        "before it",
        line.substr(0, 40));
  if (text.empty())
    return "tells a time and nothing else";
  bool hasOn = false;
  while (!text.empty()) {
    const std::string_view name = firstWord(text);
    const NoteWord* word = knownWord(name);
    if (word == nullptr) {
      std::vector<std::string_view> known;
      for (const NoteWord& one : kNoteWords)
        known.push_back(one.word);
      return fmt::format("there is no '{}'; expected {}", name.substr(0, 40),
                         fmt::join(known, ", "));
    }
    const std::string_view amount = amountOf(text);
    if (word->word == "off" && hasOn)
      continue;  // says the same once more
    hasOn = hasOn || word->word == "on";
    if (std::string wrong = readAmount(*word, amount, time, log); !wrong.empty())
      return wrong;
  }
  return "";
}

}  // namespace nightbank::detail
