#pragma once

#include <span>
#include <string>
#include <vector>

#include "nightbank/report/text.h"
#include "nightbank/study/night_numbers.h"

/// Nights as rows of numbers, shared by comparisons, sweeps and sizing. Private to the room.
namespace nightbank::report {

struct NumberRows {
  std::vector<Column> columns;
  std::vector<Cells> rows;
  std::string legend;  ///< of the columns that are there, "floor: hours carried to it; ..."
};

/// Columns that are zero in every row are left out.
/// @param all  at least one
NumberRows numberRows(std::span<const NightNumbers> all, UnitSystem units);

/// "+1.2 h", "-0.43 kWh", "+0 h": the change to two digits, with its sign.
std::string hoursChange(double by_s);

/// What one night does better or worse than another: "+0 h to the floor, +0.3 kWh to spare; engine
/// -1.2 h, -2 starts, -1.4 L". The hours are always there.
std::string changeText(const NightNumbers& from, const NightNumbers& to, UnitSystem units);

/// "holds with 12 % (0.5 kWh) to spare", "fails, short by 0.4 kWh"
std::string levelAndMargin(const NightNumbers& numbers);

}  // namespace nightbank::report
