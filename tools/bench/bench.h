#pragma once

#include <map>
#include <string>

#include "cases.h"

namespace nightbank::bench {

/// Nights of the parallel study, each with a capacity of its own.
inline constexpr int kManyNights = 10'000;

/// Each puts its contestants on the library's list. `cases` must outlive the measuring.
void registerRuns(const Cases& cases);        ///< the engine
void registerReferences(const Cases& cases);  ///< plain loops and CVODE
void registerStudies();                       ///< edits, reading, a verdict, many nights
void registerProcess();                       ///< from the command line to the verdict

/// Least seconds of all repeats, by name.
using Seconds = std::map<std::string, double>;

/// Times all that is registered, repeats of all contestants in mixed order, so that a busy moment
/// of the machine meets all alike.
Seconds measure();

/// Whether the lowest margins of the many nights are the same on one thread and on two, bit by bit.
bool threadsAgree();

}  // namespace nightbank::bench
