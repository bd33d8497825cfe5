#include "nightbank/scenario/resolve.h"

#include <cmath>

#include "link.h"
#include "member.h"
#include "text_of.h"
#include "typicals.h"

#include "nightbank/scenario/fields.h"

namespace nightbank::scenario {
namespace {

struct Walk {
  Scenario& scenario;
  std::vector<Filled>* filled;
};

void setNumber(const Field& field, void* part, const Typical& typical) {
  switch (field.kind) {
    case Kind::word:
      return field.word->set(field.member(part), static_cast<int>(typical.value), false);
    case Kind::efficiency:
      field.in<std::vector<EfficiencyPoint>>(part) = {{0.5, typical.value}};
      return;
    case Kind::current:
      static_cast<Graded&>(field.in<CurrentAt>(part)) = {typical.value, typical.grade, false};
      return;
    default:
      field.in<Graded>(part) = {typical.value, typical.grade, false};
  }
}

void tell(const Walk& walk, const Link& above, const Field& field, const void* part,
          const Typical& typical) {
  if (walk.filled == nullptr)
    return;
  std::string otherEnd;
  if (field.otherEnd != nullptr)
    otherEnd = field.otherEnd(walk.scenario, part);
  walk.filled->push_back(
      {pathOf(above, field.key), &field, typical, editText(field, part), std::move(otherEnd)});
}

void fillField(const Walk& walk, const Field& field, void* part, const Link& above) {
  if (field.fill != nullptr) {
    const bool wasGiven = isGiven(field, part);
    field.fill(walk.scenario, part);
    if (!wasGiven && field.kind != Kind::part && isKnown(field, part))
      tell(walk, above, field, part, {});
    return;
  }
  const Typical typical =
      field.typicalFrom != nullptr ? field.typicalFrom(walk.scenario, part) : field.typical;
  if (std::isnan(typical.value) || isGiven(field, part))
    return;
  setNumber(field, part, typical);
  tell(walk, above, field, part, typical);
}

void fillPart(const Walk& walk, const Spec& spec, void* part, const Link& above) {
  for (const Field& field : spec.fields) {
    fillField(walk, field, part, above);
    if (field.items == nullptr)
      continue;
    for (std::size_t i = 0; i < countOf(field, part); ++i)
      fillPart(walk, field.spec(), itemOf(field, part, i), {&above, &field, part, i});
  }
}

// An end of a guess as edit text; "" where it is the typical value itself.
std::string endText(const Filled& one, double end) {
  if (end == one.typical.value)
    return "";
  if (one.field->kind == Kind::word)
    return std::string(one.field->words[static_cast<std::size_t>(end)]);
  const Dim dim = one.field->kind == Kind::efficiency ? Dim::fraction : one.field->dim;
  return numberText(end, dim) + " typical";
}

TypicalValue typicalValue(const Filled& one) {
  TypicalValue value{one.path, one.value, "", "", Grade::typical};
  if (one.typical.isGuess()) {
    value.low = endText(one, one.typical.low);
    value.high = endText(one, one.typical.high);
  } else {
    value.high = one.otherEnd;
  }
  return value;
}

}  // namespace

void fillIn(Scenario& scenario, std::vector<Filled>* filled) {
  fillPart({scenario, filled}, specOf<Scenario>(), &scenario, {});
}

Scenario resolve(const Scenario& scenario) {
  Scenario resolved = scenario;
  fillIn(resolved, nullptr);
  return resolved;
}

std::vector<TypicalValue> typicalValues(const Scenario& given) {
  Scenario resolved = given;
  std::vector<Filled> filled;
  fillIn(resolved, &filled);
  std::vector<TypicalValue> values;
  for (const Filled& one : filled)
    if (one.typical.isGuess() || !one.otherEnd.empty())
      values.push_back(typicalValue(one));
  return values;
}

}  // namespace nightbank::scenario
