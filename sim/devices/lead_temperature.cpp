#include "nightbank/devices/lead_temperature.h"

#include <algorithm>
#include <array>

#include "nightbank/numerics/interpolate.h"

namespace nightbank {
namespace {

constexpr std::array<TablePoint, 22> kCellSizes = {
    TablePoint{25, 1.52}, {30, 1.43},  {35, 1.35},  {40, 1.30},  {45, 1.25},  {50, 1.19},
    {55, 1.15},           {60, 1.11},  {65, 1.08},  {68, 1.056}, {70, 1.04},  {77, 1.00},
    {80, 0.98},           {85, 0.96},  {90, 0.94},  {95, 0.93},  {100, 0.91}, {105, 0.89},
    {110, 0.88},          {115, 0.87}, {120, 0.86}, {125, 0.85}};  // degF

constexpr std::array<TablePoint, 4> kAgmCapacities = {
    TablePoint{-15, 0.65}, {0, 0.86}, {25, 1.00}, {40, 1.03}};  // degC

constexpr std::array<TablePoint, 8> kShifts_V = {TablePoint{0, -0.134}, {30, -0.062}, {40, -0.044},
                                                 {50, -0.028},          {60, -0.016}, {80, 0.0},
                                                 {100, 0.008},          {120, 0.013}};

// The printed rows are whole degrees Fahrenheit.
double level_degF(double level_degC) {
  return level_degC * 1.8 + 32.0;
}

}  // namespace

CellSizeFactor cellSizeFactor(double temperature_degC) {
  constexpr double kRounding_degF = 1e-9;
  const double degF = level_degF(temperature_degC);
  const bool isInside =
      degF >= kCellSizes.front().x - kRounding_degF && degF <= kCellSizes.back().x + kRounding_degF;
  return {.factor = inTable(kCellSizes, degF), .isOutside = !isInside};
}

double usableShare(const CellSizeFactor& factor) {
  return std::min(1.0, 1.0 / factor.factor);
}

double agmCapacityShare(double temperature_degC) {
  return inTable(kAgmCapacities, temperature_degC);
}

double openCircuitShift_V(double temperature_degC) {
  return inTable(kShifts_V, level_degF(temperature_degC));
}

double compensatedCharge_V(double setting_V, double setAt_degC, double cells, double perCell_V_K,
                           double temperature_degC) {
  return setting_V + cells * perCell_V_K * (temperature_degC - setAt_degC);
}

}  // namespace nightbank
