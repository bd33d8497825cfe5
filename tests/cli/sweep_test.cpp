#include <algorithm>
#include <string>
#include <vector>

#include "process.h"

namespace nightbank::cli {
namespace {

using Words = std::vector<std::string>;

Words sweepOf(Words more) {
  Words words{"sweep", "--vary", "bank.capacity=40:120:20 Ah", "--vary", "inverter.idle=6 W, 12 W",
              "-"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

TEST(Sweep, TellsHowManyHoldAndShowsThem) {
  const Ran ran = run(sweepOf({}), smallScenario());
  EXPECT_EQ(ran.code, 0);
  EXPECT_EQ(ran.err, "");  // no bar where nobody looks
  EXPECT_NE(ran.out.find(" of 10 runs hold"), std::string::npos) << ran.out;
  EXPECT_NE(ran.out.find("run  capacity  idle  verdict"), std::string::npos) << ran.out;
  const Ran quiet = run(sweepOf({"--quiet"}), smallScenario());
  EXPECT_TRUE(ran.out.starts_with(quiet.out)) << quiet.out;
}

TEST(Sweep, ARowIsWhatRunAnswersOnTypicalValues) {
  const Ran ran = run(sweepOf({"--csv", "-"}), smallScenario());
  EXPECT_EQ(std::count(ran.out.begin(), ran.out.end(), '\n'), 11);
  EXPECT_TRUE(ran.out.starts_with("sweep,run,bank.capacity,inverter.idle,verdict,")) << ran.out;
  EXPECT_NE(ran.out.find("-10,3,60 Ah,12 W,"), std::string::npos) << ran.out;
}

TEST(Sweep, AnyNumberOfThreadsGivesTheSameBytes) {
  const std::string one = run(sweepOf({"--csv", "-", "--threads", "1"}), smallScenario()).out;
  EXPECT_EQ(run(sweepOf({"--csv", "-", "--threads", "2"}), smallScenario()).out, one);
  EXPECT_EQ(run(sweepOf({"--csv", "-", "--threads", "5"}), smallScenario()).out, one);
}

// The scenario and three tables of a sweep in a folder.
struct Shards {
  Folder folder;
  std::string whole;
  Words parts;

  Shards() {
    writeFile(folder.file("shed.yaml"), smallScenario());
    whole = run(sweepOf({"--csv", "-"}), smallScenario()).out;
    for (const std::string part : {"3", "1", "2"}) {
      parts.push_back(folder.file("part" + part + ".csv"));
      EXPECT_EQ(run(sweepOf({"--shard", part + "/3", "--csv", parts.back()}), smallScenario()).code,
                0);
    }
  }

  Ran merge(Words files, Words more = {}) const {
    files.insert(files.begin(), "merge");
    files.insert(files.end(), more.begin(), more.end());
    return run(files);
  }
};

TEST(Merge, ShardsAreOneRunByteForByte) {
  const Shards shards;
  const Ran ran = shards.merge(shards.parts);
  EXPECT_EQ(ran.code, 0) << ran.err;
  EXPECT_EQ(ran.out, shards.whole);
  const std::string all = shards.folder.file("all.csv");
  EXPECT_EQ(shards.merge(shards.parts, {"--csv", all}).code, 0);
  EXPECT_EQ(fileText(all), shards.whole);
}

TEST(Merge, WhatIsMissingIsNamed) {
  const Shards shards;
  const Words two(shards.parts.begin(), shards.parts.begin() + 2);
  const Ran ran = shards.merge(two);
  EXPECT_EQ(ran.code, 2);
  EXPECT_EQ(ran.out, "");
  EXPECT_NE(ran.err.find("3 of 10 runs are missing: 1 4 7;"), std::string::npos) << ran.err;
  const Ran partial = shards.merge(two, {"--partial"});
  EXPECT_EQ(partial.code, 0);
  EXPECT_EQ(std::count(partial.out.begin(), partial.out.end(), '\n'), 8);
}

TEST(Merge, TablesOfOtherSweepsAreRefused) {
  const Shards shards;
  const std::string other = shards.folder.file("other.csv");
  EXPECT_EQ(run(sweepOf({"--shard", "2/3", "--csv", other}), smallScenario("90 Ah")).code, 0);
  const std::string out = shards.folder.file("out.csv");
  Ran ran = shards.merge({shards.parts[0], other}, {"--csv", out});
  EXPECT_EQ(ran.code, 2);
  EXPECT_NE(ran.err.find("other.csv:2: error: is of another sweep"), std::string::npos) << ran.err;
  EXPECT_EQ(fileText(out), "");
  // The same run with another number in it.
  std::string text = fileText(shards.parts[0]);
  const std::size_t digit = text.find(",holds,") + 1;
  writeFile(other, text.replace(digit, 5, "fails"));
  ran = shards.merge({shards.parts[0], other});
  EXPECT_EQ(ran.code, 2);
  EXPECT_NE(ran.err.find("is there twice with different numbers"), std::string::npos) << ran.err;
  writeFile(other, "time,soc\r\n1,2\r\n");
  EXPECT_NE(shards.merge({other}).err.find("is no table of 'nightbank sweep --csv'"),
            std::string::npos);
  writeFile(other, fileText(shards.parts[0]).substr(0, 300));
  EXPECT_EQ(shards.merge({other}).code, 2);
}

struct RefusedSweep {
  Words words;
  std::string part;
};

TEST(Sweep, WrongInputIsRefusedBeforeAnythingIsRun) {
  const std::vector<RefusedSweep> all{
      {{"sweep", "-"}, "nothing is varied"},
      {{"sweep", "--vary", "bank.capacity", "-"}, "--vary is 'bank.capacity'"},
      {{"sweep", "--vary", "bank.capacity=", "-"}, "expected values between commas"},
      {{"sweep", "--vary", "bank.capcity=1 Ah,2 Ah", "-"}, "did you mean 'capacity'?"},
      {{"sweep", "--vary", "bank.capacity=200 Ah, 5 kW", "-"}, "'5 kW', a power"},
      {{"sweep", "--vary", "bank.start_at=50:150:50 %", "-"}, "150 %"},
      {{"sweep", "--vary", "bank.capacity=9:5:1 Ah", "-"}, "do not lead from 9 to 5"},
      {{"sweep", "--vary", "bank.capacity=1:9 Ah", "-"}, "a grid needs steps"},
      {{"sweep", "--vary", "bank.capacity=1:9:1 Ah", "--shard", "4/3", "-"}, "--shard is '4/3'"},
      {{"sweep", "--vary", "bank.capacity=1:9:1 Ah", "--shard", "0/3", "-"}, "--shard is '0/3'"},
      {{"sweep", "--vary", "bank.capacity=1:9:1 Ah", "--shard", "2", "-"}, "--shard is '2'"},
      {{"sweep", "--vary", "bank.capacity=1:2:1 Ah", "--shard", "3/3", "-"}, "is empty"},
      {{"sweep", "--vary", "bank.capacity=1:1000:1 Ah", "--vary", "inverter.idle=1:1000:1 W",
        "--vary", "inverter.continuous=1001:2000:1 W", "-"},
       "1000000000 combinations; one process runs at most 1000000."},
      {{"sweep", "--vary", "bank.capacity=1:1000:1 Ah", "--vary", "inverter.idle=1:1000:1 W",
        "--vary", "inverter.continuous=1001:2000:1 W", "-"},
       "--shard 1/1000 to --shard 1000/1000"},
      {{"sweep", "--vary", "bank.capacity=1 Ah", "--vary", "bank.capacity=2 Ah", "-"}, "twice"},
      {{"sweep", "--seed", "4", "--vary", "bank.capacity=1 Ah", "-"}, "--seed is of draws"}};
  for (const RefusedSweep& one : all) {
    const Ran ran = run(one.words, smallScenario());
    EXPECT_EQ(ran.code, 2) << one.part;
    EXPECT_EQ(ran.out, "") << one.part;
    EXPECT_NE(ran.err.find(one.part), std::string::npos) << ran.err;
  }
}

}  // namespace
}  // namespace nightbank::cli
