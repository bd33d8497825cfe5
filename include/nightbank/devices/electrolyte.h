#pragma once

/// The acid of a flooded lead-acid battery. Rows at 100, 75, 50, 25 and 0 % of charge, 80 degF:
/// 1.265, 1.225, 1.190, 1.155, 1.120 specific gravity; freezing at -59.5, -37.2, -26.1, -15.0, -9.4
/// degC. Source: US Army TM 5-4210-230-14&P-1 table 2. Straight between the rows, held outside.
namespace nightbank {

/// Specific gravity as a hydrometer shows it, falling by 0.004 per 10 degF of warmth (the same
/// table, and a data set that holds it in every row).
/// @param soc  0..1
double specificGravity(double soc, double temperature_degC);

/// Where the electrolyte begins to freeze, which can burst the case. [degC]
double freezingPoint_degC(double soc);

}  // namespace nightbank
