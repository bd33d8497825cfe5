#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "nightbank/report/text.h"
#include "nightbank/study/sweep.h"

/// A sweep in words and as a table, and tables of its shards put together.
namespace nightbank::report {

/// A sweep that was run, or a shard of it.
struct SweepDone {
  const SweepPlan& plan;
  Shard shard;
  std::uint64_t id = 0;  ///< sweepId()
  std::span<const SweepRow> rows;
};

/// How many of the runs hold, and the best.
std::string sweepVerdict(const SweepDone& done);

/// The verdict and a table: all rows up to 60, else those that no other beats.
std::string sweepText(const SweepDone& done, const TextStyle& style);

/// One row per run, RFC 4180; the first two cells name the sweep and the run.
std::string sweepCsv(const SweepDone& done);

struct NamedText {
  std::string name, text;
};

struct Merged {
  std::string csv;                     ///< as of one sweep
  std::uint64_t runs = 0;              ///< in it
  std::vector<std::uint64_t> missing;  ///< numbers of runs that no table has, the first 100
  std::uint64_t missingCount = 0;
};

/// Tables of sweepCsv() in any order, with rows that stand in several of them once.
/// @param tables  at least one
/// @returns the table of all, or why there is none: "part2.csv:7: error: ..."
std::variant<Merged, std::string> mergeSweeps(std::span<const NamedText> tables);

}  // namespace nightbank::report
