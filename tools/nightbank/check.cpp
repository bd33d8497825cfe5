#include <exception>
#include <stdexcept>

#include "commands.h"
#include "errors.h"
#include "load.h"
#include <fmt/format.h>

#include "nightbank/report/derived.h"
#include "nightbank/report/weather_line.h"
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

struct Settled {
  Plant plant;
  scenario::Scenario told;  // as written, with what a weather file adds to typical values
  std::string weather;      // of which day it is, where that is settled
  HeatWeights heat;
};

Settled withHeat(const scenario::Scenario& resolved, const WeatherSeries* series,
                 scenario::Scenario told, std::string weather) {
  return {derive(resolved, series), std::move(told), std::move(weather),
          heatWeights(resolved, series)};
}

Settled settledOf(const Loaded& loaded, const CheckOptions& options) {
  try {
    if (!loaded.weather)
      return withHeat(scenario::resolve(loaded.scenario), nullptr, loaded.scenario, "");
    const OnWeatherDay on = onWeatherDay(loaded.scenario, *loaded.weather);
    const scenario::Scenario resolved = scenario::resolve(on.given);
    scenario::Scenario told = loaded.scenario;
    told.weather->file->low_degC = on.given.weather->file->low_degC;
    told.weather->file->high_degC = on.given.weather->file->high_degC;
    return withHeat(resolved, loaded.series(), std::move(told),
                    '\n' + report::weatherLine(resolved, on.day));
  } catch (const Underivable& error) {
    refuseFor(loaded, options, error.path, error.what());
  } catch (const std::invalid_argument& error) {
    refuseFor(loaded, options, "", error.what());
  }
}

}  // namespace

Result check(const CheckOptions& options) {
  const Loaded loaded = load(options.file, options.edits);
  const Settled settled = settledOf(loaded, options);
  Result result;
  result.err = loaded.messages;
  result.out = scenario::echo(settled.told, &loaded.document, options.units) + '\n' +
               report::derivedTable(settled.plant, options.units) + settled.weather;
  if (const std::string heat = report::heatLines(settled.heat); !heat.empty())
    result.out += '\n' + heat;
  return result;
}

}  // namespace nightbank::tool
