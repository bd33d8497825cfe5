#pragma once

#include <atomic>

#include "nightbank/report/text.h"

namespace nightbank::tool {

/// How text may look on standard output: colour and block characters only on a terminal; colour not
/// where NO_COLOR is set, blocks only where the locale is UTF-8.
report::TextStyle textStyle(UnitSystem units);

/// Whether a person types on standard input.
bool isInputTerminal();

/// Whether a person reads standard error.
bool isErrorTerminal();

/// From here on Ctrl-C no longer ends the program, but sets the flag that it gives back. A second
/// one ends it.
const std::atomic<bool>& interruption();

}  // namespace nightbank::tool
