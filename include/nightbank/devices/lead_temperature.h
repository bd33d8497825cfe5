#pragma once

/// What temperature does to a lead-acid battery: charge at hand, rested voltage, charge voltage.
namespace nightbank {

/// Size of a cell at a temperature against its size at 25 degC.
struct CellSizeFactor {
  double factor = 1.0;     ///< > 1 in the cold
  bool isOutside = false;  ///< outside the table: its end is taken
};

/// IEEE Std 485, table 1: 25 to 125 degF (-3.9 to 51.7 degC), straight between its rows and held
/// outside. 40 to 120 degF were seen in a program that prints the table, the ends are from memory.
/// Not the divisor of a capacity test (IEEE Std 450), and milder tables exist: one rule per bank.
/// @param temperature_degC  of the electrolyte
CellSizeFactor cellSizeFactor(double temperature_degC);

/// Share of the rated capacity that is at hand, m = min(1, 1 / factor), 0..1: warmth is not
/// credited (sizing practice of IEEE Std 1013, from memory).
double usableShare(const CellSizeFactor& factor);

/// The same from a 12 V AGM battery's data sheet, its 10 h capacity: 65, 86, 100, 103 % at -15, 0,
/// 25 and 40 degC, held outside. Not limited to 1.
double agmCapacityShare(double temperature_degC);

/// Shift of the rested voltage of 12 V (six cells) against 80 degF (26.7 degC). [V]
/// The same at every charge to within the table's millivolt, wet or gel. Straight between the rows
/// of a published table of open-circuit voltage for 12 V lead-acid batteries (an open data set), 0
/// to 120 degF (-17.8 to 48.9 degC), and held outside.
double openCircuitShift_V(double temperature_degC);

/// Charge voltage at a temperature, U + n b (T - T0). [V]
/// @param setting_V    U, at the temperature T0 that it is given for
/// @param cells        n, in series
/// @param perCell_V_K  b; makers' notes: -0.003 to -0.005, most often -0.005 (seen twice)
double compensatedCharge_V(double setting_V, double setAt_degC, double cells, double perCell_V_K,
                           double temperature_degC);

}  // namespace nightbank
