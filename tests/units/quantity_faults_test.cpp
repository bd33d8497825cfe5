#include <ostream>
#include <string>

#include <gtest/gtest.h>

#include "nightbank/units/quantity.h"

namespace nightbank {
namespace {

struct Case {
  const char* text;
  Dim wanted;
  const char* message;
  const char* suggestion;
};

void PrintTo(const Case& c, std::ostream* out) {
  *out << '\'' << c.text << '\'';
}

class QuantityFault : public testing::TestWithParam<Case> {};

TEST_P(QuantityFault, IsToldInFull) {
  const auto read = parseQuantity(GetParam().text, GetParam().wanted);
  const auto* error = std::get_if<QuantityError>(&read);
  ASSERT_NE(error, nullptr);
  EXPECT_EQ(error->message, GetParam().message);
  EXPECT_EQ(error->suggestion, GetParam().suggestion);
}

constexpr const char* kNoCharge = "not a number; expected a charge (Ah, mAh)";
constexpr const char* kBarePercentage = "a bare number; expected a percentage (%)";

const Case kWrongDimension[] = {
    {"5 kW", Dim::charge, "a power; expected a charge (Ah, mAh)", ""},
    {"5 kW", Dim::energy, "a power; expected an energy (Wh, kWh, J, kJ, MJ)", "5 kWh"},
    {"420 A", Dim::charge, "a current; expected a charge (Ah, mAh)", "420 Ah"},
    {"420 Ah", Dim::energy, "a charge; expected an energy (Wh, kWh, J, kJ, MJ)", ""},
    {"68 VA", Dim::power, "an apparent power; expected a power (W, kW, BTU/h)", ""},
    {"12 m", Dim::duration, "a length; expected a duration (s, min, h, d)", "12 min"},
    {"95 W", Dim::heatLoss, "a power; expected a heat loss (W/K, BTU/h/degF)", "95 W/K"},
    {"2 gal", Dim::volumeRate, "a volume; expected a rate of flow (L/h, gal/h)", "2 gal/h"},
    {"95 degF", Dim::power, "a temperature; expected a power (W, kW, BTU/h)", ""},
    {"35 degC", Dim::angle, "a temperature; expected an angle (deg)", ""},
    {"300 K", Dim::temperature, "a temperature difference; a reading takes degC or degF", ""},
    {"38.6 deg", Dim::number, "an angle; expected a bare number", "38.6"},
    {"110 %", Dim::number, "a percentage; expected a bare number", ""},
    {"4.5 V", Dim::count, "a voltage; expected a bare whole number", ""},
};

const Case kUnknownUnit[] = {
    {"5 kwh", Dim::energy, "in an unknown unit 'kwh'; expected an energy (Wh, kWh, J, kJ, MJ)",
     "5 kWh"},
    {"600 ah", Dim::charge, "in an unknown unit 'ah'; expected a charge (Ah, mAh)", "600 Ah"},
    {"600 amp-hours", Dim::charge, "in an unknown unit 'amp-hours'; expected a charge (Ah, mAh)",
     "600 Ah"},
    {"13500 BTU", Dim::power, "in an unknown unit 'BTU'; expected a power (W, kW, BTU/h)",
     "13500 BTU/h"},
    {"13500BTUs/h", Dim::power, "in an unknown unit 'BTUs/h'; expected a power (W, kW, BTU/h)",
     "13500 BTU/h"},
    {"2 MW", Dim::power, "in an unknown unit 'MW'; expected a power (W, kW, BTU/h)", ""},
    {"35 \u00b0C", Dim::temperature,
     "in an unknown unit '\u00b0C'; expected a temperature (degC, degF)", "35 degC"},
    {"95F", Dim::temperature, "in an unknown unit 'F'; expected a temperature (degC, degF)",
     "95 degF"},
    {"12 feet", Dim::length, "in an unknown unit 'feet'; expected a length (m, cm, mm, km, ft, in)",
     "12 ft"},
    {"3.5 m\u00b2", Dim::area,
     "in an unknown unit 'm\u00b2'; expected an area (m2, cm2, mm2, ft2, in2)", "3.5 m2"},
    {"800 W/m^2", Dim::irradiance, "in an unknown unit 'W/m^2'; expected an irradiance (W/m2)",
     "800 W/m2"},
    {"8 litres", Dim::volume, "in an unknown unit 'litres'; expected a volume (L, mL, m3, gal)",
     "8 L"},
    {"5 e3 W", Dim::power, "in an unknown unit 'e3 W'; expected a power (W, kW, BTU/h)", ""},
    {"5 furlongs per fortnight or thereabouts", Dim::duration,
     "in an unknown unit 'furlongs per fortnight o...'; expected a duration (s, min, h, d)", ""},
    {"5 aaaaaaaaaaaaaaaaaaaaaaa\u00e9", Dim::charge,
     "in an unknown unit 'aaaaaaaaaaaaaaaaaaaaaaa...'; expected a charge (Ah, mAh)", ""},
};

const Case kMissingUnit[] = {
    {"600", Dim::charge, "a bare number; expected a charge (Ah, mAh)", "600 Ah"},
    {"74", Dim::temperature, "a bare number; expected a temperature (degC, degF)", "74 degC"},
    {"0.95", Dim::fraction, kBarePercentage, "95 %"},
    {"0.57", Dim::fraction, kBarePercentage, "57 %"},
    {"1", Dim::fraction, kBarePercentage, "100 %"},
    {"50", Dim::fraction, kBarePercentage, "50 %"},
};

const Case kFaultyNumber[] = {
    {"", Dim::charge, "empty; expected a charge (Ah, mAh)", ""},
    {"  ", Dim::charge, "empty; expected a charge (Ah, mAh)", ""},
    {"plenty", Dim::charge, kNoCharge, ""},
    {".nan", Dim::charge, kNoCharge, ""},
    {"inf Ah", Dim::charge, kNoCharge, ""},
    {"Ah", Dim::charge, kNoCharge, ""},
    {".5 Ah", Dim::charge, kNoCharge, "0.5 Ah"},
    {"\u22125 degC", Dim::temperature, "not a number; expected a temperature (degC, degF)",
     "-5 degC"},
    {"1,500", Dim::number, "written with a comma; expected a bare number", "1500"},
    {"1,500 W", Dim::power, "written with a comma; expected a power (W, kW, BTU/h)", "1500 W"},
    {"1,234,500.5 W", Dim::power, "written with a comma; expected a power (W, kW, BTU/h)",
     "1234500.5 W"},
    {"13,500 BTU", Dim::power, "written with a comma; expected a power (W, kW, BTU/h)",
     "13500 BTU/h"},
    {"0,84 kWh", Dim::energy, "written with a comma; expected an energy (Wh, kWh, J, kJ, MJ)",
     "0.84 kWh"},
    {"1500,500 W", Dim::power, "written with a comma; expected a power (W, kW, BTU/h)",
     "1500.500 W"},
    {"1,50,0 W", Dim::power, "written with a comma; expected a power (W, kW, BTU/h)", ""},
    {"1.500,5 W", Dim::power, "not a plain number; expected a power (W, kW, BTU/h)", ""},
    {"010 Ah", Dim::charge, "written with a leading zero; expected a charge (Ah, mAh)", "10 Ah"},
    {"-007", Dim::number, "written with a leading zero; expected a bare number", "-7"},
    {"5. Ah", Dim::charge, "not a plain number; expected a charge (Ah, mAh)", "5 Ah"},
    {"1 500 W", Dim::power, "not a plain number; expected a power (W, kW, BTU/h)", "1500 W"},
    {"1500\u00a0W", Dim::power, "not a plain number; expected a power (W, kW, BTU/h)", "1500 W"},
    {"13\u202f500 W", Dim::power, "not a plain number; expected a power (W, kW, BTU/h)", "13500 W"},
    {"1500\u2009W", Dim::power, "not a plain number; expected a power (W, kW, BTU/h)", "1500 W"},
    {"- 5 degC", Dim::temperature, "not a number; expected a temperature (degC, degF)", "-5 degC"},
    {"0x10 W", Dim::power, "not a plain number; expected a power (W, kW, BTU/h)", ""},
    {"21:30", Dim::duration, "not a plain number; expected a duration (s, min, h, d)", ""},
    {"5-10 A", Dim::current, "not a plain number; expected a current (A, mA, kA)", ""},
    {"1e999 Ah", Dim::charge, "a number out of range; expected a charge (Ah, mAh)", ""},
    {"1e308 kWh", Dim::energy, "a number out of range; expected an energy (Wh, kWh, J, kJ, MJ)",
     ""},
    {"1e308", Dim::energy, "a bare number; expected an energy (Wh, kWh, J, kJ, MJ)", ""},
    {"4.5", Dim::count, "not a whole number; expected a bare whole number", ""},
};

INSTANTIATE_TEST_SUITE_P(WrongDimension, QuantityFault, testing::ValuesIn(kWrongDimension));
INSTANTIATE_TEST_SUITE_P(UnknownUnit, QuantityFault, testing::ValuesIn(kUnknownUnit));
INSTANTIATE_TEST_SUITE_P(MissingUnit, QuantityFault, testing::ValuesIn(kMissingUnit));
INSTANTIATE_TEST_SUITE_P(FaultyNumber, QuantityFault, testing::ValuesIn(kFaultyNumber));

TEST(QuantityFault, OfAHugeTextIsShort) {
  const std::string huge = "5 " + std::string(1 << 20, 'k');
  const auto read = parseQuantity(huge, Dim::charge);
  EXPECT_LT(std::get<QuantityError>(read).message.size(), 100U);
}

}  // namespace
}  // namespace nightbank
