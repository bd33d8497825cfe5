#include <cmath>
#include <limits>
#include <ostream>

#include <gtest/gtest.h>

#include "nightbank/units/constants.h"
#include "nightbank/units/quantity.h"

namespace nightbank {
namespace {

struct Shown {
  double value;
  Dim dim;
  const char* metric;
  const char* us;
};

void PrintTo(const Shown& shown, std::ostream* out) {
  *out << shown.metric;
}

const Shown kShown[] = {
    {5.2 * kKilowattHour_J, Dim::energy, "5.2 kWh", "5.2 kWh"},
    {0.843 * kKilowattHour_J, Dim::energy, "0.84 kWh", "0.84 kWh"},
    {99.96 * kWattHour_J, Dim::energy, "100 Wh", "100 Wh"},
    {42.0 * kWattHour_J, Dim::energy, "42 Wh", "42 Wh"},
    {-1.5 * kKilowattHour_J, Dim::energy, "-1.5 kWh", "-1.5 kWh"},
    {0.0, Dim::energy, "0 Wh", "0 Wh"},
    {420.0, Dim::charge, "420 Ah", "420 Ah"},
    {0.05, Dim::charge, "50 mAh", "50 mAh"},
    {13.1, Dim::current, "13.1 A", "13.1 A"},
    {13.06, Dim::current, "13.1 A", "13.1 A"},
    {0.02, Dim::current, "20 mA", "20 mA"},
    {0.0, Dim::current, "0 A", "0 A"},
    {12.75, Dim::voltage, "12.8 V", "12.8 V"},
    {0.012, Dim::voltage, "12 mV", "12 mV"},
    {1436.4, Dim::power, "1436 W", "1436 W"},
    {13500 * kBtuPerHour_W, Dim::power, "3956 W", "3956 W"},
    {12345.0, Dim::power, "12.3 kW", "12.3 kW"},
    {7560.0, Dim::apparent, "7560 VA", "7560 VA"},
    {25000.0, Dim::apparent, "25 kVA", "25 kVA"},
    {0.0021, Dim::resistance, "2.1 mohm", "2.1 mohm"},
    {1.5, Dim::resistance, "1.5 ohm", "1.5 ohm"},
    {22.22, Dim::temperature, "22.2 degC", "72 degF"},
    {35.0, Dim::temperature, "35 degC", "95 degF"},
    {-0.01, Dim::temperature, "0 degC", "32 degF"},
    {0.0, Dim::temperature, "0 degC", "32 degF"},
    {1.0, Dim::difference, "1 K", "1.8 degF"},
    {90.0, Dim::duration, "90 s", "90 s"},
    {2700.0, Dim::duration, "45 min", "45 min"},
    {72000.0, Dim::duration, "20 h", "20 h"},
    {7 * kDay_s, Dim::duration, "7 d", "7 d"},
    {0.0, Dim::duration, "0 s", "0 s"},
    {1650.0, Dim::length, "1650 m", "5413 ft"},
    {1.5, Dim::length, "1.5 m", "4.92 ft"},
    {0.05, Dim::length, "50 mm", "1.97 in"},
    {0.0, Dim::length, "0 m", "0 ft"},
    {3.5, Dim::area, "3.5 m2", "37.7 ft2"},
    {70e-6, Dim::area, "70 mm2", "0.11 in2"},
    {2.1 * kUsGallon_m3, Dim::volume, "7.95 L", "2.1 gal"},
    {0.05 * kLitre_m3, Dim::volume, "50 mL", "0.013 gal"},
    {30.7, Dim::volume, "30.7 m3", "8110 gal"},
    {0.7 * kUsGallon_m3 / kHour_s, Dim::volumeRate, "2.65 L/h", "0.7 gal/h"},
    {30.0, Dim::angle, "30 deg", "30 deg"},
    {812.3, Dim::irradiance, "812 W/m2", "812 W/m2"},
    {3.0, Dim::speed, "3 m/s", "6.71 mph"},
    {101325.0, Dim::pressure, "1013 hPa", "29.9 inHg"},
    {95.0, Dim::heatLoss, "95 W/K", "180 BTU/h/degF"},
    {1.2e6, Dim::heatCapacity, "1.2 MJ/K", "1.2 MJ/K"},
    {1.2327712, Dim::insulation, "1.23 m2K/W", "7 R"},
    {0.15, Dim::airFlow, "150 L/s", "318 cfm"},
    {-0.0035, Dim::inverseTemperature, "-0.35 %/K", "-0.19 %/degF"},
    {0.5, Dim::fraction, "50 %", "50 %"},
    {0.934, Dim::fraction, "93.4 %", "93.4 %"},
    {0.035, Dim::fraction, "3.5 %", "3.5 %"},
    {-107.9123, Dim::number, "-107.912", "-107.912"},
    {1.138, Dim::number, "1.138", "1.138"},
    {4.0, Dim::count, "4", "4"},
};

class Format : public testing::TestWithParam<Shown> {};

TEST_P(Format, SuitsTheReader) {
  const auto& [value, dim, metric, us] = GetParam();
  EXPECT_EQ(format(value, dim), metric);
  EXPECT_EQ(format(value, dim, UnitSystem::us), us);
}

INSTANTIATE_TEST_SUITE_P(OneLineFacts, Format, testing::ValuesIn(kShown));

TEST(Format, IsReadBackWithinItsRounding) {
  for (int i = 0; i <= static_cast<int>(Dim::inverseTemperature); ++i) {
    const Dim dim = static_cast<Dim>(i);
    const bool isWhole = dim == Dim::count;
    for (const UnitSystem system : {UnitSystem::metric, UnitSystem::us})
      for (double value = 1e-4; value < 1e12; value *= 1.37) {
        const double shown = isWhole ? std::floor(value) : value;
        const std::string text = format(shown, dim, system);
        const auto read = parseQuantity(text, dim);
        ASSERT_TRUE(std::holds_alternative<Quantity>(read)) << text;
        // Two significant digits at the least; a temperature to 0.05 in its own unit.
        const double rounding = dim == Dim::temperature ? 0.051 : 0.0;
        EXPECT_NEAR(std::get<Quantity>(read).value, shown, std::max(0.051 * shown, rounding))
            << text;
      }
  }
}

TEST(Format, NeverShowsWhatIsNotFinite) {
  EXPECT_EQ(format(std::nan(""), Dim::power), "unknown");
  EXPECT_EQ(format(std::numeric_limits<double>::infinity(), Dim::number), "unknown");
}

TEST(Format, StaysShortAtAnySize) {
  EXPECT_EQ(format(1e300, Dim::voltage), "1e+300 V");
  EXPECT_EQ(format(1e-300, Dim::voltage), "0 mV");
}

}  // namespace
}  // namespace nightbank
