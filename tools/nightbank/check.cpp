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

[[noreturn]] void refuseFor(const Loaded& loaded, const CheckOptions& options,
                            const std::string& path, const std::string& why) {
  scenario::Problem problem;
  problem.path = path;
  problem.message = why;
  refuse(loaded, {&problem, 1}, options.edits);
}

Plant plantOf(const scenario::Scenario& resolved, const Loaded& loaded,
              const CheckOptions& options) {
  try {
    return derive(resolved);
  } catch (const Underivable& error) {
    refuseFor(loaded, options, error.path, error.what());
  } catch (const std::invalid_argument& error) {
    refuseFor(loaded, options, "", error.what());
  }
}

}  // namespace

Result check(const CheckOptions& options) {
  const Loaded loaded = load(options.file, options.edits);
  const scenario::Scenario resolved = scenario::resolve(loaded.scenario);
  const Plant plant = plantOf(resolved, loaded, options);
  Result result;
  result.err = loaded.messages;
  result.out = scenario::echo(loaded.scenario, &loaded.document, options.units) + '\n' +
               report::derivedTable(plant, options.units);
  return result;
}

}  // namespace nightbank::tool
