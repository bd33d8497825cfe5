#include "member.h"

#include <algorithm>

#include "nightbank/scenario/document.h"
#include "nightbank/scenario/scenario.h"

namespace nightbank::scenario {
namespace {

bool isAnyGiven(const Spec& spec, const void* part) {
  return std::ranges::any_of(spec.fields, [&](const Field& field) { return isGiven(field, part); });
}

void clearNumber(Graded& number) {
  number = {};
}

}  // namespace

std::span<const Field> Spec::find(std::string_view key) const {
  const auto first = std::ranges::find(fields, key, &Field::key);
  const auto last = std::find_if(first, fields.end(), [&](const Field& f) { return f.key != key; });
  return {first, last};
}

const Field* Spec::nameField() const {
  const auto found = std::ranges::find(fields, Kind::name, &Field::kind);
  return found == fields.end() ? nullptr : &*found;
}

bool isGiven(const Field& field, const void* part) {
  switch (field.kind) {
    case Kind::quantity:
    case Kind::price:
    case Kind::wireSize:
      return field.in<Graded>(part).given;
    case Kind::current:
      return field.in<CurrentAt>(part).given;
    case Kind::slope:
      return field.in<Slope>(part).given;
    case Kind::word:
      return field.word->isGiven(field.at(part));
    case Kind::text:
    case Kind::name:
      return !field.in<std::string>(part).empty();
    case Kind::hours:
      return field.in<Hours>(part).has_value();
    case Kind::clock:
    case Kind::dateTime:
      return field.in<std::optional<double>>(part).has_value();
    case Kind::date:
      return field.in<std::optional<Date>>(part).has_value();
    case Kind::fedFrom:
      return field.in<FedFrom>(part).given;
    case Kind::efficiency:
      return static_cast<const Graded*>(field.second(const_cast<void*>(part)))->given;
    case Kind::edits:
      return !field.in<std::vector<NamedEdit>>(part).empty();
    case Kind::part:
      if (field.items->isPlain)
        return isAnyGiven(field.spec(), field.at(part));
      return field.items->count(field.at(part)) > 0;
    case Kind::list:
      return field.items->count(field.at(part)) > 0;
  }
  return false;
}

bool isGiven(std::span<const Field> entries, const void* part) {
  return std::ranges::any_of(entries, [&](const Field& field) { return isGiven(field, part); });
}

void clear(const Field& field, void* part) {
  switch (field.kind) {
    case Kind::quantity:
    case Kind::price:
      return clearNumber(field.in<Graded>(part));
    case Kind::current:
      field.in<CurrentAt>(part) = {};
      return;
    case Kind::slope:
      field.in<Slope>(part) = {};
      return;
    case Kind::word:
      return field.word->clear(field.member(part));
    case Kind::text:
    case Kind::name:
      return field.in<std::string>(part).clear();
    case Kind::hours:
      return field.in<Hours>(part).reset();
    case Kind::clock:
    case Kind::dateTime:
      return field.in<std::optional<double>>(part).reset();
    case Kind::date:
      return field.in<std::optional<Date>>(part).reset();
    case Kind::wireSize:
      static_cast<std::string*>(field.second(part))->clear();
      return clearNumber(field.in<Graded>(part));
    case Kind::fedFrom:
      field.in<FedFrom>(part) = {};
      return;
    case Kind::efficiency:
      field.in<std::vector<EfficiencyPoint>>(part).clear();
      return clearNumber(*static_cast<Graded*>(field.second(part)));
    case Kind::edits:
      return field.in<std::vector<NamedEdit>>(part).clear();
    case Kind::part:
    case Kind::list:
      return field.items->clear(field.member(part));
  }
}

void makeRoom(const Spec& spec, std::span<const Field> entries, void* part) {
  for (const Field& field : entries)
    if (isGiven(field, part))
      clear(field, part);
  const Field& first = entries.front();
  if (first.group == 0)
    return;
  for (const Field& other : spec.fields)
    if (other.group == first.group && other.branch != first.branch && isGiven(other, part))
      clear(other, part);
}

std::size_t countOf(const Field& field, const void* part) {
  return field.items->count(field.at(part));
}

void* itemOf(const Field& field, void* part, std::size_t index) {
  return field.items->item(field.member(part), index);
}

const void* itemOf(const Field& field, const void* part, std::size_t index) {
  return itemOf(field, const_cast<void*>(part), index);
}

std::string_view nameOf(const Spec& spec, const void* item) {
  const Field* name = spec.nameField();
  return name == nullptr ? std::string_view{} : std::string_view(name->in<std::string>(item));
}

std::string itemPath(const std::string& listPath, const Field& list, const void* part,
                     std::size_t index) {
  constexpr std::size_t kMostCompared = 64;  // more items than any list may have
  const std::string_view name = nameOf(list.spec(), itemOf(list, part, index));
  if (name.empty() || index >= kMostCompared)
    return joinPath(listPath, index);
  for (std::size_t i = 0; i < index; ++i)
    if (nameOf(list.spec(), itemOf(list, part, i)) == name)
      return joinPath(listPath, index);
  return joinPath(listPath, name);
}

std::vector<std::string_view> keysOf(const Spec& spec) {
  std::vector<std::string_view> keys;
  for (const Field& field : spec.fields)
    if (keys.empty() || keys.back() != field.key)
      keys.push_back(field.key);
  return keys;
}

}  // namespace nightbank::scenario
