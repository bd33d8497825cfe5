#include <cmath>
#include <string>

#include "member.h"
#include "path.h"
#include "reading.h"
#include <fmt/format.h>

#include "nightbank/scenario/edit.h"
#include "nightbank/scenario/fields.h"

namespace nightbank::scenario {
namespace {

constexpr double kUnknown = std::numeric_limits<double>::quiet_NaN();

bool isNumber(const Field& field) {
  return field.kind == Kind::quantity || field.kind == Kind::current || field.kind == Kind::price ||
         field.kind == Kind::efficiency;
}

// While a path is bound: the part may be absent (null), then only its field list counts.
struct Binding {
  Slot slot;
  const Spec* spec = &specOf<Scenario>();
  const void* part = nullptr;
  std::string path;
  bool isTooDeep = false;

  void add(const Field& field, std::size_t item) {
    if (slot.depth == slot.steps.size()) {
      isTooDeep = true;
      return;
    }
    slot.steps[slot.depth++] = {static_cast<std::uint8_t>(&field - spec->fields.data()),
                                static_cast<std::uint8_t>(item)};
  }

  void enter(const Field& field, std::size_t item) {
    add(field, item);
    const bool isThere = part != nullptr && item < countOf(field, part);
    part = isThere ? itemOf(field, part, item) : nullptr;
    spec = &field.spec();
  }
};

// Of several entries of a key the one that is given, else the first that holds a number.
const Field* numberIn(std::span<const Field> entries, const void* part) {
  const Field* first = nullptr;
  for (const Field& field : entries) {
    if (!isNumber(field))
      continue;
    if (part != nullptr && isGiven(field, part))
      return &field;
    if (first == nullptr)
      first = &field;
  }
  return first;
}

void setRange(Slot& slot, const Field& field) {
  slot.dim = field.kind == Kind::efficiency ? Dim::fraction
             : field.kind == Kind::price    ? Dim::number
                                            : field.dim;
  slot.low = field.range.low;
  slot.high = field.range.high;
  if (field.range.aboveLow)
    slot.low = std::nextafter(slot.low, slot.high);
}

Problem noNumber(const std::string& path) {
  return badPath(path, fmt::format("{} holds no single number", path));
}

// The last key of a path: a number, or a list that one share may stand for.
std::optional<Problem> bindLast(Binding& at, std::span<const Field> entries) {
  const Field* list = containerIn(entries);
  if (list != nullptr && list->kind == Kind::list && !list->spec().shorthand.empty()) {
    if (at.part != nullptr && countOf(*list, at.part) > 1)
      return badPath(at.path, fmt::format("{} has several entries; name one by its number: {}[0]",
                                          at.path, at.path));
    at.enter(*list, 0);
    entries = at.spec->find(list->spec().shorthand);
  }
  const Field* field = numberIn(entries, at.part);
  if (field == nullptr)
    return noNumber(at.path);
  if (field->kind == Kind::efficiency && at.part != nullptr &&
      field->in<std::vector<EfficiencyPoint>>(at.part).size() > 1)
    return noNumber(at.path);
  at.add(*field, 0);
  setRange(at.slot, *field);
  return std::nullopt;
}

std::optional<Problem> bindSteps(Binding& at, const std::vector<std::string_view>& steps) {
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const auto entries = at.spec->find(steps[i]);
    const std::string path = joinPath(at.path, steps[i]);
    if (entries.empty())
      return unknownKey(*at.spec, steps[i], path);
    at.path = path;
    if (i + 1 == steps.size())
      return bindLast(at, entries);
    const Field* field = containerIn(entries);
    if (field == nullptr)
      return badPath(path, fmt::format("{} has no keys below it", path));
    if (field->kind == Kind::part) {
      at.enter(*field, 0);
      continue;
    }
    ++i;
    const auto item = at.part == nullptr ? std::nullopt : findItem(*field, at.part, steps[i]);
    if (!item || *item > UINT8_MAX)
      return noItem(*field, at.part, path, steps[i]);
    at.enter(*field, *item);
    at.path = joinPath(path, steps[i]);
  }
  return noNumber(at.path);
}

// The part below a field, created where it is absent.
void* reach(const Spec& spec, const Field& field, void* part, std::size_t item) {
  if (countOf(field, part) <= item) {
    makeRoom(spec, spec.find(field.key), part);
    while (countOf(field, part) <= item)
      field.items->append(field.member(part));
  }
  return itemOf(field, part, item);
}

void setNumber(const Field& field, void* part, double value) {
  Graded* number = nullptr;
  if (field.kind == Kind::efficiency) {
    auto& points = field.in<std::vector<EfficiencyPoint>>(part);
    points.resize(1);
    points.front() = {0.5, value};
    static_cast<Graded*>(field.second(part))->given = true;
    return;
  }
  number = field.kind == Kind::current ? &field.in<CurrentAt>(part) : &field.in<Graded>(part);
  number->value = value;
  number->given = true;
}

double valueOf(const Field& field, const void* part) {
  switch (field.kind) {
    case Kind::efficiency: {
      const auto& points = field.in<std::vector<EfficiencyPoint>>(part);
      return points.size() == 1 ? points.front().efficiency : kUnknown;
    }
    case Kind::current:
      return field.in<CurrentAt>(part).value;
    default:
      return field.in<Graded>(part).value;
  }
}

}  // namespace

std::variant<Slot, Problem> bind(const Scenario& scenario, std::string_view path) {
  const std::vector<std::string_view> steps = splitPath(path);
  Binding at;
  at.part = &scenario;
  at.path = "";
  if (steps.empty())
    return badPath(std::string(path), fmt::format("{} is no path", quote(path)));
  if (auto problem = bindSteps(at, steps))
    return std::move(*problem);
  if (at.isTooDeep)
    return noNumber(at.path);
  // What replaces another alternative must not leave a required key behind.
  Scenario tried = scenario;
  write(at.slot, tried, 1.0);
  std::vector<Problem> problems;
  checkKeys(tried, problems);
  if (hasErrors(problems))
    return std::move(problems.front());
  return at.slot;
}

void write(const Slot& slot, Scenario& scenario, double value) {
  const Spec* spec = &specOf<Scenario>();
  void* part = &scenario;
  for (std::uint8_t i = 0; i + 1 < slot.depth; ++i) {
    const Field& field = spec->fields[slot.steps[i].field];
    part = reach(*spec, field, part, slot.steps[i].item);
    spec = &field.spec();
  }
  const Field& field = spec->fields[slot.steps[slot.depth - 1].field];
  if (!isGiven(field, part))
    makeRoom(*spec, spec->find(field.key), part);
  setNumber(field, part, value);
}

double read(const Slot& slot, const Scenario& scenario) {
  const Spec* spec = &specOf<Scenario>();
  const void* part = &scenario;
  for (std::uint8_t i = 0; i + 1 < slot.depth; ++i) {
    const Field& field = spec->fields[slot.steps[i].field];
    if (countOf(field, part) <= slot.steps[i].item)
      return kUnknown;
    part = itemOf(field, part, slot.steps[i].item);
    spec = &field.spec();
  }
  return valueOf(spec->fields[slot.steps[slot.depth - 1].field], part);
}

}  // namespace nightbank::scenario
