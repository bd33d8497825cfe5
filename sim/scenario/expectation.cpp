#include <algorithm>
#include <string>

#include "member.h"
#include "value.h"
#include <fmt/format.h>

namespace nightbank::scenario {
namespace {

std::string firstKeys(const Spec& spec) {
  constexpr std::size_t kMost = 4;
  std::vector<std::string_view> keys = keysOf(spec);
  const bool isCut = keys.size() > kMost;
  keys.resize(std::min(keys.size(), kMost));
  return fmt::format("{}{}", fmt::join(keys, ", "), isCut ? " ..." : "");
}

}  // namespace

std::string keysText(const Spec& spec) {
  return fmt::format("the keys of {}: {}", spec.name, firstKeys(spec));
}

std::string alternatives(std::span<const std::string_view> words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0)
      text += i + 1 == words.size() ? " or " : ", ";
    text += words[i];
  }
  return text;
}

std::string expectation(const Field& field) {
  switch (field.kind) {
    case Kind::quantity:
      return describe(field.dim);
    case Kind::current:
      return "a current (A, mA), where needed with its voltage: 8 A at 120 V";
    case Kind::price:
      return "a price such as 4.20 /gal";
    case Kind::slope:
      return field.dim == Dim::length ? "a slope such as 3.5 % per 1000 ft above 0 ft"
                                      : "a slope such as 1 % per 10 degF above 77 degF";
    case Kind::word:
      return alternatives(field.words);
    case Kind::text:
      return "a text";
    case Kind::name:
      return "a name";
    case Kind::hours:
      return "a list of spans such as [\"22:00-07:00\"]";
    case Kind::clock:
      return "a time of the day such as \"20:30\"";
    case Kind::date:
      return "a date such as 2026-07-18";
    case Kind::dateTime:
      return "a date with a time such as 2026-07-18 17:00";
    case Kind::wireSize:
      return "a size such as 4/0 AWG or 70 mm2";
    case Kind::fedFrom:
      return fmt::format("{}, or a list of them", alternatives(feedWords()));
    case Kind::efficiency:
      return "a percentage, or a list of [load, efficiency]";
    case Kind::edits:
      return "keys with their new values, such as {bank.capacity: 400 Ah}";
    case Kind::part: {
      const Spec& spec = field.spec();
      return spec.shorthand.empty()
                 ? keysText(spec)
                 : fmt::format("{}, or {}", expectation(spec.find(spec.shorthand).front()),
                               keysText(spec));
    }
    case Kind::list:
      return fmt::format("a list; each item has {}", keysText(field.spec()));
  }
  return "";
}

}  // namespace nightbank::scenario
