#include "nightbank/units/pieces.h"

#include <gtest/gtest.h>

namespace nightbank {
namespace {

using Pieces = std::vector<std::string>;

TEST(Pieces, AreCutOutsideQuotesBracketsAndBraces) {
  EXPECT_EQ(piecesOf("a, b ,c", ','), (Pieces{"a", "b", "c"}));
  EXPECT_EQ(piecesOf("[1, 2], {a: 1, b: 2}, 'x, y', \"z, [\"", ','),
            (Pieces{"[1, 2]", "{a: 1, b: 2}", "'x, y'", "\"z, [\""}));
  EXPECT_EQ(piecesOf("", ','), Pieces{""});
  EXPECT_EQ(piecesOf("a;;b", ';'), (Pieces{"a", "", "b"}));
}

TEST(Pieces, LoseTheirBlanks) {
  EXPECT_EQ(withoutBlanks("  a b "), "a b");
  EXPECT_EQ(withoutBlanks("\ta b\r"), "a b");
  EXPECT_EQ(withoutBlanks("   "), "");
}

}  // namespace
}  // namespace nightbank
