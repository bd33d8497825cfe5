#include <string>
#include <utility>

#include "member.h"
#include "reading.h"
#include "rules/rules.h"
#include <fmt/format.h>

#include "nightbank/scenario/edit.h"
#include "nightbank/scenario/fields.h"
#include "nightbank/scenario/stepped.h"
#include "nightbank/scenario/studies.h"

// Named changes are tried on the scenario without any: their edits must be good ones.
namespace nightbank::scenario {
namespace {

// Problems of edits that stand as a map at `path`.
void tryEdits(const Scenario& plain, const std::vector<NamedEdit>& edits, const std::string& path,
              Reading& reading) {
  for (Problem& problem : scenario::apply(plain, edits).problems)
    if (problem.severity == Problem::Severity::error) {
      problem.message = joinPath(path, problem.message);
      problem.path = joinPath(path, problem.path);
      problem.otherPath.clear();
      reading.problems.push_back(std::move(problem));
    }
}

// Both ends of the pieces of an option: the path and the values between follow.
void tryUnits(const Scenario& plain, const SizingOption& option, const std::string& path,
              Reading& reading) {
  if (!splitNumber(option.units->each))
    return reading.error(path + ".units.each",
                         fmt::format("{}.units.each is {}; expected a number with its unit, for "
                                     "one piece",
                                     path, quote(option.units->each)));
  for (const double pieces : {option.units->from.value, option.units->to.value}) {
    const std::vector<NamedEdit> edits = editsOf(option, static_cast<int>(pieces));
    for (const Problem& problem : scenario::apply(plain, edits).problems)
      if (problem.severity == Problem::Severity::error)
        return reading.error(path + ".units.of",
                             fmt::format("with {} of {}: {}", pieces, path, problem.message),
                             problem.hint);
  }
}

void checkSizingEdits(const Scenario& scenario, const Scenario& plain, Reading& reading) {
  for (std::size_t i = 0; i < scenario.sizing->choose.size(); ++i) {
    const SizingChoice& choice = scenario.sizing->choose[i];
    for (std::size_t j = 0; j < choice.options.size(); ++j) {
      const SizingOption& option = choice.options[j];
      const std::string path = optionPath(*scenario.sizing, i, j);
      if (option.units)
        tryUnits(plain, option, path, reading);
      else if (!option.set.empty())
        tryEdits(plain, option.set, path + ".set", reading);
    }
  }
}

}  // namespace

Scenario withoutStudies(Scenario scenario) {
  scenario.variants.clear();
  scenario.sizing.reset();
  if (scenario.weather && scenario.weather->file && !scenario.weather->file->hottest.given)
    scenario.weather->file->within_s = {};
  return scenario;
}

void checkStudies(const Scenario& scenario, Reading& reading) {
  const Scenario plain = withoutStudies(scenario);
  const Field& list = specOf<Scenario>().find("variants").front();
  for (std::size_t i = 0; i < scenario.variants.size(); ++i)
    tryEdits(plain, scenario.variants[i].set,
             joinPath(itemPath("variants", list, &scenario, i), "set"), reading);
  if (scenario.sizing)
    checkSizingEdits(scenario, plain, reading);
}

}  // namespace nightbank::scenario
