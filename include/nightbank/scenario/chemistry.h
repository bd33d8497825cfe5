#pragma once

#include "nightbank/scenario/scenario.h"

/// What the words for a bank's chemistry stand for.
namespace nightbank::scenario {

/// Cells in series behind a printed voltage: lead 2 V each, LFP 3.2 V each. From 12 V up the
/// printed voltages come in steps of a 12 V battery, however the label rounds them: 12 and 12.8 V
/// are 4 cells of LFP, 24 and 25.6 V are 8, 48 and 51.2 V are 16.
/// @returns 0 where no battery has that voltage
int seriesCells(Chemistry chemistry, double voltage_V);

/// Batteries of 12 V (6 cells of lead, 4 of LFP) in series: the factor for voltages that are known
/// per 12 V. 0.5 for a battery of 6 V; 0 where seriesCells() is.
double twelveVoltUnits(Chemistry chemistry, double voltage_V);

/// Rested voltage of a full 12 V battery; of LFP at 99 %, below the steep end of the curve.
/// Source: as devices/ocv.h. [V]
double fullPerUnit_V(Chemistry chemistry);

}  // namespace nightbank::scenario
