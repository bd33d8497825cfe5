#include "nightbank/numerics/random.h"

namespace nightbank {
namespace {

constexpr std::uint64_t kMultiplier0 = 0xD2511F53;
constexpr std::uint64_t kMultiplier1 = 0xCD9E8D57;
constexpr std::uint32_t kWeyl0 = 0x9E3779B9;  // golden ratio
constexpr std::uint32_t kWeyl1 = 0xBB67AE85;  // square root of three, less one

std::uint32_t high(std::uint64_t word) {
  return static_cast<std::uint32_t>(word >> 32);
}

std::uint32_t low(std::uint64_t word) {
  return static_cast<std::uint32_t>(word);
}

}  // namespace

std::array<std::uint32_t, 4> philox4x32(std::array<std::uint32_t, 4> counter,
                                        std::array<std::uint32_t, 2> key) {
  constexpr int kRounds = 10;
  for (int round = 0; round < kRounds; ++round) {
    const std::uint64_t product0 = kMultiplier0 * counter[0];
    const std::uint64_t product1 = kMultiplier1 * counter[2];
    counter = {high(product1) ^ counter[1] ^ key[0], low(product1),
               high(product0) ^ counter[3] ^ key[1], low(product0)};
    key = {key[0] + kWeyl0, key[1] + kWeyl1};
  }
  return counter;
}

double uniform(std::uint64_t seed, std::uint64_t stream, std::uint64_t index) {
  const auto words =
      philox4x32({low(index), high(index), low(stream), high(stream)}, {low(seed), high(seed)});
  const std::uint64_t bits = (std::uint64_t{words[0]} << 32 | words[1]) >> 12;
  return (static_cast<double>(bits) + 0.5) * 0x1p-52;
}

}  // namespace nightbank
