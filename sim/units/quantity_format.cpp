#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <string_view>

#include "unit_table.h"
#include <fmt/format.h>

#include "nightbank/units/constants.h"
#include "nightbank/units/quantity.h"

namespace nightbank {
namespace {

constexpr double kAll = std::numeric_limits<double>::infinity();
constexpr double kTenthSquareFoot_m2 = 0.009290304;

// The unit in which values of a size are shown, the size in the kept unit.
struct Shown {
  Dim dim;
  UnitSystem system;
  std::string_view unit;
  double below;
  double from = 0.0;
};

// By dimension; the first row of a dimension also shows its zero.
constexpr std::array kShown = std::to_array<Shown>({
    {Dim::fraction, UnitSystem::metric, "%", kAll},
    {Dim::voltage, UnitSystem::metric, "V", kAll, 0.1},
    {Dim::voltage, UnitSystem::metric, "mV", 0.1},
    {Dim::current, UnitSystem::metric, "A", kAll, 0.1},
    {Dim::current, UnitSystem::metric, "mA", 0.1},
    {Dim::power, UnitSystem::metric, "W", 1e4},
    {Dim::power, UnitSystem::metric, "kW", kAll, 1e4},
    {Dim::apparent, UnitSystem::metric, "VA", 1e4},
    {Dim::apparent, UnitSystem::metric, "kVA", kAll, 1e4},
    {Dim::energy, UnitSystem::metric, "Wh", 0.1 * kKilowattHour_J},
    {Dim::energy, UnitSystem::metric, "kWh", kAll, 0.1 * kKilowattHour_J},
    {Dim::charge, UnitSystem::metric, "Ah", kAll, 0.1},
    {Dim::charge, UnitSystem::metric, "mAh", 0.1},
    {Dim::resistance, UnitSystem::metric, "ohm", kAll, 1.0},
    {Dim::resistance, UnitSystem::metric, "mohm", 1.0},
    {Dim::temperature, UnitSystem::metric, "degC", kAll},
    {Dim::temperature, UnitSystem::us, "degF", kAll},
    {Dim::difference, UnitSystem::metric, "K", kAll},
    {Dim::difference, UnitSystem::us, "degF", kAll},
    {Dim::duration, UnitSystem::metric, "s", 2 * kMinute_s},
    {Dim::duration, UnitSystem::metric, "min", 2 * kHour_s, 2 * kMinute_s},
    {Dim::duration, UnitSystem::metric, "h", 4 * kDay_s, 2 * kHour_s},
    {Dim::duration, UnitSystem::metric, "d", kAll, 4 * kDay_s},
    {Dim::length, UnitSystem::metric, "m", kAll, 0.1},
    {Dim::length, UnitSystem::metric, "mm", 0.1},
    {Dim::length, UnitSystem::us, "ft", kAll, kFoot_m},
    {Dim::length, UnitSystem::us, "in", kFoot_m},
    {Dim::area, UnitSystem::metric, "m2", kAll, 0.01},
    {Dim::area, UnitSystem::metric, "mm2", 0.01},
    {Dim::area, UnitSystem::us, "ft2", kAll, kTenthSquareFoot_m2},
    {Dim::area, UnitSystem::us, "in2", kTenthSquareFoot_m2},
    {Dim::volume, UnitSystem::metric, "L", 1.0, 0.1 * kLitre_m3},
    {Dim::volume, UnitSystem::metric, "mL", 0.1 * kLitre_m3},
    {Dim::volume, UnitSystem::metric, "m3", kAll, 1.0},
    {Dim::volume, UnitSystem::us, "gal", kAll},
    {Dim::mass, UnitSystem::metric, "kg", kAll, 0.1},
    {Dim::mass, UnitSystem::metric, "g", 0.1},
    {Dim::mass, UnitSystem::us, "lb", kAll},
    {Dim::volumeRate, UnitSystem::metric, "L/h", kAll},
    {Dim::volumeRate, UnitSystem::us, "gal/h", kAll},
    {Dim::angle, UnitSystem::metric, "deg", kAll},
    {Dim::irradiance, UnitSystem::metric, "W/m2", kAll},
    {Dim::speed, UnitSystem::metric, "m/s", kAll},
    {Dim::speed, UnitSystem::us, "mph", kAll},
    {Dim::pressure, UnitSystem::metric, "hPa", kAll},
    {Dim::pressure, UnitSystem::us, "inHg", kAll},
    {Dim::heatLoss, UnitSystem::metric, "W/K", kAll},
    {Dim::heatLoss, UnitSystem::us, "BTU/h/degF", kAll},
    {Dim::heatCapacity, UnitSystem::metric, "kJ/K", 1e6},
    {Dim::heatCapacity, UnitSystem::metric, "MJ/K", kAll, 1e6},
    {Dim::insulation, UnitSystem::metric, "m2K/W", kAll},
    {Dim::insulation, UnitSystem::us, "R", kAll},
    {Dim::airFlow, UnitSystem::metric, "L/s", kAll},
    {Dim::airFlow, UnitSystem::us, "cfm", kAll},
    {Dim::inverseTemperature, UnitSystem::metric, "%/K", kAll},
    {Dim::inverseTemperature, UnitSystem::us, "%/degF", kAll},
    {Dim::soundLevel, UnitSystem::metric, "dBA", kAll},
});

const Shown* shownIn(double value, Dim dim, UnitSystem system) {
  const double size = std::abs(value);
  const auto* found = std::ranges::find_if(kShown, [&](const Shown& row) {
    return row.dim == dim && row.system == system &&
           (size == 0.0 || (size >= row.from && size < row.below));
  });
  return found == kShown.end() ? nullptr : found;
}

int decimalsOf(double shown, Dim dim) {
  constexpr int kMost = 9;  // smaller than that is what rounding left over
  const double size = std::abs(shown);
  if (size == 0.0)
    return 0;
  if (dim == Dim::temperature)
    return 1;
  if (size < 0.1)  // two significant digits
    return std::min(kMost, 1 - static_cast<int>(std::floor(std::log10(size))));
  return size < 10.0 ? 2 : size < 100.0 ? 1 : 0;
}

std::string rounded(double shown, Dim dim) {
  constexpr double kLongest = 1e9;  // from here on, digits say less than an exponent
  if (std::abs(shown) >= kLongest)
    return fmt::format("{:.3g}", shown);
  std::string text = fmt::format("{:.{}f}", shown, decimalsOf(shown, dim));
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.ends_with('.'))
      text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

}  // namespace

std::string format(double value, Dim dim, UnitSystem system) {
  if (!std::isfinite(value))
    return "unknown";
  const Shown* row = shownIn(value, dim, system);
  if (row == nullptr)
    row = shownIn(value, dim, UnitSystem::metric);
  if (row == nullptr)  // a latitude, an exponent, a count: its digits are all meant
    return fmt::format("{:.6g}", value + 0.0);
  return fmt::format("{} {}", rounded(inUnit(value, dim, row->unit), dim), row->unit);
}

}  // namespace nightbank
