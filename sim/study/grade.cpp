#include "grade.h"

#include <algorithm>
#include <string_view>

#include "nightbank/scenario/fields.h"
#include "nightbank/scenario/resolve.h"

namespace nightbank {
namespace {

using scenario::Grade;

/// Whether a part of the scenario (its first key) had a share in the run.
bool matters(std::string_view part, const Night& night) {
  const EnergyOutcome& energy_J = night.outcome.energy_J;
  const bool engineRan = night.outcome.generator.engine_s > 0.0;
  const bool sunShone = energy_J.solar + energy_J.solarCurtailed > 0.0;
  if (part == "inverter")
    return energy_J.inverterLoss > 0.0 || night.outcome.sources[0].trips > 0;
  if (part == "charger")
    return energy_J.chargerLoss > 0.0;
  if (part == "generator")
    return engineRan;
  if (part == "solar")
    return sunShone;
  if (part == "weather" || part == "site")
    return sunShone || engineRan || night.plant.hasCabin;
  if (part == "shore")
    return energy_J.shore > 0.0;
  if (part == "prices" || part == "risk" || part == "sizing" || part == "plan")
    return false;
  if (part == "alternator")
    return energy_J.alternator > 0.0;
  return true;
}

std::string_view firstKey(std::string_view path) {
  return path.substr(0, path.find('.'));
}

Grade weakestIn(const scenario::Spec& spec, const void* part);

/// Of the values given in one field; measured where there is none.
Grade weakestOf(const scenario::Field& field, const void* part) {
  using scenario::Kind;
  const auto graded = [](const scenario::Graded& value) {
    return value.given ? value.grade : Grade::measured;
  };
  switch (field.kind) {
    case Kind::quantity:
    case Kind::current:
    case Kind::wireSize:
      return graded(field.in<scenario::Graded>(part));
    case Kind::slope: {
      const auto& slope = field.in<scenario::Slope>(part);
      return slope.given ? slope.grade : Grade::measured;
    }
    case Kind::part:
    case Kind::list: {
      Grade weakest = Grade::measured;
      void* member = const_cast<void*>(field.at(part));
      for (std::size_t i = 0; i < field.items->count(member); ++i)
        weakest = std::min(weakest, weakestIn(field.spec(), field.items->item(member, i)));
      return weakest;
    }
    default:
      return Grade::measured;
  }
}

Grade weakestIn(const scenario::Spec& spec, const void* part) {
  Grade weakest = Grade::measured;
  for (const scenario::Field& field : spec.fields)
    if (field.notUsed.empty())
      weakest = std::min(weakest, weakestOf(field, part));
  return weakest;
}

}  // namespace

Grade weakestGrade(const scenario::Scenario& given, const Night& night) {
  for (const scenario::TypicalValue& guess : scenario::typicalValues(given))
    if (matters(firstKey(guess.path), night))
      return Grade::typical;
  Grade weakest = Grade::measured;
  for (const scenario::Field& field : scenario::specOf<scenario::Scenario>().fields)
    if (field.notUsed.empty() && matters(field.key, night))
      weakest = std::min(weakest, weakestOf(field, &given));
  return weakest;
}

}  // namespace nightbank
