#include "nightbank/numerics/quantile.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

namespace nightbank {
namespace {

// Wichura's own test values for the routine in double precision (from memory).
TEST(PublishedQuantile, TestValuesOfAlgorithmAs241) {
  EXPECT_NEAR(normalQuantile(0.25), -0.6744897501960817, 1e-15);
  EXPECT_NEAR(normalQuantile(0.001), -3.090232306167814, 4e-15);
  EXPECT_NEAR(normalQuantile(1e-20), -9.262340089798408, 1e-14);
}

// Handbook table of the normal distribution (from memory): 1.6449, 1.9600, 2.5758.
TEST(PublishedQuantile, TableOfTheNormalDistribution) {
  EXPECT_NEAR(normalQuantile(0.95), 1.6449, 5e-5);
  EXPECT_NEAR(normalQuantile(0.975), 1.9600, 5e-5);
  EXPECT_NEAR(normalQuantile(0.995), 2.5758, 5e-5);
}

// The distribution itself by the library's error function.
TEST(PublishedQuantile, IsTheInverseOfTheDistribution) {
  for (const double share :
       {1e-300, 1e-12, 1e-5, 0.01, 0.0749, 0.0751, 0.3, 0.5, 0.7, 0.9251, 0.999}) {
    const double x = normalQuantile(share);
    EXPECT_NEAR(0.5 * std::erfc(-x / std::numbers::sqrt2) / share, 1.0, 2e-13) << share;
  }
}

}  // namespace
}  // namespace nightbank
