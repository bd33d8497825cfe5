#include "plants.h"

#include <algorithm>
#include <cstddef>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <utility>
#include <variant>

#include "nightbank/scenario/document.h"
#include "nightbank/scenario/edit.h"
#include "nightbank/scenario/reader.h"
#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"

namespace nightbank::structure {
namespace {

std::string textOf(const std::filesystem::path& path) {
  std::ostringstream text;
  text << std::ifstream(path, std::ios::binary).rdbuf();
  return text.str();
}

scenario::Scenario scenarioOf(const std::filesystem::path& path) {
  const auto parsed = scenario::parseDocument(textOf(path), path.filename().string());
  if (const auto* faults = std::get_if<std::vector<scenario::Diagnostic>>(&parsed)) {
    throw std::runtime_error(scenario::render(*faults));
  }
  const auto& document = std::get<scenario::Document>(parsed);
  auto read = scenario::readScenario(document);
  if (!read.scenario) {
    throw std::runtime_error(scenario::render(scenario::diagnose(read.problems, document)));
  }
  return *std::move(read.scenario);
}

Plant plantOf(const scenario::Scenario& scenario, const std::filesystem::path& folder) {
  const scenario::Scenario resolved = scenario::resolve(scenario);
  if (!resolved.weather->file) {
    return derive(resolved);
  }
  const auto parsed = parseWeather(textOf(folder / resolved.weather->file->path));
  return derive(resolved, &std::get<WeatherSeries>(parsed));
}

void fillUnknownDuties(scenario::Scenario& scenario) {
  for (std::size_t i = 0; i < scenario.airConditioners.size(); ++i) {
    if (scenario.airConditioners[i].duty.empty() &&
        scenario.airConditioners[i].thermostat.empty()) {
      const scenario::Edit edit = {"air_conditioners." + std::to_string(i) + ".duty", "60 %"};
      scenario = scenario::apply(scenario, {&edit, 1}).scenario.value();
    }
  }
}

}  // namespace

std::vector<NamedPlant> committedPlants() {
  std::vector<std::filesystem::path> paths;
  for (const auto& entry : std::filesystem::directory_iterator(NIGHTBANK_SOURCE_DIR "/scenarios")) {
    if (entry.path().extension() == ".yaml") {
      paths.push_back(entry.path());
    }
  }
  std::sort(paths.begin(), paths.end());
  std::vector<NamedPlant> plants;
  for (const auto& path : paths) {
    scenario::Scenario scenario = scenarioOf(path);
    fillUnknownDuties(scenario);
    plants.push_back({path.filename().string(), plantOf(scenario, path.parent_path())});
  }
  return plants;
}

}  // namespace nightbank::structure
