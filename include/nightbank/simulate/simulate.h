#pragma once

#include <stdexcept>

#include "nightbank/simulate/outcome.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/simulate/recorder.h"

namespace nightbank {

/// An error of the program, not of its input: the process ends with exit code 70.
struct InternalError : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// Runs the whole period. Pure and deterministic: no clock, no environment, no input or output, no
/// allocation. `recorder` comes from makeRecorder(plant) or reset().
/// @param coarseness  of the pieces, see takePiece(); 1 for an answer of its own
/// @throws InternalError where devices chatter (over 100 pieces per simulated minute over an
///         hour) or a number is not finite; the text names the device and the time.
Outcome simulate(const Plant& plant, Recorder& recorder, double coarseness = 1.0);

}  // namespace nightbank
