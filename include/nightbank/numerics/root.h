#pragma once

#include <cassert>
#include <cmath>
#include <optional>

namespace nightbank {

namespace detail {

/// Where the inverse parabola through three points is zero, as a share of the way from x1 to x2; a
/// half where it is not to be trusted between them. x1 and x2 bracket the zero.
inline double shareOfStep(double x1, double f1, double x2, double f2, double x3, double f3) {
  const double xi = (x1 - x2) / (x3 - x2);
  const double phi = (f1 - f2) / (f3 - f2);
  const bool isTrusted = phi * phi < xi && (1.0 - phi) * (1.0 - phi) < 1.0 - xi;
  if (!isTrusted)
    return 0.5;
  return f1 / (f2 - f1) * f3 / (f2 - f3) + (x3 - x1) / (x2 - x1) * f1 / (f3 - f1) * f2 / (f3 - f2);
}

/// Held away from both ends by `least`; NaN ends at `least`.
inline double heldInside(double share, double least) {
  if (share > 1.0 - least)
    return 1.0 - least;
  return share > least ? share : least;
}

}  // namespace detail

/// Locates a change of sign of f between `a` and `b` and returns the far end of the final bracket:
/// the side on which f has the sign of `fb`, so that an event located there has certainly happened.
///
/// Each step is an inverse quadratic one where the last three points allow it, else a halving
/// (Chandrupatla, "A new hybrid quadratic/bisection algorithm for finding the zero of a nonlinear
/// function without using derivatives", Advances in Engineering Software 28 (1997) 145-149); here
/// the first one is the secant. No step is shorter than nearly half of the tolerance, so the
/// bracket closes from both sides: a straight line takes two calls. A function can spoil every
/// other step; from the 50th call on only halving is left. No allocation.
///
/// @param f   double(double), called strictly between a and b; need not be continuous. A zero or a
///            NaN inside counts as "not yet".
/// @param a   near end; may be above b
/// @param fa  f(a), of the other sign than fb, or zero
/// @param b   far end
/// @param fb  f(b); where it is zero, b is returned
/// @param toleranceX  > 0; the bracket that is left is at most this wide, or about 2^-49 of
///                    the first
template <class F>
double bracketedRoot(F&& f, double a, double fa, double b, double fb, double toleranceX) {
  constexpr int kMostCalls = 100;
  constexpr int kCallsBeforeHalving = 50;
  constexpr double kLeastStep = 0.45;  // of the tolerance; two of them still fit into it
  const auto isFar = [fb](double value) { return fb > 0.0 ? value > 0.0 : value < 0.0; };
  if (fb == 0.0)
    return b;
  assert(toleranceX > 0.0 && !isFar(fa));
  // The latest point, the other end of the bracket, and the point that was dropped last.
  double x1 = b, f1 = fb, x2 = a, f2 = fa, x3 = a, f3 = fa;
  double share = f1 / (f1 - f2);  // of the way from x1 to x2
  for (int call = 0; call < kMostCalls && std::abs(x2 - x1) > toleranceX; ++call) {
    const double least = kLeastStep * toleranceX / std::abs(x2 - x1);
    const double x = x1 + detail::heldInside(share, least) * (x2 - x1);
    const double fx = f(x);
    const bool sameSide = isFar(fx) == isFar(f1);
    x3 = sameSide ? x1 : x2;
    f3 = sameSide ? f1 : f2;
    if (!sameSide) {
      x2 = x1;
      f2 = f1;
    }
    x1 = x;
    f1 = fx;
    share = call < kCallsBeforeHalving ? detail::shareOfStep(x1, f1, x2, f2, x3, f3) : 0.5;
  }
  return isFar(f1) ? x1 : x2;
}

/// A value, and how fast it changes there.
struct Sloped {
  double value, slope;
};

/// Locates where f, above zero at `near`, has fallen to zero by `far`, from its slope: Newton's
/// steps, each aimed half a tolerance past the zero, and a halving where one leaves the bracket.
/// Returns a point at which f is zero or below, at most `tolerance` past the zero as far as the
/// slope there tells; nothing where a step leads past `far` and f is above zero there. Newton's
/// method: any textbook, e.g. Press et al., "Numerical Recipes" (3rd ed.), section 9.4 (from
/// memory). No allocation.
///
/// @param f      Sloped(double), called in (near, far]
/// @param guess  where to begin, in (near, far]
template <class F>
std::optional<double> fallBySlope(F&& f, double near, double far, double guess, double tolerance) {
  constexpr int kMostCalls = 100;
  constexpr int kCallsBeforeHalving = 30;
  bool hasFallen = false;
  double x = guess;
  for (int call = 0; call < kMostCalls; ++call) {
    const Sloped here = f(x);
    const double step = -here.value / here.slope;
    if (here.value <= 0.0) {
      far = x;
      hasFallen = true;
      if (step <= 0.0 && step >= -tolerance)
        return far;
    } else if (x == far) {
      return std::nullopt;
    } else {
      near = x;
    }
    if (hasFallen && far - near <= tolerance)
      return far;
    const double next = x + step + 0.5 * tolerance;
    const bool isInside = next > near && next < far && call < kCallsBeforeHalving;
    if (isInside)
      x = next;
    else
      x = hasFallen ? 0.5 * (near + far) : far;
  }
  return hasFallen ? std::optional(far) : std::nullopt;
}

}  // namespace nightbank
