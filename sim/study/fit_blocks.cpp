#include <bit>
#include <optional>

#include "fit_levels.h"

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

constexpr std::size_t kMostBlock = 120;

/// What must be the same within a block.
struct BlockKey {
  std::uint8_t units = 0, duty = 0;
  std::uint8_t charging = 0;  ///< 0: no engine, 1: by plan and log, 2: one of both alone

  bool operator==(const BlockKey&) const = default;
};

BlockKey keyAt(const NightLog& log, const Plant& plant, const MinuteRun& plan, std::size_t minute) {
  const Segment& segment = segmentAt(plant, kMinute_s * static_cast<double>(minute) + 30.0);
  BlockKey key;
  key.units = segment.airConditioners;
  if (std::popcount(key.units) == 1)
    key.duty = segment.duty[static_cast<std::size_t>(std::countr_zero(key.units))];
  const bool byLog = chargesByLog(log, plant, minute);
  const bool byPlan = plan.engine[minute] > 0.5;
  key.charging = byLog == byPlan ? static_cast<std::uint8_t>(byLog) : 2;
  return key;
}

Block blockOf(const BlockKey& key, const Plant& plant, std::size_t from) {
  Block block;
  block.from = block.to = from;
  block.charges = key.charging == 1;
  if (std::popcount(key.units) == 1) {
    block.unit = static_cast<std::size_t>(std::countr_zero(key.units));
    block.duty = key.duty;
    block.known = !plant.airConditioners[block.unit].hasThermostat();
    block.cycles = true;  // until it shows that it does not
  }
  return block;
}

}  // namespace

std::vector<Block> blocksOf(const NightLog& log, const Plant& plant, const MinuteRun& plan) {
  std::vector<Block> blocks;
  std::optional<BlockKey> before;
  for (std::size_t i = 0; i < plan.current_A.size(); ++i) {
    const BlockKey key = keyAt(log, plant, plan, i);
    if (key.charging == 2) {
      before.reset();
      continue;
    }
    if (!before || !(key == *before) || i - blocks.back().from >= kMostBlock)
      blocks.push_back(blockOf(key, plant, i));
    blocks.back().to = i + 1;
    before = key;
  }
  return blocks;
}

}  // namespace nightbank
