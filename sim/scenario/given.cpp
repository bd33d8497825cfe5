#include <string>

#include "member.h"
#include "path.h"
#include "text_of.h"

#include "nightbank/scenario/document.h"
#include "nightbank/scenario/edit.h"
#include "nightbank/scenario/fields.h"

namespace nightbank::scenario {
namespace {

constexpr std::string_view kNone = "none";

void addPaths(const Spec& spec, const void* part, const std::string& path,
              std::vector<std::string>& paths) {
  for (const Field& field : spec.fields) {
    const std::string fieldPath = joinPath(path, field.key);
    if (field.items == nullptr) {
      if (isGiven(field, part))
        paths.push_back(fieldPath);
      continue;
    }
    for (std::size_t i = 0; i < countOf(field, part); ++i)
      addPaths(field.spec(), itemOf(field, part, i),
               field.kind == Kind::list ? itemPath(fieldPath, field, part, i) : fieldPath, paths);
  }
}

// The entry of a key that has a value; nullptr: none has.
const Field* givenIn(std::span<const Field> entries, const void* part) {
  for (const Field& field : entries)
    if (isGiven(field, part))
      return &field;
  return nullptr;
}

}  // namespace

std::vector<std::string> givenPaths(const Scenario& scenario) {
  std::vector<std::string> paths;
  addPaths(specOf<Scenario>(), &scenario, "", paths);
  return paths;
}

std::string valueText(const Scenario& scenario, std::string_view path) {
  const std::vector<std::string_view> steps = splitPath(path);
  const Spec* spec = &specOf<Scenario>();
  const void* part = &scenario;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const Field* field = givenIn(spec->find(steps[i]), part);
    if (field == nullptr)
      break;
    if (i + 1 == steps.size())
      return editText(*field, part);
    if (field->items == nullptr)
      break;
    std::size_t item = 0;
    if (field->kind == Kind::list) {
      const auto found = findItem(*field, part, steps[++i]);
      if (!found || i + 1 == steps.size())
        break;
      item = *found;
    }
    part = itemOf(*field, part, item);
    spec = &field->spec();
  }
  return std::string(kNone);
}

}  // namespace nightbank::scenario
