#include "nightbank/devices/peukert.h"

#include <cmath>

#include "require.h"

namespace nightbank {
namespace {

using detail::requirePositive;

void requireExponent(double exponent) {
  detail::require(exponent >= 1.0 && exponent <= 2.0, "Peukert exponent", exponent, "1 to 2");
}

void requireRating(double capacity_Ah, double ratedOver_h, double exponent) {
  requirePositive("capacity", capacity_Ah);
  requirePositive("rated hours", ratedOver_h);
  requireExponent(exponent);
}

}  // namespace

double peukertRuntime_h(double capacity_Ah, double ratedOver_h, double exponent, double current_A) {
  requireRating(capacity_Ah, ratedOver_h, exponent);
  requirePositive("current", current_A);
  const double rated_A = capacity_Ah / ratedOver_h;
  if (current_A <= rated_A)
    return capacity_Ah / current_A;
  return ratedOver_h * std::pow(rated_A / current_A, exponent);
}

double peukertCapacity_Ah(double capacity_Ah, double ratedOver_h, double exponent,
                          double current_A) {
  requireRating(capacity_Ah, ratedOver_h, exponent);
  requirePositive("current", current_A);
  const double rated_A = capacity_Ah / ratedOver_h;
  if (current_A <= rated_A)
    return capacity_Ah;
  return capacity_Ah * std::pow(rated_A / current_A, exponent - 1.0);
}

double peukertOneAmpereRuntime_h(double oneAmpereCapacity_Ah, double exponent, double current_A) {
  requirePositive("capacity at 1 A", oneAmpereCapacity_Ah);
  requireExponent(exponent);
  requirePositive("current", current_A);
  return oneAmpereCapacity_Ah / std::pow(current_A, exponent);
}

double peukertExponent(double time1_h, double current1_A, double time2_h, double current2_A) {
  requirePositive("first time", time1_h);
  requirePositive("first current", current1_A);
  requirePositive("second time", time2_h);
  requirePositive("second current", current2_A);
  detail::require(current1_A != current2_A, "second current", current2_A,
                  "another current than the first");
  return std::log(time2_h / time1_h) / std::log(current1_A / current2_A);
}

double peukertRebased_Ah(double capacity_Ah, double ratedOver_h, double exponent,
                         double newOver_h) {
  requireRating(capacity_Ah, ratedOver_h, exponent);
  requirePositive("new rated hours", newOver_h);
  return capacity_Ah * std::pow(newOver_h / ratedOver_h, (exponent - 1.0) / exponent);
}

}  // namespace nightbank
