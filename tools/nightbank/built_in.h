#pragma once

#include <string_view>

namespace nightbank::embedded {

/// The scenario that `run` answers where no file is named: scenarios/bunk_trailer.yaml.
std::string_view builtInScenario();

/// The JSON Schemas of what `--json` answers, by command, and the definitions that they share.
std::string_view runSchema();
std::string_view startSchema();
std::string_view planSchema();
std::string_view compareSchema();
std::string_view sizeSchema();
std::string_view riskSchema();
std::string_view fitSchema();
std::string_view sharedSchema();

}  // namespace nightbank::embedded
