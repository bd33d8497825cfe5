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
#include "nightbank/study/weather_day.h"

namespace nightbank::tool {
namespace {

[[noreturn]] void refuseFor(const Loaded& loaded, const CheckOptions& options,
                            const std::string& path, const std::string& why) {
  scenario::Problem problem;
  problem.path = path;
  problem.message = why;
  refuse(loaded, {&problem, 1}, options.edits);
}

// With the day settled where the weather is from a file.
scenario::Scenario settled(const Loaded& loaded) {
  if (!loaded.weather)
    return loaded.scenario;
  return onWeatherDay(loaded.scenario, *loaded.weather).given;
}

Plant plantOf(const Loaded& loaded, const CheckOptions& options) {
  try {
    return derive(scenario::resolve(settled(loaded)), loaded.series());
  } catch (const Underivable& error) {
    refuseFor(loaded, options, error.path, error.what());
  } catch (const std::invalid_argument& error) {
    refuseFor(loaded, options, "", error.what());
  }
}

}  // namespace

Result check(const CheckOptions& options) {
  const Loaded loaded = load(options.file, options.edits);
  const Plant plant = plantOf(loaded, options);
  Result result;
  result.err = loaded.messages;
  result.out = scenario::echo(loaded.scenario, &loaded.document, options.units) + '\n' +
               report::derivedTable(plant, options.units);
  return result;
}

}  // namespace nightbank::tool
