#include <exception>
#include <stdexcept>

#include "commands.h"
#include "errors.h"
#include "load.h"
#include <fmt/format.h>

#include "nightbank/report/derived.h"
#include "nightbank/scenario/echo.h"
#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"

namespace nightbank::tool {
namespace {

Plant plantOf(const scenario::Scenario& resolved, const Loaded& loaded) {
  try {
    return derive(resolved);
  } catch (const std::invalid_argument& error) {
    throw UserError(
        fmt::format("{}{}: error: {}", loaded.messages, loaded.document.fileName, error.what()));
  }
}

}  // namespace

Result check(const CheckOptions& options) {
  const Loaded loaded = load(options.file, options.edits);
  const scenario::Scenario resolved = scenario::resolve(loaded.scenario);
  const Plant plant = plantOf(resolved, loaded);
  Result result;
  result.err = loaded.messages;
  result.out = scenario::echo(loaded.scenario, &loaded.document, options.units) + '\n' +
               report::derivedTable(plant, options.units);
  return result;
}

}  // namespace nightbank::tool
