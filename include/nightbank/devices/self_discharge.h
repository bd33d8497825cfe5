#pragma once

/// Charge that a battery loses while nothing is connected.
///
///     ds/dt = -r s     r = -ln(1 - p) / 30 d     p lost in a month
///
/// Data sheets: AGM 3 % a month at 20 degC (seen three times), LFP under 3 %; flooded 5 to 15 %,
/// twice as fast for every 10 degC (both from memory).
namespace nightbank {

/// @param lostPerMonth  p, share of what is there, 0 to below 1
/// @returns r [1/s]
/// @throws std::invalid_argument outside its range
double selfDischargeRate_1_s(double lostPerMonth);

/// The rate at another temperature, doubling per 10 degC from that of the figure.
double warmedRate_1_s(double rate_1_s, double ratedAt_degC, double temperature_degC);

/// What is left of a charge after `span_s`. In the unit of `charge`. @param span_s  >= 0
double afterSelfDischarge(double charge, double rate_1_s, double span_s);

}  // namespace nightbank
