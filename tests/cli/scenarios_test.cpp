#include <algorithm>
#include <sstream>

#include "process.h"
#include <nlohmann/json.hpp>

#include "nightbank/report/text.h"

namespace nightbank::cli {
namespace {

std::vector<std::string> scenarios() {
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(NIGHTBANK_SOURCE_DIR "/scenarios")) {
    if (entry.path().extension() == ".yaml")
      names.push_back(entry.path().stem().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

class EachScenario : public testing::TestWithParam<std::string> {
 protected:
  std::string file() const { return scenarioFile(GetParam() + ".yaml"); }
};

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return text;
}

void expectNoPromise(const std::string& text) {
  for (const char* word : {"safe", "guarantee", "certain", "no risk", "you can leave"})
    EXPECT_EQ(lower(text).find(word), std::string::npos) << word;
}

TEST_P(EachScenario, AsksItsQuestionInTheFirstLine) {
  const std::string text = fileText(file());
  const std::string first = text.substr(0, text.find('\n'));
  EXPECT_TRUE(first.starts_with("# ")) << first;
  EXPECT_TRUE(first.ends_with("?")) << first;
}

TEST_P(EachScenario, AnswersWithoutAWarning) {
  const Ran ran = run({"run", file()});
  EXPECT_EQ(ran.code, 0);
  EXPECT_EQ(ran.err, "");
  expectNoPromise(ran.out);
  std::istringstream lines(ran.out);
  for (std::string line; std::getline(lines, line);)
    EXPECT_LE(report::displayWidth(line), report::kTextWidth) << line;
}

double sum(const nlohmann::json& object) {
  double total = 0.0;
  for (const auto& item : object)
    total += item.get<double>();
  return total;
}

TEST_P(EachScenario, BalancesAsPrinted) {
  const Ran ran = run({"run", "--json", file()});
  EXPECT_EQ(ran.code, 0);
  expectNoPromise(ran.out);
  const auto energy = nlohmann::json::parse(ran.out)["energy_Wh"];
  const auto value = [&](const char* key) { return energy[key].get<double>(); };
  const double in = value("solar") + value("generator") + value("shore") + value("alternator");
  const double out = sum(energy["loads"]) + sum(energy["losses"]) + value("bank_change");
  EXPECT_NEAR(in, out, 1e-6 * (in + std::abs(value("bank_change"))));
  EXPECT_LT(std::abs(value("closure_error")), 1e-9);
  EXPECT_LT(std::abs(value("bank_closure_error")), 1e-9);
}

TEST_P(EachScenario, HasATableAndAnEcho) {
  const Ran csv = run({"run", "--csv", "-", file()});
  EXPECT_EQ(csv.code, 0);
  EXPECT_TRUE(csv.out.starts_with("time,interval_s,"));
  EXPECT_TRUE(csv.out.ends_with("\r\n"));
  const Ran check = run({"check", file()});
  EXPECT_EQ(check.code, 0);
  EXPECT_EQ(check.err, "");
  EXPECT_NE(check.out.find("\nWhat follows from it\n"), std::string::npos);
  expectNoPromise(check.out);
  std::istringstream lines(check.out);
  for (std::string line; std::getline(lines, line);)
    EXPECT_LE(report::displayWidth(line), report::kTextWidth) << line;
}

INSTANTIATE_TEST_SUITE_P(All, EachScenario, testing::ValuesIn(scenarios()),
                         [](const auto& scenario) { return scenario.param; });

TEST(Scenarios, AreAtLeastFiveAndReachEveryLevel) {
#ifdef NIGHTBANK_SANITIZED
  GTEST_SKIP() << "EachScenario has answered them all";
#endif
  EXPECT_GE(scenarios().size(), 5u);
  std::string levels;
  for (const std::string& name : scenarios())
    levels += nlohmann::json::parse(
                  run({"run", "--json", scenarioFile(name + ".yaml")}).out)["verdict"]["level"]
                  .get<std::string>();
  for (const char* level : {"holds", "marginal", "fails"})
    EXPECT_NE(levels.find(level), std::string::npos) << level;
}

}  // namespace
}  // namespace nightbank::cli
