#include "utf8.h"

#include <algorithm>
#include <array>

namespace nightbank::scenario {

namespace {

struct Lead {
  unsigned char mask, pattern;
  std::size_t bytes;
  char32_t least;  // below it the form is overlong
};

constexpr std::array<Lead, 4> kLeads{
    {{0x80, 0x00, 1, 0}, {0xE0, 0xC0, 2, 0x80}, {0xF0, 0xE0, 3, 0x800}, {0xF8, 0xF0, 4, 0x10000}}};

struct Span {
  char32_t first, last;
};

template <std::size_t N>
bool isIn(const std::array<Span, N>& spans, char32_t code) {
  return std::any_of(spans.begin(), spans.end(),
                     [code](Span s) { return code >= s.first && code <= s.last; });
}

// Unicode general categories Cc and Cf and the line separators, as far as they hide or turn text.
constexpr std::array<Span, 11> kUnprintable{{{0x00, 0x1F},
                                             {0x7F, 0x9F},
                                             {0xAD, 0xAD},
                                             {0x61C, 0x61C},
                                             {0x180E, 0x180E},
                                             {0x200B, 0x200F},
                                             {0x2028, 0x202E},
                                             {0x2060, 0x206F},
                                             {0xFEFF, 0xFEFF},
                                             {0xFFF0, 0xFFFB},
                                             {0xE0000, 0xE0FFF}}};

// The blocks of combining marks that are used with Latin script, and variation selectors.
constexpr std::array<Span, 5> kCombining{
    {{0x300, 0x36F}, {0x1AB0, 0x1AFF}, {0x1DC0, 0x1DFF}, {0x20D0, 0x20FF}, {0xFE00, 0xFE0F}}};

// Blocks with East Asian width W or F (Unicode Standard Annex 11), and pictographs.
constexpr std::array<Span, 8> kWide{{{0x1100, 0x115F},
                                     {0x2E80, 0xA4CF},
                                     {0xAC00, 0xD7A3},
                                     {0xF900, 0xFAFF},
                                     {0xFE30, 0xFE6F},
                                     {0xFF01, 0xFF60},
                                     {0x1F300, 0x1FAFF},
                                     {0x20000, 0x3FFFD}}};

}  // namespace

Character characterAt(std::string_view text, std::size_t at) {
  const auto first = static_cast<unsigned char>(text[at]);
  const Character invalid{first, 1, false};
  const auto* const lead = std::find_if(kLeads.begin(), kLeads.end(), [first](const Lead& l) {
    return (first & l.mask) == l.pattern;
  });
  if (lead == kLeads.end() || at + lead->bytes > text.size()) {
    return invalid;
  }
  char32_t code = first & static_cast<unsigned char>(~lead->mask);
  for (std::size_t i = 1; i < lead->bytes; ++i) {
    const auto next = static_cast<unsigned char>(text[at + i]);
    if ((next & 0xC0) != 0x80) {
      return invalid;
    }
    code = (code << 6) | (next & 0x3F);
  }
  const bool isSurrogate = code >= 0xD800 && code <= 0xDFFF;
  if (code < lead->least || code > 0x10FFFF || isSurrogate) {
    return invalid;
  }
  return {code, lead->bytes, true};
}

bool isInsideCharacter(std::string_view text, std::size_t at) {
  return at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0) == 0x80;
}

bool isUnprintable(char32_t code) {
  return isIn(kUnprintable, code);
}

int displayWidth(char32_t code) {
  if (code < 0x300) {
    return 1;
  }
  if (isIn(kCombining, code)) {
    return 0;
  }
  return isIn(kWide, code) ? 2 : 1;
}

}  // namespace nightbank::scenario
