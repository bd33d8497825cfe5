#include "nightbank/scenario/keys.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "member.h"
#include "path.h"
#include "reading.h"
#include "text_of.h"
#include "value.h"
#include "wrap.h"
#include <fmt/format.h>

#include "nightbank/scenario/fields.h"

namespace nightbank::scenario {
namespace {

constexpr std::size_t kListWidth = 80;
constexpr std::size_t kKeyWidth = 26;

using Entries = std::span<const Field>;

// "V, 90 V to 260 V": what a value looks like, in the fewest words.
std::string shapeOf(const Field& field) {
  if (field.kind != Kind::quantity && field.kind != Kind::current)
    return expectation(field);
  const std::vector<std::string_view> units = unitsOf(field.dim);
  return units.empty() ? describe(field.dim) : fmt::format("{}", fmt::join(units, ", "));
}

std::string limitsOf(const Field& field) {
  const bool isNumber =
      field.kind == Kind::quantity || field.kind == Kind::current || field.kind == Kind::efficiency;
  const Dim dim = field.kind == Kind::efficiency ? Dim::fraction : field.dim;
  if (!isNumber || !std::isfinite(field.range.low) || !std::isfinite(field.range.high))
    return "";
  return fmt::format("{}{} to {}", field.range.aboveLow ? "above " : "",
                     numberText(field.range.low, dim), numberText(field.range.high, dim));
}

// "needed, or batteries": whether it must be there, and what excludes it.
std::string needOf(const Spec& spec, const Field& field) {
  std::string others;
  for (const std::string_view key : keysOf(spec)) {
    const Field& other = spec.find(key).front();
    if (other.group == field.group && other.branch != field.branch)
      others += fmt::format("{}{}", others.empty() ? "" : " or ", key);
  }
  if (field.group == 0)
    return field.isRequired ? "needed" : "";
  return fmt::format("{}or {} instead", field.isRequired ? "needed, " : "", others);
}

// Whether it must be there, what it takes, what stands in for it, whether it counts yet.
std::string factsOf(const Spec& spec, Entries entries) {
  std::vector<std::string> facts;
  const Field& first = entries.front();
  for (const Field& field : entries)
    if (field.items == nullptr) {
      facts.push_back(shapeOf(field));
      if (const std::string limits = limitsOf(field); !limits.empty())
        facts.push_back(limits);
    }
  if (const std::string need = needOf(spec, first); !need.empty())
    facts.push_back(need);
  if (!first.typicalText.empty())
    facts.push_back(fmt::format("typical: {}", first.typicalText));
  if (!first.notUsed.empty())
    facts.push_back(fmt::format("read, not used: {}", first.notUsed));
  return fmt::format("{}", fmt::join(facts, "; "));
}

void addTree(const Spec& spec, std::size_t indent, std::string& text);

void addKey(const Spec& spec, Entries entries, std::size_t indent, std::string& text) {
  const Field& first = entries.front();
  const std::size_t keyWidth = kKeyWidth - indent;
  const std::size_t textWidth = kListWidth - kKeyWidth - 1;
  const bool isList = first.kind == Kind::list;
  const std::string key = fmt::format("{}{}", first.key, isList ? " [ ]" : "");
  text += row(indent, {{key, keyWidth}, {first.help, textWidth}});
  if (const std::string facts = factsOf(spec, entries); !facts.empty())
    text += row(indent, {{"", keyWidth}, {facts, textWidth}});
  if (const Field* container = containerIn(entries))
    addTree(container->spec(), indent + 2, text);
}

// Seldom needed keys last, each kind in the order of the list.
void addTree(const Spec& spec, std::size_t indent, std::string& text) {
  for (const bool isSeldom : {false, true})
    for (const std::string_view key : keysOf(spec)) {
      const Entries entries = spec.find(key);
      if (entries.front().isSeldom == isSeldom)
        addKey(spec, entries, indent, text);
    }
}

struct Found {
  const Spec* spec;  // that has the key
  Entries entries;
};

// The key at a path; an item's name or number may stand after its list.
std::variant<Found, Problem> findKey(std::string_view path) {
  const std::vector<std::string_view> steps = splitPath(path);
  if (steps.empty())
    return badPath(std::string(path), fmt::format("{} is no path", quote(path)));
  const Spec* spec = &specOf<Scenario>();
  Found found{spec, {}};
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const Entries entries = spec->find(steps[i]);
    if (entries.empty()) {
      const Field* list = found.entries.empty() ? nullptr : containerIn(found.entries);
      const bool isItem = list != nullptr && list == &found.entries.front() &&
                          list->kind == Kind::list && spec != found.spec;
      if (isItem && i + 1 < steps.size() && !spec->find(steps[i + 1]).empty())
        continue;
      return unknownKey(*spec, steps[i], std::string(path));
    }
    found = {spec, entries};
    const Field* container = containerIn(entries);
    if (container == nullptr && i + 1 < steps.size())
      return badPath(std::string(path), fmt::format("{} has no keys below it", steps[i]));
    if (container != nullptr)
      spec = &container->spec();
  }
  return found;
}

std::string details(std::string_view path, const Found& found) {
  const Field& first = found.entries.front();
  std::string text = fmt::format("{}\n", path);
  const auto add = [&](std::string_view label, const std::string& value) {
    if (!value.empty())
      text += row(2, {{label, 10}, {value, kListWidth - 13}});
  };
  add("what", std::string(first.help));
  for (const Field& field : found.entries) {
    add("takes", expectation(field));
    add("range", limitsOf(field));
  }
  add("needed", needOf(*found.spec, first));
  add("typical", std::string(first.typicalText));
  add("not used", std::string(first.notUsed));
  if (const Field* container = containerIn(found.entries)) {
    text += '\n';
    addTree(container->spec(), 2, text);
  }
  return text;
}

}  // namespace

bool isKey(std::string_view path) {
  return std::holds_alternative<Found>(findKey(path));
}

std::string keysHelp(std::string_view path) {
  if (path.empty()) {
    std::string text;
    addTree(specOf<Scenario>(), 0, text);
    return text;
  }
  const auto found = findKey(path);
  if (const auto* problem = std::get_if<Problem>(&found))
    return fmt::format("{}{}\n", problem->message,
                       problem->hint.empty() ? "" : fmt::format("; {}", problem->hint));
  return details(path, std::get<Found>(found));
}

}  // namespace nightbank::scenario
