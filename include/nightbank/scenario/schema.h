#pragma once

#include <string>

namespace nightbank::scenario {

/// JSON Schema (draft-07) of a scenario text, for editors: keys, words and the form of quantities;
/// rules across fields are beyond it. Ends with a line end.
std::string jsonSchema();

}  // namespace nightbank::scenario
