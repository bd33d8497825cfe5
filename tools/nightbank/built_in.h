#pragma once

#include <string_view>

namespace nightbank::embedded {

/// The scenario that `run` answers where no file is named: scenarios/bunk_trailer.yaml.
std::string_view builtInScenario();

/// The JSON Schemas of the answers of `run --json` and `start --json`.
std::string_view runSchema();
std::string_view startSchema();

}  // namespace nightbank::embedded
