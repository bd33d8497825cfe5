#include <algorithm>

#include "process.h"
#include <nlohmann/json.hpp>

namespace nightbank::cli {
namespace {

std::string withVariants() {
  return smallScenario("40 Ah") +
         "variants:\n"
         "  - {name: bigger, set: {bank.capacity: 400 Ah}}\n"
         "  - {name: by hand, set: {bank.capacity: 80 Ah, inverter.idle: 12 W}}\n";
}

TEST(Compare, SetsAFileAndItsVariantsSideBySide) {
  const Folder folder;
  writeFile(folder.file("shed.yaml"), withVariants());
  const Ran ran = run({"compare", folder.file("shed.yaml")});
  EXPECT_EQ(ran.code, 0);
  EXPECT_EQ(ran.err, "");
  EXPECT_TRUE(ran.out.find(" of 3 hold") != std::string::npos) << ran.out;
  for (const char* part :
       {"1   as it is", "2*  bigger", "3   by hand", "Against 1, 'as it is'", "2 bigger: now "})
    EXPECT_NE(ran.out.find(part), std::string::npos) << part << '\n' << ran.out;
  const Ran quiet = run({"compare", "--quiet", folder.file("shed.yaml")});
  EXPECT_TRUE(ran.out.starts_with(quiet.out)) << quiet.out;
}

TEST(Compare, VariantsOfTheFileDoNotMoveItsOwnAnswer) {
  const std::string plain = run({"run", "--json", "-"}, smallScenario("40 Ah")).out;
  const Ran ran = run({"run", "--json", "-"}, withVariants());
  EXPECT_EQ(ran.err, "");
  EXPECT_EQ(ran.out, plain);
}

TEST(Compare, VariantsOfTheCommandLineAreNamedByThemselves) {
  const Ran ran = run({"compare", "--json", "--variant", "big: bank.capacity=400 Ah", "--variant",
                       "bank.capacity=80 Ah; inverter.idle=12 W", "-"},
                      smallScenario("40 Ah"));
  ASSERT_EQ(ran.code, 0) << ran.err;
  const auto nights = nlohmann::json::parse(ran.out)["nights"];
  ASSERT_EQ(nights.size(), 3U);
  EXPECT_EQ(nights[1]["name"], "big");
  EXPECT_EQ(nights[2]["name"], "bank.capacity=80 Ah; inverter.idle=12 W");
  const auto alone = nlohmann::json::parse(
      run({"run", "--json", "--set", "bank.capacity=80 Ah", "--set", "inverter.idle=12 W", "-"},
          smallScenario("40 Ah"))
          .out);
  EXPECT_EQ(nights[2]["level"], alone["verdict"]["level"]);
  EXPECT_EQ(nights[2]["sentence"], alone["verdict"]["sentence"]);
}

TEST(Compare, AnyNumberOfThreadsGivesTheSameBytes) {
  const std::vector<std::string> words{"compare", scenarioFile("bunk_trailer.yaml"),
                                       scenarioFile("survey_van.yaml"),
                                       scenarioFile("food_stall.yaml"), "--threads"};
  const auto with = [&](const std::string& threads) {
    std::vector<std::string> all = words;
    all.push_back(threads);
    return run(all).out;
  };
  const std::string one = with("1");
  EXPECT_NE(one.find("survey_van"), std::string::npos);
  EXPECT_EQ(with("2"), one);
  EXPECT_EQ(with("5"), one);
}

TEST(Compare, TheTableHasARowEachAndRequireLooksAtTheBest) {
  const Ran ran = run({"compare", "--csv", "-", "-"}, withVariants());
  EXPECT_TRUE(ran.out.starts_with("name,verdict,limited_by,to_floor_h,")) << ran.out;
  EXPECT_EQ(std::count(ran.out.begin(), ran.out.end(), '\n'), 4);
  EXPECT_EQ(run({"compare", "--require", "marginal", "-"}, withVariants()).code, 0);
  EXPECT_EQ(run({"compare", "--require", "marginal", "--variant", "bank.capacity=41 Ah", "-"},
                smallScenario("40 Ah"))
                .code,
            1);
}

struct Refused {
  std::vector<std::string> arguments;
  std::string part;
};

TEST(Compare, WrongInputIsPlacedAndNothingIsAnswered) {
  const std::vector<Refused> all{
      {{"compare"}, "compare needs a FILE"},
      {{"compare", "-"}, "one scenario alone is no comparison"},
      {{"compare", "--variant", "bigger", "-"}, "expected PATH=VALUE"},
      {{"compare", "--variant", "bank.capcity=4 Ah", "-"}, "did you mean 'capacity'?"},
      {{"compare", "--variant", "bank.capacity=4 kW", "-"},
       "--variant bank.capacity: error: bank.capacity is '4 kW'"},
      {{"compare", "--threads", "0", "--variant", "bank.capacity=4 Ah", "-"}, "--threads is '0'"},
      {{"compare", "-", "-"}, "'-' is there more than once"}};
  for (const Refused& one : all) {
    const Ran ran = run(one.arguments, smallScenario());
    EXPECT_EQ(ran.code, 2) << one.part;
    EXPECT_EQ(ran.out, "");
    EXPECT_NE(ran.err.find(one.part), std::string::npos) << ran.err;
  }
  const Ran ofFile = run({"compare", "-"},
                         smallScenario() + "variants:\n  - {name: a, set: {bank.capcity: 4 Ah}}\n");
  EXPECT_EQ(ofFile.code, 2);
  EXPECT_TRUE(ofFile.err.starts_with("standard input:9:21: error: ")) << ofFile.err;
}

}  // namespace
}  // namespace nightbank::cli
