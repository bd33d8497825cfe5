#include <algorithm>
#include <array>
#include <string>

#include "value.h"
#include <fmt/format.h>

#include "nightbank/units/constants.h"
#include "nightbank/units/quantity.h"
#include "nightbank/units/suggest.h"

namespace nightbank::scenario {
namespace {

struct Gauge {
  std::string_view size;
  double resistance_ohm_kft;
};

// NEC chapter 9 table 8, uncoated copper at 75 degC, direct current; 14 to 8 are its solid rows.
constexpr std::array kGauges = std::to_array<Gauge>({
    {"14 AWG", 3.07},
    {"12 AWG", 1.93},
    {"10 AWG", 1.21},
    {"8 AWG", 0.764},
    {"6 AWG", 0.491},
    {"4 AWG", 0.308},
    {"3 AWG", 0.245},
    {"2 AWG", 0.194},
    {"1 AWG", 0.154},
    {"1/0 AWG", 0.122},
    {"2/0 AWG", 0.0967},
    {"3/0 AWG", 0.0766},
    {"4/0 AWG", 0.0608},
});

// Nominal sizes of IEC 60228.
constexpr std::array kAreas_mm2 = {1.5,  2.5,  4.0,  6.0,   10.0,  16.0,  25.0, 35.0,
                                   50.0, 70.0, 95.0, 120.0, 150.0, 185.0, 240.0};

// Copper at 75 degC: 17.241 nohm m at 20 degC (IEC 60028), 0.00393 per kelvin.
constexpr double kCopper_ohm_m = 17.241e-9 * (1.0 + 0.00393 * 55.0);

std::string withoutBlanks(std::string_view text) {
  std::string plain(text);
  std::erase(plain, ' ');
  return plain;
}

// The nearest of the sizes that have a name.
std::string nearestSize(std::string_view text) {
  std::vector<std::string> names;
  for (const Gauge& gauge : kGauges)
    names.emplace_back(gauge.size);
  for (const double area_mm2 : kAreas_mm2)
    names.push_back(fmt::format("{} mm2", area_mm2));
  const std::vector<std::string_view> words(names.begin(), names.end());
  return nearest(text, words);
}

}  // namespace

Read<double> readWireSize(std::string_view text) {
  const std::string plain = withoutBlanks(text);
  for (const Gauge& gauge : kGauges)
    if (plain == withoutBlanks(gauge.size))
      return gauge.resistance_ohm_kft / (1000.0 * kFoot_m);
  const auto area = parseQuantity(text, Dim::area);
  const auto* read = std::get_if<Quantity>(&area);
  if (read != nullptr && read->unit == "mm2") {
    const bool isNominal = std::ranges::any_of(kAreas_mm2, [&](double area_mm2) {
      return std::abs(read->value * 1e6 - area_mm2) < 1e-6 * area_mm2;
    });
    if (isNominal)
      return kCopper_ohm_m / read->value;
  }
  return Fault{"no size of a cable; expected 14 AWG to 4/0 AWG, or 1.5 mm2 to 240 mm2",
               nearestSize(text)};
}

}  // namespace nightbank::scenario
