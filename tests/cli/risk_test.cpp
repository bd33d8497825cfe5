#include <sstream>

#include "process.h"
#include <nlohmann/json.hpp>

#include "nightbank/report/text.h"

namespace nightbank::cli {
namespace {

TEST(Risk, AnswersWithChancesWeightsAndCautions) {
  const Ran ran = run({"risk", "--nights", "200", kStall});
  EXPECT_EQ(ran.code, 0);
  EXPECT_EQ(ran.err, "");
  for (const char* part :
       {"How likely is it?", "of 200 drawn nights", "95 % interval", "5, 50 and 95 % are below",
        "What moves the start most", "generator.continuous", "What was drawn", "Cautions"})
    EXPECT_NE(ran.out.find(part), std::string::npos) << part << ran.out;
  std::istringstream lines(ran.out);
  for (std::string line; std::getline(lines, line);)
    EXPECT_LE(report::displayWidth(line), report::kTextWidth) << line;
  const Ran quiet = run({"risk", "--nights", "200", "--quiet", kStall});
  EXPECT_TRUE(ran.out.starts_with(quiet.out)) << quiet.out;
}

TEST(Risk, TheSameSeedGivesTheSameBytes) {
  const std::vector<std::string> first{"risk", "--json", "--nights", "120", kStall};
  const Ran ran = run(first);
  EXPECT_EQ(ran.code, 0);
  EXPECT_EQ(run(first).out, ran.out);
  EXPECT_NE(run({"risk", "--json", "--nights", "120", "--seed", "2", kStall}).out, ran.out);
  EXPECT_NE(run({"risk", "--json", "--nights", "120", "--even", kStall}).out, ran.out);
  const auto json = nlohmann::json::parse(ran.out);
  EXPECT_EQ(json["floor_holds"]["of"], 120);
  EXPECT_EQ(json["start_succeeds"]["of"], 120);
  EXPECT_LE(json["start_succeeds"]["low"], json["start_succeeds"]["share"]);
  EXPECT_GE(json["start_succeeds"]["high"], json["start_succeeds"]["share"]);
}

// A hotter afternoon leaves the trailer with less.
TEST(Risk, HotterMovesTheDesignDay) {
  const std::string file = scenarioFile("bunk_trailer.yaml");
  const auto middle = [&](const std::vector<std::string>& extra) {
    std::vector<std::string> words{"risk", "--json", "--nights", "1", file};
    words.insert(words.end(), extra.begin(), extra.end());
    const Ran ran = run(words);
    EXPECT_EQ(ran.code, 0) << ran.err;
    const auto json = nlohmann::json::parse(ran.out);
    for (const auto& input : json["inputs"])
      if (input["path"] == "weather.design_day.high")
        return input["from"].get<std::string>();
    return std::string();
  };
  EXPECT_EQ(middle({}), "36.1 degC +- 2 K");
  EXPECT_EQ(middle({"--hotter", "4 K"}), "40.1 degC +- 2 K");
  const Ran none = run({"risk", "--hotter", "4 K", kStall});
  EXPECT_EQ(none.code, 2);
  EXPECT_NE(none.err.find("--hotter needs the scenario's weather.design_day"), std::string::npos);
}

TEST(Risk, WrongOptionsAreToldWithWhatWasExpected) {
  for (const std::vector<std::string>& words : {std::vector<std::string>{"--nights", "0"},
                                                {"--nights", "many"},
                                                {"--nights", "2.5"},
                                                {"--seed", "-1"},
                                                {"--hotter", "4 V"}}) {
    const Ran ran = run({"risk", words[0], words[1], kStall});
    EXPECT_EQ(ran.code, 2) << words[1];
    EXPECT_NE(ran.err.find(words[0] + " is '" + words[1] + "'"), std::string::npos) << ran.err;
  }
}

TEST(Risk, RequireLooksAtTheWholeInterval) {
  EXPECT_EQ(run({"risk", "--nights", "200", "--require", "holds", "--quiet", kStall}).code, 0);
  // Of ten nights without a failure the interval reaches down to 0.025^(1/10) = 69 %.
  EXPECT_EQ(run({"risk", "--nights", "10", "--require", "holds", "--quiet", kStall}).code, 1);
  EXPECT_EQ(run({"risk", "--nights", "10", "--require", "marginal", "--quiet", kStall}).code, 0);
}

TEST(Risk, AWrongRangeIsToldAtItsPlace) {
  const Ran ran = run({"risk", "-"}, fileText(scenarioFile("bunk_trailer.yaml")) +
                                         "risk:\n  - {path: bank.capacity, low: 520 Ah, high: 400 "
                                         "Ah}\n");
  EXPECT_EQ(ran.code, 2);
  EXPECT_NE(ran.err.find("risk[0].low is not below its high"), std::string::npos) << ran.err;
}

}  // namespace
}  // namespace nightbank::cli
