#include <algorithm>
#include <array>
#include <cmath>

#include "grade.h"
#include "value.h"
#include <fmt/format.h>

#include "nightbank/units/constants.h"
#include "nightbank/units/quantity.h"

namespace nightbank::scenario {
namespace {

constexpr std::array<std::string_view, 3> kGrades = {"typical", "nameplate", "measured"};

std::string_view trimmed(std::string_view text) {
  while (text.starts_with(' '))
    text.remove_prefix(1);
  while (text.ends_with(' '))
    text.remove_suffix(1);
  return text;
}

struct Halves {
  std::string_view left, right;
};

std::optional<Halves> splitAt(std::string_view text, std::string_view word) {
  const std::size_t at = text.find(word);
  if (at == std::string_view::npos)
    return std::nullopt;
  return Halves{trimmed(text.substr(0, at)), trimmed(text.substr(at + word.size()))};
}

Fault rangeFault(const Range& range, Dim dim, std::string_view unit) {
  return {fmt::format("out of range; expected {}", rangeText(range, dim, unit)), ""};
}

Read<Quantity> readInRange(std::string_view text, Dim dim, const Range& range) {
  auto parsed = parseQuantity(text, dim);
  if (auto* error = std::get_if<QuantityError>(&parsed))
    return Fault{std::move(error->message), std::move(error->suggestion)};
  auto& quantity = std::get<Quantity>(parsed);
  if (!range.holds(quantity.value))
    return rangeFault(range, dim, quantity.unit);
  return std::move(quantity);
}

template <class T>
Read<T> plain(Read<Quantity> read) {
  if (auto* fault = std::get_if<Fault>(&read))
    return std::move(*fault);
  T graded;
  graded.value = std::get<Quantity>(read).value;
  return graded;
}

std::string inShort(double value, Dim dim, std::string_view unit) {
  const std::string number = fmt::format("{:.6g}", inUnit(value, dim, unit));
  return unit.empty() ? number : fmt::format("{} {}", number, unit);
}

Read<CurrentAt> currentAt(std::string_view text, const Range& range) {
  const auto halves = splitAt(text, " at ");
  Read<CurrentAt> read =
      plain<CurrentAt>(readInRange(halves ? halves->left : text, Dim::current, range));
  auto* current = std::get_if<CurrentAt>(&read);
  if (current == nullptr || !halves)
    return read;
  const auto voltage = readInRange(halves->right, Dim::voltage, {1.0, 1000.0, false});
  if (const auto* fault = std::get_if<Fault>(&voltage)) {
    const std::string& meant = fault->suggestion;
    return Fault{fmt::format("at '{}', {}", halves->right, fault->message),
                 meant.empty() ? "" : fmt::format("{} at {}", halves->left, meant)};
  }
  current->at_V = std::get<Quantity>(voltage).value;
  return read;
}

Fault slopeFault(Dim dim) {
  return {fmt::format("no loss per step; expected such as '{}'",
                      dim == Dim::length ? "3.5 % per 1000 ft above 0 ft"
                                         : "1 % per 10 degF above 77 degF"),
          ""};
}

Read<Slope> slope(std::string_view text, Dim dim) {
  const auto lossAndRest = splitAt(text, " per ");
  const auto stepAndStart =
      lossAndRest ? splitAt(lossAndRest->right, " above ") : std::optional<Halves>{};
  if (!stepAndStart)
    return slopeFault(dim);
  const auto loss = parseQuantity(lossAndRest->left, Dim::fraction);
  const auto step =
      parseQuantity(stepAndStart->left, dim == Dim::length ? Dim::length : Dim::difference);
  const auto start = parseQuantity(stepAndStart->right, dim);

  struct Piece {
    std::string_view text;
    const std::variant<Quantity, QuantityError>& read;
  };

  for (const auto& [piece, read] : {Piece{lossAndRest->left, loss}, Piece{stepAndStart->left, step},
                                    Piece{stepAndStart->right, start}})
    if (const auto* error = std::get_if<QuantityError>(&read))
      return Fault{fmt::format("with '{}', {}", piece, error->message), ""};
  const double share = std::get<Quantity>(loss).value;
  const double per = std::get<Quantity>(step).value;
  const double above = std::get<Quantity>(start).value;
  if (!(share >= 0.0 && share <= 0.5 && per >= 1.0 && std::abs(above) <= 10e3))
    return Fault{"out of range; expected 0 % to 50 % per step of 1 m, 1 K or more", ""};
  Slope read;
  read.perUnit = share / per;
  read.above = above;
  return read;
}

Read<Graded> price(std::string_view text) {
  const auto halves = splitAt(text, "/");
  const bool isPerGallon = halves && halves->right == "gal";
  if (!halves || !(isPerGallon || halves->right == "L"))
    return Fault{"no price of a volume; expected such as '4.20 /gal' or '1.85 /L'", ""};
  Read<Graded> read = plain<Graded>(readInRange(halves->left, Dim::number, {0.0, 1e6, false}));
  if (auto* graded = std::get_if<Graded>(&read))
    graded->value /= isPerGallon ? kUsGallon_m3 : kLitre_m3;
  return read;
}

}  // namespace

std::span<const std::string_view> gradeWords() {
  return kGrades;
}

bool isGradeWord(std::string_view word) {
  return std::ranges::find(kGrades, word) != kGrades.end();
}

GradedText splitGrade(std::string_view text) {
  text = trimmed(text);
  for (std::size_t i = 0; i < kGrades.size(); ++i)
    if (text.ends_with(kGrades[i]) && text.size() > kGrades[i].size()) {
      const std::string_view rest = text.substr(0, text.size() - kGrades[i].size());
      if (rest.ends_with(' '))
        return {trimmed(rest), static_cast<Grade>(i)};
    }
  return {text, std::nullopt};
}

std::string rangeText(const Range& range, Dim dim, std::string_view unit) {
  const bool hasLow = std::isfinite(range.low);
  const bool hasHigh = std::isfinite(range.high);
  const std::string low = hasLow ? inShort(range.low, dim, unit) : "";
  const std::string high = hasHigh ? inShort(range.high, dim, unit) : "";
  if (hasLow && hasHigh)
    return range.aboveLow ? fmt::format("above {}, up to {}", low, high)
                          : fmt::format("{} to {}", low, high);
  if (hasLow)
    return fmt::format("{} {}", range.aboveLow ? "above" : "at least", low);
  return hasHigh ? fmt::format("at most {}", high) : "";
}

Read<Graded> readGraded(std::string_view text, Dim dim, const Range& range) {
  return readWithGrade<Graded>(
      text, [&](std::string_view value) { return plain<Graded>(readInRange(value, dim, range)); });
}

Read<CurrentAt> readCurrent(std::string_view text, const Range& range) {
  return readWithGrade<CurrentAt>(text,
                                  [&](std::string_view value) { return currentAt(value, range); });
}

Read<Graded> readPrice(std::string_view text) {
  return readWithGrade<Graded>(text, [](std::string_view value) { return price(value); });
}

Read<Slope> readSlope(std::string_view text, Dim dim) {
  return readWithGrade<Slope>(text, [&](std::string_view value) { return slope(value, dim); });
}

}  // namespace nightbank::scenario
