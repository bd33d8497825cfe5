#include "nightbank/scenario/reader.h"

#include "reading.h"

#include "nightbank/scenario/fields.h"

namespace nightbank::scenario {

ReadResult readScenario(const Document& document) {
  Reading reading;
  Scenario scenario;
  readPart(specOf<Scenario>(), &scenario, document.root, "", reading);
  checkScenario(scenario, reading);
  if (!hasErrors(reading.problems))
    checkStudies(scenario, reading);
  ReadResult result;
  if (!hasErrors(reading.problems))
    result.scenario = std::move(scenario);
  result.problems = std::move(reading.problems);
  return result;
}

}  // namespace nightbank::scenario
