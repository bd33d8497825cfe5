#pragma once

#include "nightbank/study/progress.h"

namespace nightbank::tool {

/// One line on standard error that is written over, and taken away in the end; for a person alone:
/// nothing where that is no terminal.
Progress progressLine();

}  // namespace nightbank::tool
