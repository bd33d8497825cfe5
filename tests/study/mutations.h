#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <regex>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "../units/text_lines.h"

#include "nightbank/numerics/random.h"

/// Nonsense edits of a scenario's text, seeded: units swapped, numbers changed, keys deleted, lines
/// doubled.
namespace nightbank::mutation {

class Draws {
 public:
  Draws(std::uint64_t seed, std::uint64_t stream) : seed_(seed), stream_(stream) {}

  std::size_t below(std::size_t count) {
    return static_cast<std::size_t>(uniform(seed_, stream_, index_++) * static_cast<double>(count));
  }

  template <class T, std::size_t N>
  const T& oneOf(const std::array<T, N>& all) {
    return all[below(N)];
  }

 private:
  std::uint64_t seed_, stream_;
  std::uint64_t index_ = 0;
};

// A piece of the text.
struct Piece {
  std::size_t at, length;
};

inline std::vector<Piece> matches(const std::string& text, const std::regex& pattern,
                                  std::size_t group) {
  std::vector<Piece> found;
  for (std::sregex_iterator it(text.begin(), text.end(), pattern), end; it != end; ++it)
    found.push_back({static_cast<std::size_t>(it->position(group)),
                     static_cast<std::size_t>(it->length(group))});
  return found;
}

inline std::string replacedOne(std::string text, const std::vector<Piece>& pieces, Draws& draws,
                               const std::string& by) {
  if (pieces.empty())
    return text;
  const Piece piece = pieces[draws.below(pieces.size())];
  return text.replace(piece.at, piece.length, by);
}

inline std::string withOtherUnit(const std::string& text, Draws& draws) {
  static const std::regex kUnit(R"([0-9] (%|[A-Za-z]+[A-Za-z0-9/]*))");
  constexpr std::array<const char*, 20> kUnits = {"W",    "kW",   "Wh",   "kWh", "V",  "A",   "mA",
                                                  "Ah",   "ohm",  "mohm", "%",   "h",  "min", "s",
                                                  "degC", "degF", "K",    "L",   "ft", "gal"};
  return replacedOne(text, matches(text, kUnit, 1), draws, draws.oneOf(kUnits));
}

inline std::string withOtherNumber(const std::string& text, Draws& draws) {
  static const std::regex kNumber(R"([ \[]([0-9]+(\.[0-9]+)?) )");
  constexpr std::array<double, 12> kFactors = {0.0, -1.0, 1e-6, 0.01, 0.1, 0.5,
                                               0.9, 1.1,  2.0,  10.0, 100, 1e6};
  const std::vector<Piece> pieces = matches(text, kNumber, 1);
  if (pieces.empty())
    return text;
  const Piece piece = pieces[draws.below(pieces.size())];
  std::ostringstream number;
  number << std::stod(text.substr(piece.at, piece.length)) * draws.oneOf(kFactors);
  return std::string(text).replace(piece.at, piece.length, number.str());
}

inline std::string withoutAKey(const std::string& text, Draws& draws) {
  static const std::regex kKey(R"([a-z_]+: [^,{}\[\]\n#]+(, )?)");
  return replacedOne(text, matches(text, kKey, 0), draws, "");
}

inline std::string withOtherClock(const std::string& text, Draws& draws) {
  static const std::regex kClock(R"([0-9][0-9]:[0-9][0-9])");
  const auto two = [](std::size_t number) {
    return (number < 10 ? "0" : "") + std::to_string(number);
  };
  return replacedOne(text, matches(text, kClock, 0), draws,
                     two(draws.below(25)) + ":" + two(15 * draws.below(4)));
}

inline std::string withOtherWord(const std::string& text, Draws& draws) {
  static const std::regex kWord(
      R"(\b(measured|agm|lfp|gel|flooded|auto|never|inverter|generator|battery|raised|desert)\b)");
  constexpr std::array<const char*, 14> kWords = {
      "measured", "agm",       "lfp",      "gel",       "flooded", "auto",  "on",
      "never",    "at_cutoff", "inverter", "generator", "battery", "glued", "smoke"};
  return replacedOne(text, matches(text, kWord, 0), draws, draws.oneOf(kWords));
}

inline std::string withOtherLines(const std::string& text, Draws& draws) {
  std::vector<std::string> lines = test::linesOf(text);
  const std::size_t at = draws.below(lines.size());
  const std::size_t other = draws.below(lines.size());
  switch (draws.below(3)) {
    case 0:
      lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(at));
      break;
    case 1:
      lines.insert(lines.begin() + static_cast<std::ptrdiff_t>(other), std::string(lines[at]));
      break;
    default:
      std::swap(lines[at], lines[other]);
  }
  std::string joined;
  for (const std::string& line : lines)
    joined += line + '\n';
  return joined;
}

/// One to three edits.
inline std::string mutated(std::string text, Draws& draws) {
  constexpr std::array kEdits = {&withOtherUnit,  &withOtherNumber, &withOtherNumber, &withoutAKey,
                                 &withOtherClock, &withOtherWord,   &withOtherLines};
  for (std::size_t i = 0, count = 1 + draws.below(3); i < count; ++i)
    text = draws.oneOf(kEdits)(text, draws);
  return text;
}

}  // namespace nightbank::mutation
