#include "nightbank/scenario/schema.h"

#include <cmath>

#include "member.h"
#include "value.h"
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "nightbank/scenario/fields.h"

namespace nightbank::scenario {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::string_view kNumber = "[-+]?[0-9]+([.][0-9]+)?([eE][-+]?[0-9]+)?";
constexpr std::string_view kClock = "([01][0-9]|2[0-3]):[0-5][0-9]";

// One of some words, as part of a pattern.
std::string anyOf(std::span<const std::string_view> words) {
  std::string text;
  for (const std::string_view word : words)
    text += fmt::format("{}{}", text.empty() ? "" : "|", word);
  return fmt::format("({})", text);
}

std::string numberPattern(Dim dim) {
  const std::vector<std::string_view> units = unitsOf(dim);
  return units.empty() ? std::string(kNumber) : fmt::format("{} ?{}", kNumber, anyOf(units));
}

std::string graded(std::string_view pattern) {
  return fmt::format("^{}( {})?$", pattern, anyOf(gradeWords()));
}

Json textLike(std::string_view pattern) {
  return {{"type", "string"}, {"pattern", pattern}};
}

Json either(std::initializer_list<Json> ways) {
  return {{"anyOf", Json(std::vector<Json>(ways))}};
}

Json listOf(const Json& item) {
  return {{"type", "array"}, {"items", item}, {"minItems", 1}};
}

// A bare number, or one with a grade after it.
Json bareNumber(const Field& field) {
  Json number = {{"type", field.dim == Dim::count ? "integer" : "number"}};
  if (std::isfinite(field.range.low))
    number[field.range.aboveLow ? "exclusiveMinimum" : "minimum"] = field.range.low;
  if (std::isfinite(field.range.high))
    number["maximum"] = field.range.high;
  return either({number, textLike(graded(kNumber))});
}

Json quantityLike(const Field& field) {
  return unitsOf(field.dim).empty() ? bareNumber(field)
                                    : textLike(graded(numberPattern(field.dim)));
}

Json slopeLike(const Field& field) {
  const Dim step = field.dim == Dim::length ? Dim::length : Dim::difference;
  return textLike(graded(fmt::format("{} per {} above {}", numberPattern(Dim::fraction),
                                     numberPattern(step), numberPattern(field.dim))));
}

Json hoursLike() {
  const Json span = textLike(fmt::format("^{}-({}|24:00)$", kClock, kClock));
  return either({span, listOf(span)});
}

Json efficiencyLike() {
  const Json share = textLike(graded(numberPattern(Dim::fraction)));
  Json point = listOf(share);
  point["minItems"] = 2;
  point["maxItems"] = 2;
  return either({share, listOf(point)});
}

Json wordLike(std::span<const std::string_view> words) {
  return {{"enum", std::vector<std::string_view>(words.begin(), words.end())}};
}

Json partLike(const Spec& spec);
Json valueLike(const Field& field);

/// A part, or the one value that may stand for it.
Json wholeLike(const Spec& spec) {
  if (spec.shorthand.empty())
    return partLike(spec);
  return either({valueLike(spec.find(spec.shorthand).front()), partLike(spec)});
}

Json itemsLike(const Field& field) {
  const Spec& spec = field.spec();
  const Json list = listOf(partLike(spec));
  if (spec.shorthand.empty())
    return list;
  return either({quantityLike(spec.find(spec.shorthand).front()), list});
}

Json valueLike(const Field& field) {
  switch (field.kind) {
    case Kind::quantity:
      return quantityLike(field);
    case Kind::current:
      return textLike(graded(
          fmt::format("{}( at {})?", numberPattern(Dim::current), numberPattern(Dim::voltage))));
    case Kind::price:
      return textLike(graded(fmt::format("{} ?/ ?(gal|L)", kNumber)));
    case Kind::slope:
      return slopeLike(field);
    case Kind::word:
      return wordLike(field.words);
    case Kind::text:
    case Kind::name:
      return {{"type", "string"}, {"minLength", 1}};
    case Kind::hours:
      return hoursLike();
    case Kind::clock:
      return textLike(fmt::format("^{}$", kClock));
    case Kind::date:
      return textLike("^20[0-9]{2}-[0-9]{2}-[0-9]{2}$");
    case Kind::dateTime:
      return textLike(fmt::format("^20[0-9]{{2}}-[0-9]{{2}}-[0-9]{{2}}[ T]{}$", kClock));
    case Kind::wireSize:
      return textLike("^([0-9]+(/0)? ?AWG|[0-9]+([.][0-9]+)? ?mm2)$");
    case Kind::fedFrom:
      return either({wordLike(feedWords()), listOf(wordLike(feedWords()))});
    case Kind::efficiency:
      return efficiencyLike();
    case Kind::edits:
      return {{"type", "object"}, {"minProperties", 1}};
    case Kind::part:
      return wholeLike(field.spec());
    case Kind::list:
      return itemsLike(field);
  }
  return {};
}

Json keyLike(std::span<const Field> entries) {
  Json value = valueLike(entries.front());
  if (entries.size() > 1) {
    std::vector<Json> ways;
    for (const Field& field : entries)
      ways.push_back(valueLike(field));
    value = {{"anyOf", ways}};
  }
  value["description"] = entries.front().help;
  return value;
}

// The required keys of every branch of a group that must have one: exactly one set is there.
Json requiredBranches(const Spec& spec, int group) {
  std::vector<std::uint8_t> branches;
  std::vector<Json> required;
  for (const std::string_view key : keysOf(spec)) {
    const Field& field = spec.find(key).front();
    if (field.group != group || !field.isRequired)
      continue;
    if (branches.empty() || branches.back() != field.branch) {
      branches.push_back(field.branch);
      required.push_back({{"required", Json::array()}});
    }
    required.back()["required"].push_back(key);
  }
  return required;
}

Json partLike(const Spec& spec) {
  Json properties = Json::object();
  Json required = Json::array();
  for (const std::string_view key : keysOf(spec)) {
    const auto entries = spec.find(key);
    properties[std::string(key)] = keyLike(entries);
    if (entries.front().isRequired && entries.front().group == 0)
      required.push_back(key);
  }
  Json part = {{"type", "object"}, {"properties", properties}, {"additionalProperties", false}};
  if (!required.empty())
    part["required"] = required;
  if (const Json branches = requiredBranches(spec, 1); branches.size() > 1)
    part["oneOf"] = branches;
  return part;
}

}  // namespace

std::string jsonSchema() {
  Json schema = {{"$schema", "http://json-schema.org/draft-07/schema#"},
                 {"title", "Scenario of an off-grid night"}};
  schema.update(partLike(specOf<Scenario>()));
  constexpr int kIndent = 2;
  return schema.dump(kIndent) + '\n';
}

}  // namespace nightbank::scenario
