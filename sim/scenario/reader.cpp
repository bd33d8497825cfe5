#include "nightbank/scenario/reader.h"

#include <algorithm>

#include "member.h"
#include "reading.h"

#include "nightbank/scenario/edit.h"
#include "nightbank/scenario/fields.h"

namespace nightbank::scenario {
namespace {

// Each variant is tried on the scenario without variants: its edits must be good ones.
void checkVariants(const Scenario& scenario, Reading& reading) {
  Scenario plain = scenario;
  plain.variants.clear();
  const Field& list = specOf<Scenario>().find("variants").front();
  for (std::size_t i = 0; i < scenario.variants.size(); ++i) {
    std::vector<Edit> edits;
    for (const NamedEdit& edit : scenario.variants[i].set)
      edits.push_back({edit.path, edit.value});
    const std::string path = joinPath(itemPath("variants", list, &scenario, i), "set");
    for (Problem& problem : scenario::apply(plain, edits).problems)
      if (problem.severity == Problem::Severity::error) {
        problem.message = joinPath(path, problem.message);
        problem.path = joinPath(path, problem.path);
        problem.otherPath.clear();
        reading.problems.push_back(std::move(problem));
      }
  }
}

}  // namespace

ReadResult readScenario(const Document& document) {
  Reading reading;
  Scenario scenario;
  readPart(specOf<Scenario>(), &scenario, document.root, "", reading);
  checkScenario(scenario, reading);
  if (!hasErrors(reading.problems))
    checkVariants(scenario, reading);
  ReadResult result;
  if (!hasErrors(reading.problems))
    result.scenario = std::move(scenario);
  result.problems = std::move(reading.problems);
  return result;
}

}  // namespace nightbank::scenario
