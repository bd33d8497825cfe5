#include "nightbank/scenario/edit.h"

#include <string>

#include "member.h"
#include "path.h"
#include "reading.h"
#include "value.h"
#include <fmt/format.h>

#include "nightbank/scenario/fields.h"

namespace nightbank::scenario {
namespace {

// The part that an edit has come to.
struct Cursor {
  const Spec* spec;
  void* part;
  std::string path;
};

bool isNone(std::string_view value) {
  return value == "none";
}

std::optional<Node> parseValue(const std::string& value, const std::string& path,
                               Reading& reading) {
  Parsed parsed = parseSnippet(value, path, path);
  if (auto* document = std::get_if<Document>(&parsed))
    return std::move(document->root);
  for (const Diagnostic& diagnostic : std::get<std::vector<Diagnostic>>(parsed))
    reading.error(path, fmt::format("{} is {}: {}", path, quote(value), diagnostic.message),
                  diagnostic.hint);
  return std::nullopt;
}

void setKey(const Cursor& at, std::span<const Field> entries, const std::string& value,
            const std::string& path, Reading& reading) {
  if (isNone(value)) {
    for (const Field& field : entries)
      clear(field, at.part);
    return;
  }
  const auto node = parseValue(value, path, reading);
  if (!node)
    return;
  if (entries.front().kind != Kind::name)  // a bad one leaves the name by which the item is known
    makeRoom(*at.spec, entries, at.part);
  readKey(entries, at.part, *node, path, reading);
}

// A new item at the end, where the step may stand for one; nullptr: it may not.
void* newItem(const Field& list, void* part, std::string_view step) {
  const Field* name = list.spec().nameField();
  if (name == nullptr && numberOf(step) != countOf(list, part))
    return nullptr;
  void* item = list.items->append(list.member(part));
  if (name != nullptr && readScalar(*name, item, step)) {
    list.items->erase(list.member(part), countOf(list, part) - 1);
    return nullptr;
  }
  return item;
}

// Replaces an item as a whole, or adds it. Its name stays unless the value has one.
void setItem(const Field& list, void* part, std::string_view step, const std::string& value,
             const std::string& listPath, Reading& reading) {
  const auto index = findItem(list, part, step);
  if (isNone(value)) {
    if (index)
      return list.items->erase(list.member(part), *index);
    return reading.problems.push_back(noItem(list, part, listPath, step));
  }
  const std::string path = joinPath(listPath, step);
  const auto node = parseValue(value, path, reading);
  if (!node)
    return;
  void* item = nullptr;
  if (index) {
    item = itemOf(list, part, *index);
    const std::string name(nameOf(list.spec(), item));
    list.items->reset(list.member(part), *index);
    if (!name.empty())
      static_cast<void>(readScalar(*list.spec().nameField(), item, name));
  } else {
    item = newItem(list, part, step);
  }
  if (item == nullptr)
    return reading.problems.push_back(noItem(list, part, listPath, step));
  readPart(list.spec(), item, *node, path, reading);
}

void enterPart(Cursor& at, std::span<const Field> entries, const Field& field,
               const std::string& path) {
  if (countOf(field, at.part) == 0) {
    makeRoom(*at.spec, entries, at.part);
    field.items->append(field.member(at.part));
  }
  at = {&field.spec(), itemOf(field, at.part), path};
}

// Only a list without names grows by a path into its next item.
bool enterItem(Cursor& at, const Field& list, std::string_view step, const std::string& path,
               Reading& reading) {
  const auto index = findItem(list, at.part, step);
  void* item = nullptr;
  if (index)
    item = itemOf(list, at.part, *index);
  else if (list.spec().nameField() == nullptr)
    item = newItem(list, at.part, step);
  if (item == nullptr) {
    reading.problems.push_back(noItem(list, at.part, path, step));
    return false;
  }
  at = {&list.spec(), item, joinPath(path, step)};
  return true;
}

void applyOne(Scenario& scenario, const Edit& edit, Reading& reading) {
  const std::vector<std::string_view> steps = splitPath(edit.path);
  if (steps.empty())
    return reading.problems.push_back(
        badPath(edit.path, fmt::format("{} is no path; expected keys joined by dots, such as "
                                       "bank.capacity",
                                       quote(edit.path))));
  Cursor at{&specOf<Scenario>(), &scenario, ""};
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const std::string path = joinPath(at.path, steps[i]);
    const auto entries = at.spec->find(steps[i]);
    if (entries.empty())
      return reading.problems.push_back(unknownKey(*at.spec, steps[i], path));
    const bool isLast = i + 1 == steps.size();
    if (isLast)
      return setKey(at, entries, edit.value, path, reading);
    const Field* field = containerIn(entries);
    if (field == nullptr)
      return reading.problems.push_back(badPath(
          path,
          fmt::format("{} has no keys below it; it takes {}", path, expectation(entries.front()))));
    if (field->kind == Kind::part) {
      enterPart(at, entries, *field, path);
      continue;
    }
    ++i;
    if (i + 1 == steps.size())
      return setItem(*field, at.part, steps[i], edit.value, path, reading);
    if (!enterItem(at, *field, steps[i], path, reading))
      return;
  }
}

}  // namespace

ReadResult apply(const Scenario& scenario, std::span<const Edit> edits) {
  Reading reading;
  Scenario edited = scenario;
  for (const Edit& edit : edits)
    applyOne(edited, edit, reading);
  checkScenario(edited, reading);
  ReadResult result;
  if (!hasErrors(reading.problems))
    result.scenario = std::move(edited);
  result.problems = std::move(reading.problems);
  return result;
}

}  // namespace nightbank::scenario
