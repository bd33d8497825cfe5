#pragma once

/// Outdoor temperature over a design day, given by its high and its low.
/// Arguments outside the ranges named or not finite: std::invalid_argument.
namespace nightbank {

/// Share of the daily range by which the air is below its high, 0 (14 h and 15 h) to 1 (5 h).
///
/// Source: ASHRAE Handbook - Fundamentals (2021), ch. 14, table 6: 24 values at whole hours of
/// apparent solar time; between them a straight line. Its mean is 0.53625: the mean of a day lies
/// below the middle of high and low.
/// @param solarTime_h any; repeats every 24 h
double designDayShare(double solarTime_h);

/// high - share (high - low). [degC], low..high
/// @param low_degC not above high_degC
double designDayTemperature_degC(double high_degC, double low_degC, double solarTime_h);

/// The same at a share that is known.
double temperatureAtShare_degC(double high_degC, double low_degC, double share);

/// Sundial time at a local clock time. [h], 0 <= h < 24
/// @param local_s      on the scenario's clock, seconds since 1970-01-01 00:00
/// @param utcOffset_s  local minus UTC
double apparentSolarTime_h(double local_s, double utcOffset_s, double longitude_deg);

}  // namespace nightbank
