#pragma once

#include <array>
#include <cstddef>

/// Numbers that carry their slopes along: forward differentiation, exact to rounding. Source: the
/// chain rule; as "dual numbers" in Griewank and Walther, Evaluating Derivatives (2008), from
/// memory.
namespace nightbank {

template <std::size_t N>
struct Dual {
  double value = 0.0;
  std::array<double, N> slopes{};  ///< against each of N variables

  Dual() = default;

  Dual(double constant) : value(constant) {}  // NOLINT(google-explicit-constructor): as numbers do

  Dual(double at, const std::array<double, N>& along) : value(at), slopes(along) {}
};

/// One of the variables itself.
template <std::size_t N>
Dual<N> variable(double value, std::size_t which) {
  Dual<N> result(value);
  result.slopes[which] = 1.0;
  return result;
}

/// A function of one number, known by its value and its slope there.
template <std::size_t N>
Dual<N> chained(double value, double slope, const Dual<N>& inner) {
  Dual<N> result(value);
  for (std::size_t i = 0; i < N; ++i)
    result.slopes[i] = slope * inner.slopes[i];
  return result;
}

template <std::size_t N>
Dual<N> operator+(Dual<N> a, const Dual<N>& b) {
  a.value += b.value;
  for (std::size_t i = 0; i < N; ++i)
    a.slopes[i] += b.slopes[i];
  return a;
}

template <std::size_t N>
Dual<N> operator-(Dual<N> a, const Dual<N>& b) {
  a.value -= b.value;
  for (std::size_t i = 0; i < N; ++i)
    a.slopes[i] -= b.slopes[i];
  return a;
}

template <std::size_t N>
Dual<N> operator*(const Dual<N>& a, const Dual<N>& b) {
  Dual<N> result(a.value * b.value);
  for (std::size_t i = 0; i < N; ++i)
    result.slopes[i] = a.slopes[i] * b.value + a.value * b.slopes[i];
  return result;
}

template <std::size_t N>
Dual<N> operator/(const Dual<N>& a, const Dual<N>& b) {
  Dual<N> result(a.value / b.value);
  for (std::size_t i = 0; i < N; ++i)
    result.slopes[i] = (a.slopes[i] - result.value * b.slopes[i]) / b.value;
  return result;
}

// With plain numbers: fewer products.
template <std::size_t N>
Dual<N> operator+(Dual<N> a, double b) {
  a.value += b;
  return a;
}

template <std::size_t N>
Dual<N> operator+(double a, Dual<N> b) {
  return b + a;
}

template <std::size_t N>
Dual<N> operator-(Dual<N> a, double b) {
  a.value -= b;
  return a;
}

template <std::size_t N>
Dual<N> operator-(double a, const Dual<N>& b) {
  return chained(a - b.value, -1.0, b);
}

template <std::size_t N>
Dual<N> operator*(const Dual<N>& a, double b) {
  return chained(a.value * b, b, a);
}

template <std::size_t N>
Dual<N> operator*(double a, const Dual<N>& b) {
  return b * a;
}

template <std::size_t N>
Dual<N> operator/(const Dual<N>& a, double b) {
  return a * (1.0 / b);
}

inline double valueOf(double number) {
  return number;
}

template <std::size_t N>
double valueOf(const Dual<N>& number) {
  return number.value;
}

/// Held to a range; without slopes where that holds it.
template <class Number>
Number held(const Number& number, double low, double high) {
  if (valueOf(number) < low)
    return low;
  return valueOf(number) > high ? Number(high) : number;
}

/// The root of F(x; p) that was found at x, as a function of the numbers p that F hangs on: by the
/// implicit function theorem. Where the search was held at an end it does not move.
/// @param value  F(x; p), with the slopes against p
/// @param slope  dF/dx
inline double implicitRoot(double x, double /*value*/, double /*slope*/, double /*low*/,
                           double /*high*/) {
  return x;
}

template <std::size_t N>
Dual<N> implicitRoot(double x, const Dual<N>& value, double slope, double low, double high) {
  return x > low && x < high ? chained(x, -1.0 / slope, value) : Dual<N>(x);
}

}  // namespace nightbank
