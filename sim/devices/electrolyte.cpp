#include "nightbank/devices/electrolyte.h"

#include <array>

#include "nightbank/numerics/interpolate.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

constexpr std::array<TablePoint, 5> kGravities = {
    TablePoint{0.0, 1.120}, {0.25, 1.155}, {0.50, 1.190}, {0.75, 1.225}, {1.0, 1.265}};
constexpr double kGravitiesAt_degC = fahrenheit_degC(80.0);
constexpr double kGravityPerKelvin = -0.004 / 10.0 * 1.8;

constexpr std::array<TablePoint, 5> kFreezing_degC = {
    TablePoint{0.0, -9.4}, {0.25, -15.0}, {0.50, -26.1}, {0.75, -37.2}, {1.0, -59.5}};

}  // namespace

double specificGravity(double soc, double temperature_degC) {
  return inTable(kGravities, soc) + kGravityPerKelvin * (temperature_degC - kGravitiesAt_degC);
}

double freezingPoint_degC(double soc) {
  return inTable(kFreezing_degC, soc);
}

}  // namespace nightbank
