#pragma once

#include <vector>

#include "cvode.h"
#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_linearsolver.h>
#include <sundials/sundials_matrix.h>
#include <sundials/sundials_nonlinearsolver.h>

namespace nightbank::bench {

/// A state where it starts, and its size: the absolute tolerance is the relative one of that.
struct StartingState {
  double value = 0.0, size = 1.0;
};

/// What is to be solved; the functions get `data`.
struct Equations {
  CVRhsFn slopes;
  CVRootFn roots;
  int rootCount;
  void* data;
};

/// CVODE with all that it owns. Every failure: std::runtime_error.
struct Integrator {
  SUNContext context = nullptr;
  N_Vector states = nullptr, tolerances = nullptr;
  SUNMatrix matrix = nullptr;
  SUNLinearSolver linear = nullptr;
  SUNNonlinearSolver iteration = nullptr;
  void* memory = nullptr;

  Integrator(Method method, const std::vector<StartingState>& start, double tolerance,
             const Equations& equations);
  Integrator(const Integrator&) = delete;
  Integrator& operator=(const Integrator&) = delete;
  ~Integrator();

  const double* state() const { return N_VGetArrayPointer(states); }

  /// Goes on to `until_s`, or to a root before it. @returns whether it stopped at a root
  bool advance(double& time_s, double until_s);

  /// Of the roots that it stopped at: -1 where one fell through 0, 1 where it rose.
  /// @param found  room for all roots
  void rootsFound(int* found) const;

  /// Forgets what came before, after modes have changed.
  void restart(double time_s);
};

}  // namespace nightbank::bench
