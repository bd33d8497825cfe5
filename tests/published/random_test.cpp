#include "nightbank/numerics/random.h"

#include <gtest/gtest.h>

namespace nightbank {
namespace {

using Words = std::array<std::uint32_t, 4>;

// The known-answer vectors of philox4x32 with ten rounds that go with Salmon et al., "Parallel
// random numbers: as easy as 1, 2, 3", SC11 (2011); from memory. The third counter and key are the
// first digits of pi.
TEST(PublishedRandom, PhiloxGivesTheKnownAnswers) {
  EXPECT_EQ(philox4x32({0, 0, 0, 0}, {0, 0}),
            (Words{0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8}));
  EXPECT_EQ(philox4x32({0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff}, {0xffffffff, 0xffffffff}),
            (Words{0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd}));
  EXPECT_EQ(philox4x32({0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344}, {0xa4093822, 0x299f31d0}),
            (Words{0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1}));
}

// By hand from the first vector: the top 52 of the bits 0x6627e8d5e169c58d, and a half.
TEST(PublishedRandom, UniformIsTheMidpointOfItsCell) {
  EXPECT_EQ(uniform(0, 0, 0), (static_cast<double>(0x6627e8d5e169c) + 0.5) / 4503599627370496.0);
}

}  // namespace
}  // namespace nightbank
