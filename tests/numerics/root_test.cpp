#include "nightbank/numerics/root.h"

#include <cmath>
#include <limits>
#include <optional>
#include <ostream>

#include <gtest/gtest.h>

namespace nightbank {
namespace {

struct Problem {
  const char* name;
  double (*f)(double);
  double a, b;
  double root;
  int calls;  // no more than these, at the finest tolerance tried
};

void PrintTo(const Problem& problem, std::ostream* out) {
  *out << problem.name;
}

double kinked(double x) {
  return x < 50 ? -0.1 - 1e-3 * (50 - x) : x < 60 ? -0.1 + 1e-3 * (x - 50) : -0.09 + 3 * (x - 60);
}

// The constants are published to more digits than a double holds (all from memory): the cubic is
// Wallis's (1685), 2.0945514815423265915; x = cos x at 0.73908513321516064166 (Kaplan, "The Dottie
// number", Mathematics Magazine 80 (2007)); x exp(x) = 1 at 0.56714329040978387300 (Abramowitz and
// Stegun 4.2 and handbook tables of Lambert's W). The others have their zero by construction.
const Problem kProblems[] = {
    {"line", [](double x) { return x - 123.456; }, 0, 300, 123.456, 2},
    {"falling line", [](double x) { return 7 - x; }, 0, 300, 7, 2},
    {"wallis cubic", [](double x) { return x * x * x - 2 * x - 5; }, 2, 3, 2.0945514815423265, 8},
    {"cosine", [](double x) { return std::cos(x) - x; }, 0, 1, 0.7390851332151607, 8},
    {"lambert", [](double x) { return x * std::exp(x) - 1; }, 0, 1, 0.5671432904097838, 9},
    {"square root of two", [](double x) { return x * x - 2; }, 0, 300, 1.4142135623730951, 20},
    {"decay", [](double x) { return std::exp(-x / 120) - 0.5; }, 0, 300, 83.17766166719343, 10},
    {"steep decay", [](double x) { return std::exp(-x / 5) - 1e-3; }, 0, 300, 34.538776394910684,
     20},
    {"flat, cubic", [](double x) { return std::pow((x - 100) / 300, 3); }, 0, 300, 100, 55},
    {"flat, ninth power", [](double x) { return std::pow((x - 100) / 300, 9); }, 0, 300, 100, 55},
    {"steep", [](double x) { return std::tanh(1e6 * (x - 77.7)); }, 0, 300, 77.7, 55},
    {"kink", kinked, 0, 300, 60.03, 55},
    {"step", [](double x) { return x < 77.7 ? -1.0 : 1000.0; }, 0, 300, 77.7, 55},
    {"flat, then up", [](double x) { return x < 250 ? -1e-12 : x - 250 - 1e-12; }, 0, 300, 250, 55},
    {"backwards", [](double x) { return x * x - 2; }, 300, 0, 1.4142135623730951, 30},
};

class Root : public testing::TestWithParam<Problem> {};

TEST_P(Root, IsEnclosedFromTheFarSide) {
  const auto& [name, f, a, b, root, mostCalls] = GetParam();
  for (const double tolerance : {1.0, 1e-3, 1e-6, 1e-9}) {
    int calls = 0;
    const auto counted = [&calls, f = f, lowest = std::min(a, b),
                          highest = std::max(a, b)](double x) {
      ++calls;
      EXPECT_TRUE(x > lowest && x < highest);
      return f(x);
    };
    const double found = bracketedRoot(counted, a, f(a), b, f(b), tolerance);
    EXPECT_GT(f(found) * f(b), 0.0) << "tolerance " << tolerance;
    EXPECT_LE(std::abs(found - root), tolerance * 1.0001 + 1e-12) << "tolerance " << tolerance;
    EXPECT_GE((found - root) * (b - a), -1e-12 * std::abs(b - a));
    EXPECT_LE(calls, mostCalls) << "tolerance " << tolerance;
  }
}

INSTANTIATE_TEST_SUITE_P(Problems, Root, testing::ValuesIn(kProblems));

TEST(Root, AZeroAtTheFarEndIsThatEnd) {
  const auto never = [](double) -> double { throw 1; };
  EXPECT_EQ(bracketedRoot(never, 0.0, -1.0, 5.0, 0.0, 1e-6), 5.0);
}

TEST(Root, AZeroAtTheNearEndIsJustPassed) {
  const auto f = [](double x) {
    EXPECT_GT(x, 0.0);
    return x;
  };
  const double found = bracketedRoot(f, 0.0, 0.0, 5.0, 5.0, 1e-6);
  EXPECT_GT(found, 0.0);
  EXPECT_LE(found, 1e-6);
}

TEST(Root, ABracketWithinTheToleranceNeedsNoCall) {
  const auto never = [](double) -> double { throw 1; };
  EXPECT_EQ(bracketedRoot(never, 0.0, -1.0, 1e-7, 1.0, 1e-6), 1e-7);
}

TEST(Root, EndsWhereTheToleranceIsFinerThanDoubles) {
  int calls = 0;
  const auto f = [&calls](double x) { return ++calls, x < 1e6 / 3 ? -1.0 : 1.0; };
  const double found = bracketedRoot(f, 0.0, -1.0, 1e6, 1.0, 1e-300);
  EXPECT_LE(calls, 100);
  EXPECT_NEAR(found, 1e6 / 3, 1e-8);
}

// Far everywhere, with values that turn every other step into one of the least length.
TEST(Root, ClosesOnWhateverTheValuesAre) {
  constexpr double kTolerance = 1e-14;  // of 300: 55 halvings
  int calls = 0;
  const auto f = [&calls](double) { return ++calls % 2 == 1 ? 1e-12 : 1.0; };
  EXPECT_LE(bracketedRoot(f, 0.0, -1.0, 300.0, 1.0, kTolerance), kTolerance);
  EXPECT_LE(calls, 100);
  EXPECT_GT(calls, 60);
}

TEST(Root, NotANumberCountsAsNotYet) {
  const auto f = [](double x) { return x < 2.0 ? std::nan("") : 1.0; };
  EXPECT_NEAR(bracketedRoot(f, 0.0, -1.0, 5.0, 1.0, 1e-6), 2.0, 1e-6);
}

struct Fall {
  const char* name;
  Sloped (*f)(double);
  double root;
  int calls;  // no more than these, from the far end, to 1e-6
};

Sloped decay(double x) {
  const double e = std::exp(-x / 120);
  return {e - 0.5, -e / 120};
}

// Zeros by construction; that of the decay is 120 ln 2.
const Fall kFalls[] = {
    {"line",
     [](double x) {
       return Sloped{123.456 - x, -1.0};
     },
     123.456, 2},
    {"decay", decay, 83.17766166719343, 7},
    {"kink",
     [](double x) {
       return x < 60 ? Sloped{90 - x, -1.0} : Sloped{90 - x - 3 * (x - 60), -4.0};
     },
     67.5, 4},
    {"slope unknown",
     [](double x) {
       return Sloped{77.7 - x, std::nan("")};
     },
     77.7, 60},
    {"slope of the wrong sign",
     [](double x) {
       return Sloped{77.7 - x, 1.0};
     },
     77.7, 60},
};

TEST(FallBySlope, IsJustPastTheZero) {
  for (const auto& [name, f, root, mostCalls] : kFalls) {
    SCOPED_TRACE(name);
    for (const double guess : {300.0, 150.0, 1.0}) {
      int calls = 0;
      const auto counted = [&calls, f = f](double x) {
        ++calls;
        EXPECT_TRUE(x > 0.0 && x <= 300.0);
        return f(x);
      };
      const std::optional<double> found = fallBySlope(counted, 0.0, 300.0, guess, 1e-6);
      ASSERT_TRUE(found);
      EXPECT_LE(f(*found).value, 0.0);
      EXPECT_NEAR(*found, root, 1.1e-6);
      EXPECT_LE(calls, mostCalls);
    }
  }
}

TEST(FallBySlope, NothingWhereItDoesNotFall) {
  EXPECT_FALSE(fallBySlope(
      [](double x) {
        return Sloped{301.0 - x, -1.0};
      },
      0.0, 300.0, 40.0, 1e-6));
  EXPECT_FALSE(fallBySlope([](double) { return Sloped{1.0, 0.0}; }, 0.0, 300.0, 300.0, 1e-6));
  EXPECT_FALSE(fallBySlope(
      [](double) {
        return Sloped{std::nan(""), 0.0};
      },
      0.0, 300.0, 40.0, 1e-6));
}

}  // namespace
}  // namespace nightbank
