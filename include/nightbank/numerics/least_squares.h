#pragma once

#include <functional>
#include <limits>
#include <span>
#include <vector>

/// Nonlinear least squares within bounds.
namespace nightbank {

using Numbers = std::vector<double>;

/// Residuals at several points, one list each, all of one length. Several at a time, so that the
/// columns of a derivative may be worked out beside each other. What cannot be worked out at a
/// point is told by a residual that is not finite: the step is not taken.
using ResidualsAt = std::function<std::vector<Numbers>(std::span<const Numbers> points)>;

/// A parameter: its bounds, and a change that is small for it and yet well above the noise of the
/// residuals.
struct SearchBound {
  double low, high;
  double scale;  ///< > 0, typical size of a change; steps of the derivative are a share of it
};

struct LeastSquaresOptions {
  int mostSteps = 60;
  double tolerance = 1e-9;       ///< relative change of the sum of squares, and of scaled steps
  double derivativeStep = 1e-4;  ///< share of the scale, to both sides
  /// Residuals beyond this count less and less (Huber); infinite: plain least squares.
  double robustFrom = std::numeric_limits<double>::infinity();
};

struct LeastSquaresFit {
  Numbers x;
  Numbers residuals;           ///< not weighted
  Numbers weights;             ///< of each, 0..1: 1 but for spikes
  std::vector<Numbers> slope;  ///< [parameter][residual], of the residuals, not weighted
  double halfSquares = 0.0;    ///< loss
  int steps = 0;
  bool converged = false;
};

/// Levenberg-Marquardt with the damping of K. Madsen, H. B. Nielsen, O. Tingleff, "Methods for
/// non-linear least squares problems" (IMM, Technical University of Denmark, 2nd edition 2004),
/// algorithm 3.16, on parameters divided by their scales; a parameter at a bound that would leave
/// it is held there for the step. Huber's loss by weights: P. J. Huber, "Robust estimation of a
/// location parameter", Annals of Mathematical Statistics 35 (1964) 73-101.
/// @param x       start, within the bounds
/// @throws std::invalid_argument where residuals at the start are not finite
LeastSquaresFit leastSquares(const ResidualsAt& residualsAt, Numbers x,
                             std::span<const SearchBound> bounds,
                             const LeastSquaresOptions& options = {});

/// What the slopes say of the parameters together.
struct Identified {
  Numbers singularValues;     ///< falling, of the weighted slopes times scale
  std::vector<Numbers> axes;  ///< [value][parameter], of length 1, in scaled parameters
  std::vector<Numbers>
      covariance;  ///< of x for residuals of variance 1; wide along what is not told
};

/// Covariance (J'WJ)^-1 of the parameters by singular values of the scaled slopes.
/// @param slope    [parameter][residual]
/// @param weights  of the residuals
Identified identified(const std::vector<Numbers>& slope, const Numbers& weights,
                      std::span<const SearchBound> bounds);

}  // namespace nightbank
