#pragma once

#include <string>
#include <vector>

#include "nightbank/scenario/field.h"
#include "nightbank/scenario/scenario.h"

/// The walk that fills in typical values. Private to the room.
namespace nightbank::scenario {

/// A value that was filled in.
struct Filled {
  std::string path;
  const Field* field;
  Typical typical;       ///< NaN where the field holds no number
  std::string value;     ///< as edit text
  std::string otherEnd;  ///< of what is no number; "": none
};

/// Fills `scenario`; tells what was filled in where `filled` is not null.
void fillIn(Scenario& scenario, std::vector<Filled>* filled);

}  // namespace nightbank::scenario
