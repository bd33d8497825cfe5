#pragma once

#include <string_view>

namespace nightbank::embedded {

/// The scenario that `run` answers where no file is named: scenarios/bunk_trailer.yaml.
std::string_view builtInScenario();

}  // namespace nightbank::embedded
