#include "page_file.h"

#include "options.h"

#include "nightbank/study/weather_day.h"

namespace nightbank::tool {

Told toldOf(const Loaded& loaded, UnitSystem units, const scenario::Scenario* run) {
  scenario::Scenario told = run == nullptr ? loaded.scenario : *run;
  if (loaded.weather) {
    const OnWeatherDay on = onWeatherDay(told, *loaded.weather);
    told.weather->file->low_degC = on.given.weather->file->low_degC;
    told.weather->file->high_degC = on.given.weather->file->high_degC;
  }
  Told result{scenario::echoRows(told, &loaded.document, units), {}, units};
  for (const scenario::Problem& problem : loaded.warnings)
    result.ofReader.push_back({problem.path, problem.message});
  return result;
}

std::string pageFileOf(const Typed& typed, const Loaded& loaded) {
  if (!typed.has("--page"))
    return "";
  const std::string file = typed.last("--page");
  if (file.empty() || file == "-")
    fail("--page needs the name of a file to write, such as answer.html");
  refuseOverwriting(loaded, "--page", file);
  return file;
}

}  // namespace nightbank::tool
