#include <cmath>
#include <ostream>
#include <set>
#include <utility>

#include <gtest/gtest.h>

#include "nightbank/units/constants.h"
#include "nightbank/units/quantity.h"

// Source: NIST Special Publication 811 (2008), appendix B.8 and footnotes, from memory. Factors
// that are exact by definition are held to the last digits of a double; the others, printed to
// seven significant digits there, to half a unit of the last.
namespace nightbank {
namespace {

constexpr double kExact = 4e-16;
constexpr double kPrinted = 5e-7;

struct Fact {
  const char* text;
  Dim dim;
  double kept;
  double relative;  // tolerance
};

void PrintTo(const Fact& fact, std::ostream* out) {
  *out << fact.text;
}

const Fact kFacts[] = {
    {"1 %", Dim::fraction, 0.01, kExact},
    {"57 %", Dim::fraction, 0.57, 0.0},
    {"1 V", Dim::voltage, 1.0, 0.0},
    {"1 mV", Dim::voltage, 1e-3, 0.0},
    {"1 kV", Dim::voltage, 1e3, 0.0},
    {"1 A", Dim::current, 1.0, 0.0},
    {"1 mA", Dim::current, 1e-3, 0.0},
    {"1 kA", Dim::current, 1e3, 0.0},
    {"1 W", Dim::power, 1.0, 0.0},
    {"1 kW", Dim::power, 1e3, 0.0},
    {"1 BTU/h", Dim::power, 2.930711e-1, kPrinted},
    {"12000 BTU/h", Dim::power, 3.516853e3, kPrinted},  // ton of refrigeration
    {"13500 BTU/h", Dim::power, 3956.459447325,
     kExact * 10},  // by hand: 13500 x 1055.05585262 / 3600
    {"1 VA", Dim::apparent, 1.0, 0.0},
    {"1 kVA", Dim::apparent, 1e3, 0.0},
    {"1 J", Dim::energy, 1.0, 0.0},
    {"1 kJ", Dim::energy, 1e3, 0.0},
    {"1 MJ", Dim::energy, 1e6, 0.0},
    {"1 Wh", Dim::energy, 3.6e3, 0.0},
    {"1 kWh", Dim::energy, 3.6e6, 0.0},
    {"1 Ah", Dim::charge, 1.0, 0.0},
    {"1 mAh", Dim::charge, 1e-3, 0.0},
    {"1 ohm", Dim::resistance, 1.0, 0.0},
    {"1 mohm", Dim::resistance, 1e-3, 0.0},
    {"0 degC", Dim::temperature, 0.0, 0.0},
    {"32 degF", Dim::temperature, 0.0, 0.0},
    {"212 degF", Dim::temperature, 100.0, kExact},
    {"-40 degF", Dim::temperature, -40.0, kExact},
    {"95 degF", Dim::temperature, 35.0, kExact},
    {"1 K", Dim::difference, 1.0, 0.0},
    {"1 degC", Dim::difference, 1.0, 0.0},
    {"1 degF", Dim::difference, 5.555556e-1, kPrinted},
    {"9 degF", Dim::difference, 5.0, kExact},
    {"1 s", Dim::duration, 1.0, 0.0},
    {"1 min", Dim::duration, 60.0, 0.0},
    {"1 h", Dim::duration, 3600.0, 0.0},
    {"1 d", Dim::duration, 86400.0, 0.0},
    {"1 m", Dim::length, 1.0, 0.0},
    {"1 cm", Dim::length, 1e-2, 0.0},
    {"1 mm", Dim::length, 1e-3, 0.0},
    {"1 km", Dim::length, 1e3, 0.0},
    {"1 ft", Dim::length, 0.3048, 0.0},
    {"1 in", Dim::length, 0.0254, 0.0},
    {"1 m2", Dim::area, 1.0, 0.0},
    {"1 cm2", Dim::area, 1e-4, 0.0},
    {"1 mm2", Dim::area, 1e-6, 0.0},
    {"1 ft2", Dim::area, 9.290304e-2, 0.0},
    {"1 in2", Dim::area, 6.4516e-4, 0.0},
    {"1 L", Dim::volume, 1e-3, 0.0},
    {"1 mL", Dim::volume, 1e-6, 0.0},
    {"1 m3", Dim::volume, 1.0, 0.0},
    {"1 kg", Dim::mass, 1.0, 0.0},
    {"1 g", Dim::mass, 1e-3, 0.0},
    {"1 lb", Dim::mass, 0.45359237, kExact},
    {"1 gal", Dim::volume, 231 * 0.0254 * 0.0254 * 0.0254, kExact * 4},  // 231 cubic inches
    {"1 L/h", Dim::volumeRate, 1e-3 / 3600, kExact},
    {"60 gal/h", Dim::volumeRate, 6.309020e-5, kPrinted},  // printed for the gallon per minute
    {"1 deg", Dim::angle, 1.0, 0.0},
    {"1 W/m2", Dim::irradiance, 1.0, 0.0},
    {"1 m/s", Dim::speed, 1.0, 0.0},
    {"1 km/h", Dim::speed, 2.777778e-1, kPrinted},
    {"1 mph", Dim::speed, 4.4704e-1, kExact},
    {"1 kn", Dim::speed, 5.144444e-1, kPrinted},
    {"1 hPa", Dim::pressure, 100.0, 0.0},
    {"1 kPa", Dim::pressure, 1000.0, 0.0},
    {"1 Pa", Dim::pressure, 1.0, 0.0},
    {"1 inHg", Dim::pressure, 3.386389e3, kPrinted},
    {"1 W/K", Dim::heatLoss, 1.0, 0.0},
    {"1 R", Dim::insulation, 0.1761102, kPrinted},  // NIST SP 811: degF h ft2/Btu, from memory
    {"1 m2K/W", Dim::insulation, 1.0, 0.0},
    {"1 kJ/K", Dim::heatCapacity, 1e3, 0.0},
    {"1 MJ/K", Dim::heatCapacity, 1e6, 0.0},
    {"1 Wh/K", Dim::heatCapacity, 3600.0, 0.0},
    {"1 L/s", Dim::airFlow, 1e-3, 0.0},
    {"1 m3/h", Dim::airFlow, 1.0 / 3600.0, kExact},
    {"1 cfm", Dim::airFlow, 4.719474e-4, kPrinted},
    {"1 BTU/h/degF", Dim::heatLoss, 1.0 / 1.895634, kPrinted},  // printed as the resistance, K/W
    {"1 dBA", Dim::soundLevel, 1.0, 0.0},
    {"1 %/K", Dim::inverseTemperature, 1e-2, 0.0},
    {"1 %/degC", Dim::inverseTemperature, 1e-2, 0.0},
    {"1 %/degF", Dim::inverseTemperature, 1.8e-2, kExact},
    {"1 1/K", Dim::inverseTemperature, 1.0, 0.0},
};

class UnitFactor : public ::testing::TestWithParam<Fact> {};

TEST_P(UnitFactor, IsAsDefined) {
  const auto [text, dim, kept, relative] = GetParam();
  const auto read = parseQuantity(text, dim);
  ASSERT_TRUE(std::holds_alternative<Quantity>(read)) << std::get<QuantityError>(read).message;
  EXPECT_NEAR(std::get<Quantity>(read).value, kept, relative * std::abs(kept));
}

INSTANTIATE_TEST_SUITE_P(OneLineFacts, UnitFactor, ::testing::ValuesIn(kFacts));

TEST(UnitFactors, EveryUnitWordHasAFact) {
  std::set<std::pair<Dim, std::string>> checked;
  for (const Fact& fact : kFacts)
    checked.emplace(fact.dim, std::get<Quantity>(parseQuantity(fact.text, fact.dim)).unit);
  for (int i = 0; i <= static_cast<int>(Dim::inverseTemperature); ++i)
    for (const std::string_view word : unitsOf(static_cast<Dim>(i)))
      EXPECT_TRUE(checked.contains({static_cast<Dim>(i), std::string(word)})) << word;
}

TEST(UnitFactors, ConstantsAreAsDefined) {
  EXPECT_EQ(kWattHour_J, 3600.0);
  EXPECT_EQ(kKilowattHour_J, 3.6e6);
  EXPECT_EQ(kDay_s, 86400.0);
  EXPECT_NEAR(1.0 / kBtuPerHour_W, 3.41214163313, 5e-12);  // BTU/h in one watt
  // A pound of water warmed by 1 degF is 1/1.8 of 4186.8 J/kg/K (international table calorie).
  EXPECT_NEAR(kBtu_J, 0.45359237 * 4186.8 / 1.8, 1e-8);
  EXPECT_NEAR(kUsGallon_m3, 231 * kInch_m * kInch_m * kInch_m, 1e-18);
  EXPECT_DOUBLE_EQ(kFoot_m, 12 * kInch_m);
  EXPECT_EQ(kLitre_m3, 1e-3);
  EXPECT_EQ(kStandardPressure_Pa, 101325.0);  // standard atmosphere
  EXPECT_EQ(kZeroCelsius_K, 273.15);
  EXPECT_NEAR(fahrenheit_degC(77.0), 25.0, 1e-14);
}

}  // namespace
}  // namespace nightbank
