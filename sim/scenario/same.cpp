#include "nightbank/scenario/same.h"

#include <algorithm>
#include <bit>
#include <cstdint>
#include <optional>

#include "member.h"

#include "nightbank/scenario/fields.h"

namespace nightbank::scenario {
namespace {

bool sameNumber(double a, double b) {
  return std::bit_cast<std::uint64_t>(a) == std::bit_cast<std::uint64_t>(b);
}

bool sameNumber(const Graded& a, const Graded& b) {
  return sameNumber(a.value, b.value) && a.grade == b.grade && a.given == b.given;
}

bool sameNumber(const std::optional<double>& a, const std::optional<double>& b) {
  return a.has_value() == b.has_value() && (!a || sameNumber(*a, *b));
}

bool sameSlope(const Slope& a, const Slope& b) {
  return sameNumber(a.perUnit, b.perUnit) && sameNumber(a.above, b.above) && a.grade == b.grade &&
         a.given == b.given;
}

bool sameFeeds(const FedFrom& a, const FedFrom& b) {
  return a.battery == b.battery && a.inverter == b.inverter && a.generator == b.generator &&
         a.given == b.given;
}

template <class T>
const T& secondOf(const Field& field, const void* part) {
  return *static_cast<const T*>(field.second(const_cast<void*>(part)));
}

bool sameEfficiency(const Field& field, const void* a, const void* b) {
  using Points = std::vector<EfficiencyPoint>;
  return sameNumber(secondOf<Graded>(field, a), secondOf<Graded>(field, b)) &&
         std::ranges::equal(field.in<Points>(a), field.in<Points>(b),
                            [](const EfficiencyPoint& one, const EfficiencyPoint& other) {
                              return sameNumber(one.load, other.load) &&
                                     sameNumber(one.efficiency, other.efficiency);
                            });
}

bool samePart(const Spec& spec, const void* a, const void* b);

bool sameItems(const Field& field, const void* a, const void* b) {
  const std::size_t count = countOf(field, a);
  if (count != countOf(field, b))
    return false;
  for (std::size_t i = 0; i < count; ++i)
    if (!samePart(field.spec(), itemOf(field, a, i), itemOf(field, b, i)))
      return false;
  return true;
}

template <class T>
bool isEqual(const Field& field, const void* a, const void* b) {
  return field.in<T>(a) == field.in<T>(b);
}

bool sameField(const Field& field, const void* a, const void* b) {
  switch (field.kind) {
    case Kind::quantity:
    case Kind::price:
      return sameNumber(field.in<Graded>(a), field.in<Graded>(b));
    case Kind::wireSize:
      return sameNumber(field.in<Graded>(a), field.in<Graded>(b)) &&
             secondOf<std::string>(field, a) == secondOf<std::string>(field, b);
    case Kind::current:
      return sameNumber(field.in<CurrentAt>(a), field.in<CurrentAt>(b)) &&
             sameNumber(field.in<CurrentAt>(a).at_V, field.in<CurrentAt>(b).at_V);
    case Kind::slope:
      return sameSlope(field.in<Slope>(a), field.in<Slope>(b));
    case Kind::word:
      return field.word->get(field.at(a)) == field.word->get(field.at(b)) &&
             field.word->isGiven(field.at(a)) == field.word->isGiven(field.at(b));
    case Kind::text:
    case Kind::name:
      return isEqual<std::string>(field, a, b);
    case Kind::hours:
      return isEqual<Hours>(field, a, b);
    case Kind::clock:
    case Kind::dateTime:
      return sameNumber(field.in<std::optional<double>>(a), field.in<std::optional<double>>(b));
    case Kind::date:
      return isEqual<std::optional<Date>>(field, a, b);
    case Kind::fedFrom:
      return sameFeeds(field.in<FedFrom>(a), field.in<FedFrom>(b));
    case Kind::efficiency:
      return sameEfficiency(field, a, b);
    case Kind::edits:
      return std::ranges::equal(field.in<std::vector<NamedEdit>>(a),
                                field.in<std::vector<NamedEdit>>(b),
                                [](const NamedEdit& one, const NamedEdit& other) {
                                  return one.path == other.path && one.value == other.value;
                                });
    case Kind::part:
    case Kind::list:
      return sameItems(field, a, b);
  }
  return false;
}

bool samePart(const Spec& spec, const void* a, const void* b) {
  return std::ranges::all_of(spec.fields,
                             [&](const Field& field) { return sameField(field, a, b); });
}

}  // namespace

bool isSame(const Scenario& a, const Scenario& b) {
  return samePart(specOf<Scenario>(), &a, &b);
}

}  // namespace nightbank::scenario
