#include "cases.h"

#include <cmath>
#include <stdexcept>

#include "cvode.h"
#include "plants.h"

#include "nightbank/simulate/simulate.h"

namespace nightbank::bench {
namespace {

constexpr double kFinest = 1e-12;

/// The coarsest tolerance, two a decade, that gives the same starts and no more error.
double toleranceFor(const Case& made) {
  for (int halfDecades = 6; halfDecades <= 22; ++halfDecades) {
    const double tolerance = std::pow(10.0, -0.5 * halfDecades);
    const Totals totals = cvodeTotals(made.plant, Method::adams, tolerance);
    if (totals.starts == made.exact.starts && difference(totals, made.exact) <= made.engineError)
      return tolerance;
  }
  throw std::runtime_error("reference: no tolerance is as exact as the engine");
}

}  // namespace

Case caseWithoutReference(std::string_view text) {
  Case made;
  made.plant = plantOf(text);
  Recorder recorder = makeRecorder(made.plant);
  made.pieces = simulate(made.plant, recorder).pieces;
  made.engine = engineTotals(made.plant);
  return made;
}

Case caseOf(std::string_view text) {
  Case made = caseWithoutReference(text);
  made.exact = cvodeTotals(made.plant, Method::adams, kFinest);
  made.engineError = difference(made.engine, made.exact);
  made.equalTolerance = toleranceFor(made);
  return made;
}

}  // namespace nightbank::bench
