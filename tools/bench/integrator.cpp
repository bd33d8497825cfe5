#include "integrator.h"

#include <stdexcept>
#include <string>

#include <sundials/sundials_context.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <sunnonlinsol/sunnonlinsol_fixedpoint.h>

namespace nightbank::bench {
namespace {

void check(int flag, const char* what) {
  if (flag < 0)
    throw std::runtime_error(std::string("reference: ") + what + " failed with " +
                             std::to_string(flag));
}

void prepare(const Integrator& integrator, double tolerance, const Equations& equations) {
  void* memory = integrator.memory;
  check(CVodeInit(memory, equations.slopes, 0.0, integrator.states), "CVodeInit");
  check(CVodeSVtolerances(memory, tolerance, integrator.tolerances), "tolerances");
  check(CVodeSetUserData(memory, equations.data), "CVodeSetUserData");
  if (integrator.iteration != nullptr)
    check(CVodeSetNonlinearSolver(memory, integrator.iteration), "iteration");
  else
    check(CVodeSetLinearSolver(memory, integrator.linear, integrator.matrix), "solver");
  check(CVodeRootInit(memory, equations.rootCount, equations.roots), "CVodeRootInit");
  check(CVodeSetMaxNumSteps(memory, 1'000'000), "CVodeSetMaxNumSteps");
}

}  // namespace

Integrator::Integrator(Method method, const std::vector<StartingState>& start, double tolerance,
                       const Equations& equations) {
  check(SUNContext_Create(nullptr, &context), "SUNContext_Create");
  const auto count = static_cast<sunindextype>(start.size());
  states = N_VNew_Serial(count, context);
  tolerances = N_VNew_Serial(count, context);
  for (std::size_t i = 0; i < start.size(); ++i) {
    N_VGetArrayPointer(states)[i] = start[i].value;
    N_VGetArrayPointer(tolerances)[i] = tolerance * start[i].size;
  }
  memory = CVodeCreate(method == Method::adams ? CV_ADAMS : CV_BDF, context);
  if (method == Method::adams) {
    iteration = SUNNonlinSol_FixedPoint(states, 0, context);
  } else {
    matrix = SUNDenseMatrix(count, count, context);
    linear = SUNLinSol_Dense(states, matrix, context);
  }
  prepare(*this, tolerance, equations);
}

Integrator::~Integrator() {
  CVodeFree(&memory);
  if (iteration != nullptr)
    SUNNonlinSolFree(iteration);
  if (linear != nullptr)
    SUNLinSolFree(linear);
  if (matrix != nullptr)
    SUNMatDestroy(matrix);
  N_VDestroy(tolerances);
  N_VDestroy(states);
  SUNContext_Free(&context);
}

bool Integrator::advance(double& time_s, double until_s) {
  check(CVodeSetStopTime(memory, until_s), "CVodeSetStopTime");
  const int flag = CVode(memory, until_s, states, &time_s, CV_NORMAL);
  check(flag, "CVode");
  if (flag != CV_ROOT_RETURN)
    time_s = until_s;
  return flag == CV_ROOT_RETURN;
}

void Integrator::rootsFound(int* found) const {
  check(CVodeGetRootInfo(memory, found), "CVodeGetRootInfo");
}

void Integrator::restart(double time_s) {
  check(CVodeReInit(memory, time_s, states), "CVodeReInit");
}

}  // namespace nightbank::bench
