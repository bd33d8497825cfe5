#include <algorithm>
#include <array>

#include "grade.h"
#include "utf8.h"
#include "value.h"
#include <fmt/format.h>

#include "nightbank/units/suggest.h"

namespace nightbank::scenario {
namespace {

constexpr std::array<std::string_view, 3> kFeeds = {"battery", "inverter", "generator"};
constexpr std::size_t kMostTextBytes = 200;
constexpr std::size_t kMostNameBytes = 40;

// Puts a value where it belongs, or hands on the fault.
template <class T, class U>
std::optional<Fault> assign(T& member, Read<U> read) {
  if (auto* fault = std::get_if<Fault>(&read))
    return std::move(*fault);
  member = std::move(std::get<U>(read));
  return std::nullopt;
}

struct Synonym {
  std::string_view typed, word;
};

// What people say for the words of a scenario.
constexpr std::array kSynonyms = std::to_array<Synonym>({
    {"lifepo4", "lfp"},
    {"lithium", "lfp"},
    {"wet", "flooded"},
    {"gasoline", "petrol"},
    {"lpg", "propane"},
    {"automatic", "auto"},
    {"true", "yes"},
    {"false", "no"},
});

std::string meantWord(std::string_view typed, std::span<const std::string_view> words) {
  for (const Synonym& synonym : kSynonyms)
    if (nearest(typed, std::array{synonym.typed}) == synonym.typed &&
        std::ranges::find(words, synonym.word) != words.end())
      return std::string(synonym.word);
  return nearest(typed, words);
}

std::optional<Fault> readWord(const Field& field, void* part, std::string_view text) {
  const auto found = std::ranges::find(field.words, text);
  if (found == field.words.end())
    return Fault{fmt::format("no word for it; expected {}", alternatives(field.words)),
                 meantWord(text, field.words)};
  field.word->set(field.member(part), static_cast<int>(found - field.words.begin()), true);
  return std::nullopt;
}

// Written as escapes in quotes, control characters pass the check of the whole text.
bool isPrintable(std::string_view text) {
  for (std::size_t at = 0; at < text.size();) {
    const Character character = characterAt(text, at);
    if (!character.valid || isUnprintable(character.code))
      return false;
    at += character.bytes;
  }
  return true;
}

std::optional<Fault> readText(std::string& member, std::string_view text) {
  while (text.ends_with('\n'))  // the end of a block of text
    text.remove_suffix(1);
  if (text.empty() || text.size() > kMostTextBytes)
    return Fault{fmt::format("no text of 1 to {} bytes", kMostTextBytes), ""};
  if (text.find('\n') != std::string_view::npos)
    return Fault{"over several lines; expected one line of text", ""};
  if (!isPrintable(text))
    return Fault{"with a character that cannot be shown; expected plain text", ""};
  member = text;
  return std::nullopt;
}

// What no name can be; "" where it can be one.
std::string nameFault(std::string_view text) {
  if (text.empty())
    return "empty";
  if (text.size() > kMostNameBytes)
    return fmt::format("over {} bytes long", kMostNameBytes);
  if (std::ranges::all_of(text, [](char c) { return c >= '0' && c <= '9'; }))
    return "a number";
  if (text == "none")
    return "a word with a meaning of its own";
  if (text.front() == ' ' || text.back() == ' ')
    return "with a blank at its end";
  if (const std::size_t at = text.find_first_of(".[]=,:#'\"{}"); at != std::string_view::npos)
    return fmt::format("with a '{}' in it", text[at]);
  return isPrintable(text) ? "" : "with a character that cannot be shown";
}

// Names are steps of a path: "loads.fridge.power".
std::optional<Fault> readName(std::string& member, std::string_view text) {
  const std::string what = nameFault(text);
  if (!what.empty())
    return Fault{fmt::format("{}; expected a name, such as 'fridge'", what), ""};
  member = text;
  return std::nullopt;
}

std::optional<Fault> readHours(Hours& hours, std::string_view text) {
  auto span = readSpan(text);
  if (auto* fault = std::get_if<Fault>(&span))
    return std::move(*fault);
  hours = std::vector{std::get<ClockSpan>(span)};
  return std::nullopt;
}

// A bare number with `unit`; "" where that is out of range.
std::string withUnit(const Field& field, const GradedText& number, std::string_view unit) {
  const std::string text = fmt::format("{} {}", number.value, unit);
  const bool fits = std::holds_alternative<Graded>(readGraded(text, field.dim, field.range));
  return fits ? number.withGrade(text) : "";
}

// The unit that is usual there, else the first with which the number is in range.
std::string withAnyUnit(const Field& field, std::string_view text) {
  const GradedText number = splitGrade(text);
  std::string meant;
  if (!field.usualUnit.empty())
    meant = withUnit(field, number, field.usualUnit);
  for (const std::string_view unit : unitsOf(field.dim))
    if (meant.empty())
      meant = withUnit(field, number, unit);
  return meant;
}

// "104.6 W" of a longitude: west is negative.
std::optional<Fault> compassFault(const Field& field, std::string_view text) {
  const std::size_t letter = text.find_last_not_of(' ');
  if (field.dim != Dim::number || !(field.range.low < 0.0) || letter == std::string_view::npos ||
      std::string_view("NESW").find(text[letter]) == std::string_view::npos)
    return std::nullopt;
  const std::string_view number = text.substr(0, text.find_last_not_of(' ', letter - 1) + 1);
  if (!std::holds_alternative<Graded>(readGraded(number, field.dim, field.range)))
    return std::nullopt;
  const bool isTurned = (text[letter] == 'W' || text[letter] == 'S') && number[0] != '-';
  return Fault{"with a letter; expected a bare number, north and east positive",
               fmt::format("{}{}", isTurned ? "-" : "", number)};
}

std::optional<Fault> readQuantity(const Field& field, void* part, std::string_view text) {
  if (auto fault = compassFault(field, text))
    return fault;
  auto fault = assign(field.in<Graded>(part), readGraded(text, field.dim, field.range));
  const bool isBare = fault && fault->message.starts_with("a bare number");
  if (isBare && field.dim != Dim::fraction)
    fault->suggestion = withAnyUnit(field, text);
  return fault;
}

std::optional<Fault> readCable(const Field& field, void* part, std::string_view text) {
  auto read = readWireSize(text);
  if (auto* fault = std::get_if<Fault>(&read))
    return std::move(*fault);
  auto& resistance = field.in<Graded>(part);
  resistance.value = std::get<double>(read);
  resistance.grade = Grade::nameplate;
  resistance.given = true;
  *static_cast<std::string*>(field.second(part)) = text;
  return std::nullopt;
}

std::optional<Fault> readFeed(FedFrom& member, std::string_view text) {
  FedFrom feeds;
  auto fault = addFeed(feeds, text);
  if (!fault)
    member = feeds;
  return fault;
}

// One share stands for the whole curve.
std::optional<Fault> readEfficiency(const Field& field, void* part, std::string_view text) {
  auto read = readGraded(text, Dim::fraction, field.range);
  if (auto* fault = std::get_if<Fault>(&read))
    return std::move(*fault);
  auto& grade = *static_cast<Graded*>(field.second(part));
  grade.grade = std::get<Graded>(read).grade;
  grade.given = true;
  field.in<std::vector<EfficiencyPoint>>(part) = {{0.5, std::get<Graded>(read).value}};
  return std::nullopt;
}

}  // namespace

std::span<const std::string_view> feedWords() {
  return kFeeds;
}

std::optional<Fault> addFeed(FedFrom& feeds, std::string_view word) {
  if (word == kFeeds[0])
    feeds.battery = true;
  else if (word == kFeeds[1])
    feeds.inverter = true;
  else if (word == kFeeds[2])
    feeds.generator = true;
  else
    return Fault{fmt::format("no source; expected {}, or a list of them", alternatives(kFeeds)),
                 nearest(word, kFeeds)};
  feeds.given = true;
  return std::nullopt;
}

std::optional<Fault> readScalar(const Field& field, void* part, std::string_view text) {
  switch (field.kind) {
    case Kind::quantity:
      return readQuantity(field, part, text);
    case Kind::current:
      return assign(field.in<CurrentAt>(part), readCurrent(text, field.range));
    case Kind::price:
      return assign(field.in<Graded>(part), readPrice(text));
    case Kind::slope:
      return assign(field.in<Slope>(part), readSlope(text, field.dim));
    case Kind::word:
      return readWord(field, part, text);
    case Kind::text:
      return readText(field.in<std::string>(part), text);
    case Kind::name:
      return readName(field.in<std::string>(part), text);
    case Kind::hours:
      return readHours(field.in<Hours>(part), text);
    case Kind::clock:
      return assign(field.in<std::optional<double>>(part), readClock(text));
    case Kind::date:
      return assign(field.in<std::optional<Date>>(part), readDate(text));
    case Kind::dateTime:
      return assign(field.in<std::optional<double>>(part), readDateTime(text));
    case Kind::wireSize:
      return readCable(field, part, text);
    case Kind::fedFrom:
      return readFeed(field.in<FedFrom>(part), text);
    case Kind::efficiency:
      return readEfficiency(field, part, text);
    case Kind::edits:
    case Kind::part:
    case Kind::list:
      break;
  }
  return Fault{fmt::format("expected {}", expectation(field)), ""};
}

}  // namespace nightbank::scenario
