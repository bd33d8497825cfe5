#include "nightbank/report/sha256.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

namespace nightbank::report {
namespace {

std::string hexOf(std::string_view bytes) {
  std::string text;
  for (const std::uint8_t byte : sha256(bytes))
    text += fmt::format("{:02x}", byte);
  return text;
}

// FIPS 180-2, appendix B: one block, two blocks, a million letters; from memory, and as coreutils'
// sha256sum prints them.
TEST(Sha256, GivesThePublishedHashes) {
  EXPECT_EQ(hexOf("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(hexOf("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  EXPECT_EQ(hexOf(std::string(1'000'000, 'a')),
            "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

// RFC 4648, section 10.
TEST(Base64, GivesThePublishedTexts) {
  EXPECT_EQ(base64(""), "");
  EXPECT_EQ(base64("f"), "Zg==");
  EXPECT_EQ(base64("fo"), "Zm8=");
  EXPECT_EQ(base64("foo"), "Zm9v");
  EXPECT_EQ(base64("foob"), "Zm9vYg==");
  EXPECT_EQ(base64("fooba"), "Zm9vYmE=");
  EXPECT_EQ(base64("foobar"), "Zm9vYmFy");
}

// The example of the W3C's Content Security Policy, level 2, section 7.17.2; from memory.
TEST(PolicyHash, IsThatOfThePolicysOwnExample) {
  EXPECT_EQ(policyHash("alert('Hello, world.');"),
            "sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng=");
}

}  // namespace
}  // namespace nightbank::report
