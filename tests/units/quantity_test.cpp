#include "nightbank/units/quantity.h"

#include <array>
#include <cmath>
#include <cstdint>
#include <stdexcept>
#include <string>

#include <gtest/gtest.h>

namespace nightbank {
namespace {

constexpr int kDimensions = static_cast<int>(Dim::inverseTemperature) + 1;

// NaN where the text is refused: equal to nothing.
double valueOf(std::string_view text, Dim dim) {
  const auto read = parseQuantity(text, dim);
  const auto* quantity = std::get_if<Quantity>(&read);
  return quantity == nullptr ? std::nan("") : quantity->value;
}

bool isRefused(std::string_view text, Dim dim) {
  return std::holds_alternative<QuantityError>(parseQuantity(text, dim));
}

TEST(Quantity, ReadsPlainNumbersOfEveryForm) {
  EXPECT_EQ(valueOf("600 Ah", Dim::charge), 600.0);
  EXPECT_EQ(valueOf("600Ah", Dim::charge), 600.0);
  EXPECT_EQ(valueOf("  600   Ah ", Dim::charge), 600.0);
  EXPECT_EQ(valueOf("+13.1 A", Dim::current), 13.1);
  EXPECT_EQ(valueOf("-5 degC", Dim::temperature), -5.0);
  EXPECT_EQ(valueOf("0 W", Dim::power), 0.0);
  EXPECT_EQ(valueOf("0.5 V", Dim::voltage), 0.5);
  EXPECT_EQ(valueOf("1.5e3 W", Dim::power), 1500.0);
  EXPECT_EQ(valueOf("15E+2W", Dim::power), 1500.0);
  EXPECT_EQ(valueOf("1e-3 ohm", Dim::resistance), 1e-3);
  EXPECT_DOUBLE_EQ(valueOf("-0.35 %/K", Dim::inverseTemperature), -0.0035);
  EXPECT_EQ(valueOf("0.004 1/K", Dim::inverseTemperature), 0.004);
  EXPECT_EQ(valueOf("95 %", Dim::fraction), 0.95);
  EXPECT_EQ(valueOf("230 %", Dim::fraction), 2.3);  // the range is the field's business
  EXPECT_FALSE(std::signbit(valueOf("-0 A", Dim::current)));
}

TEST(Quantity, ReadsBareNumbersAndCounts) {
  EXPECT_EQ(valueOf("-107.9", Dim::number), -107.9);
  EXPECT_EQ(valueOf("1.11", Dim::number), 1.11);
  EXPECT_EQ(valueOf("4", Dim::count), 4.0);
  EXPECT_EQ(valueOf("2e3", Dim::count), 2000.0);
  EXPECT_TRUE(isRefused("4.5", Dim::count));
  EXPECT_TRUE(isRefused("1e300", Dim::count));
}

TEST(Quantity, KeepsTheUnitAsTyped) {
  EXPECT_EQ(std::get<Quantity>(parseQuantity("13500 BTU/h", Dim::power)).unit, "BTU/h");
  EXPECT_EQ(std::get<Quantity>(parseQuantity("95degF", Dim::temperature)).unit, "degF");
  EXPECT_EQ(std::get<Quantity>(parseQuantity("4", Dim::count)).unit, "");
}

TEST(Quantity, LevelsAndDifferencesOfTemperatureScaleApart) {
  EXPECT_NEAR(valueOf("77 degF", Dim::temperature), 25.0, 1e-14);
  EXPECT_NEAR(valueOf("18 degF", Dim::difference), 10.0, 1e-14);
  EXPECT_EQ(valueOf("10 degC", Dim::difference), 10.0);
  EXPECT_TRUE(isRefused("300 K", Dim::temperature));
}

TEST(Quantity, CaseMatters) {
  EXPECT_TRUE(isRefused("5 kwh", Dim::energy));
  EXPECT_TRUE(isRefused("5 KW", Dim::power));
  EXPECT_TRUE(isRefused("5 mW", Dim::power));
  EXPECT_TRUE(isRefused("5 l", Dim::volume));
}

TEST(Quantity, RefusesWhatIsNoPlainFiniteNumber) {
  for (const char* number : {"",           " ",        "abc",
                             "W",          "-",        "+",
                             ".",          "e3",       "010",
                             "-007",       "00",       "0x10",
                             "0X1F",       ".5",       "5.",
                             "1,500",      "1.2.3",    "1_000",
                             "1 500",      "1'500",    "--5",
                             "+-5",        "- 5",      "5-10",
                             "5 +",        "21:30",    "5/8",
                             "2026-07-14", ".nan",     ".inf",
                             "nan",        "NaN",      "inf",
                             "-inf",       "Infinity", "nan(1)",
                             "1e999",      "-1e999",   "1e99999999999999999999",
                             "1e-999",     "~",        "null",
                             "yes",        "1e",       "1e+",
                             "1d3",        "\u0665",   "\u22125"}) {
    EXPECT_TRUE(isRefused(number, Dim::number)) << number;
    EXPECT_TRUE(isRefused(std::string(number) + " W", Dim::power)) << number;
    EXPECT_TRUE(isRefused(std::string(number) + " %", Dim::fraction)) << number;
  }
}

TEST(Quantity, StaysFiniteAndNotLostInTheKeptUnit) {
  EXPECT_EQ(valueOf("1e308 W", Dim::power), 1e308);
  EXPECT_TRUE(isRefused("1e308 kW", Dim::power));
  EXPECT_DOUBLE_EQ(valueOf("1e-300 mA", Dim::current), 1e-303);
  EXPECT_TRUE(isRefused("4e-324 mA", Dim::current));
  EXPECT_EQ(valueOf("0e999 W", Dim::power), 0.0);
}

TEST(Quantity, ReturnsToTheTypedUnit) {
  for (int i = 0; i < kDimensions; ++i) {
    const Dim dim = static_cast<Dim>(i);
    for (const std::string_view unit : unitsOf(dim))
      for (const char* number : {"-40", "0.037", "1", "7.5", "13500"}) {
        const double typed = valueOf(number, Dim::number);
        const double kept = valueOf(std::string(number) + " " + std::string(unit), dim);
        EXPECT_NEAR(inUnit(kept, dim, unit), typed, 2e-14 * std::max(32.0, std::abs(typed)))
            << unit;
      }
  }
  EXPECT_EQ(inUnit(4.0, Dim::count, ""), 4.0);
}

TEST(Quantity, NoUnitOfTheDimensionIsAnErrorOfTheProgram) {
  EXPECT_THROW(inUnit(1.0, Dim::charge, "kWh"), std::invalid_argument);
  EXPECT_THROW(inUnit(1.0, Dim::charge, ""), std::invalid_argument);
  EXPECT_THROW(inUnit(1.0, Dim::number, "V"), std::invalid_argument);
  EXPECT_THROW(inUnit(1.0, Dim::temperature, "K"), std::invalid_argument);
}

TEST(Quantity, DimensionsDescribeThemselves) {
  EXPECT_EQ(describe(Dim::charge), "a charge (Ah, mAh)");
  EXPECT_EQ(describe(Dim::energy), "an energy (Wh, kWh, J, kJ, MJ)");
  EXPECT_EQ(describe(Dim::temperature), "a temperature (degC, degF)");
  EXPECT_EQ(describe(Dim::difference), "a temperature difference (K, degC, degF)");
  EXPECT_EQ(describe(Dim::fraction), "a percentage (%)");
  EXPECT_EQ(describe(Dim::number), "a bare number");
  EXPECT_EQ(describe(Dim::count), "a bare whole number");
  EXPECT_EQ(unitsOf(Dim::volume).front(), "L");
  EXPECT_TRUE(unitsOf(Dim::count).empty());
}

// Texts put together from scraps of numbers and units: never a crash, never a value that is not
// finite, and what is proposed can always be read.
TEST(Quantity, AnyTextGivesAFiniteValueOrAReason) {
  const std::array<std::string_view, 40> scraps = {
      "0",   "1",    "5",      "9",      "10",     "500",  ".",    ",",   "-",   "+",
      "e",   "E",    " ",      "x",      "_",      "'",    "/",    "%",   "A",   "Ah",
      "kwh", "W/m2", "V",      "BTU",    "/h",     "deg",  "C",    "K",   "1/",  "m",
      "gal", "min",  "\u00b0", "\u00a0", "\u2212", "\xff", "\xc2", "nan", "inf", "1e308"};
  std::uint32_t state = 20260718;
  const auto next = [&state](std::size_t below) {
    state = state * 1664525U + 1013904223U;
    return static_cast<std::size_t>(state >> 8) % below;
  };
  int readCount = 0;
  for (int i = 0; i < 100000; ++i) {
    std::string text;
    for (std::size_t left = 1 + next(6); left > 0; --left)
      text += scraps.at(next(scraps.size()));
    const Dim dim = static_cast<Dim>(next(kDimensions));
    const auto read = parseQuantity(text, dim);
    if (const auto* quantity = std::get_if<Quantity>(&read)) {
      ++readCount;
      ASSERT_TRUE(std::isfinite(quantity->value)) << text;
      continue;
    }
    const auto& error = std::get<QuantityError>(read);
    ASSERT_FALSE(error.message.empty()) << text;
    if (!error.suggestion.empty()) {
      ASSERT_FALSE(isRefused(error.suggestion, dim)) << text << " -> " << error.suggestion;
    }
  }
  EXPECT_GT(readCount, 250);
}

}  // namespace
}  // namespace nightbank
