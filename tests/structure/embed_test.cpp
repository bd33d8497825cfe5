#include <fstream>
#include <sstream>
#include <string>
#include <string_view>

#include <gtest/gtest.h>

namespace nightbank::embedded {

/// This file, put into the test by nightbank_embed. Bytes that are easily lost: é " \ \n ??/ )" 0x
std::string_view ownSource();

}  // namespace nightbank::embedded

namespace nightbank {
namespace {

TEST(Embed, HoldsEveryByteOfTheFile) {
  std::ostringstream bytes;
  bytes << std::ifstream(NIGHTBANK_SOURCE_DIR "/tests/structure/embed_test.cpp", std::ios::binary)
               .rdbuf();
  ASSERT_FALSE(bytes.str().empty());
  EXPECT_EQ(embedded::ownSource(), bytes.str());
}

}  // namespace
}  // namespace nightbank
