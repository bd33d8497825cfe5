#include <exception>
#include <stdexcept>

#include "command.h"
#include "errors.h"
#include "load.h"
#include "options.h"
#include <fmt/format.h>

#include "nightbank/report/derived.h"
#include "nightbank/report/weather_line.h"
#include "nightbank/scenario/echo.h"
#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/study/weather_day.h"

namespace nightbank::tool {
namespace {

constexpr std::string_view kHelp =
    R"(Shows every value of a scenario with its grade (measured, nameplate, typical),
the range of each typical one, and what follows from them: usable energy, what
the generator is worth in that heat and height, losses, fuel, cable, duty.

usage: nightbank check [OPTIONS] FILE

FILE is a scenario; '-' reads standard input.

options
  --set PATH=VALUE     change one value first; may be repeated
  --units metric|us    units of what was not typed
  -h, --help           this text

examples
  nightbank check my_night.yaml
  nightbank check my_night.yaml --set "inverter.idle=18 W measured"

The exit code is 0 when the scenario can be run, 2 when it has errors.
)";

[[noreturn]] void refuseFor(const Loaded& loaded, std::span<const scenario::Edit> edits,
                            const std::string& path, const std::string& why) {
  scenario::Problem problem;
  problem.path = path;
  problem.message = why;
  refuse(loaded, {&problem, 1}, edits);
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

Settled settledOf(const Loaded& loaded, std::span<const scenario::Edit> edits) {
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
    refuseFor(loaded, edits, error.path, error.what());
  } catch (const std::invalid_argument& error) {
    refuseFor(loaded, edits, "", error.what());
  }
}

Result check(const Typed& typed) {
  const std::string file = neededFile(typed, "check");
  const std::vector<scenario::Edit> edits = editsOf(typed);
  const UnitSystem units = unitsOf(typed);
  const Loaded loaded = load(file, edits);
  const Settled settled = settledOf(loaded, edits);
  Result result;
  result.err = loaded.messages;
  result.out = scenario::echo(settled.told, &loaded.document, units) + '\n' +
               report::derivedTable(settled.plant, units) + settled.weather;
  if (const std::string heat = report::heatLines(settled.heat); !heat.empty())
    result.out += '\n' + heat;
  return result;
}

}  // namespace

CommandSpec checkCommand() {
  return {"check",
          "check FILE",
          "shows every value of a scenario and what follows from it",
          kHelp,
          {{"--set"}, {"--units"}},
          1,
          check};
}

}  // namespace nightbank::tool
