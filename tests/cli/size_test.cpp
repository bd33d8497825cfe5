#include <string>

#include "process.h"
#include <nlohmann/json.hpp>

namespace nightbank::cli {
namespace {

const std::string kList = scenarioFile("outfit_list.yaml");

TEST(Size, NamesTheCheapestSetAndWhatItTook) {
  const Ran ran = run({"size", kList});
  EXPECT_EQ(ran.code, 0);
  EXPECT_EQ(ran.err, "");
  EXPECT_TRUE(ran.out.starts_with("On these numbers the cheapest set that holds the night costs "))
      << ran.out;
  for (const char* part : {" USD: bank ", "the full grid has 336 sets", "One more or one less",
                           "Trade-off", "Sizes with headroom"})
    EXPECT_NE(ran.out.find(part), std::string::npos) << part << '\n' << ran.out;
  const Ran quiet = run({"size", "--quiet", kList});
  EXPECT_TRUE(ran.out.starts_with(quiet.out)) << quiet.out;
}

TEST(Size, TheSetHoldsAndStartsWhereRunAndStartAreAsked) {
  const auto best = nlohmann::json::parse(run({"size", "--json", kList}).out)["best"];
  std::vector<std::string> sets;
  for (const auto& edit : best["set"])
    sets.insert(sets.end(), {"--set", edit["path"].get<std::string>() + '=' +
                                          edit["value"].get<std::string>()});
  for (const std::string command : {"run", "start"}) {
    std::vector<std::string> words{command, kList, "--json"};
    words.insert(words.end(), sets.begin(), sets.end());
    const auto answer = nlohmann::json::parse(run(words).out);
    EXPECT_NE(answer["verdict"]["level"], "fails");
    EXPECT_NE(answer["verdict"]["level"], "expected_to_trip");
  }
}

TEST(Size, TheFullGridGivesTheSameAnswer) {
  auto fewer = nlohmann::json::parse(run({"size", "--json", kList}).out);
  auto all = nlohmann::json::parse(run({"size", "--json", "--all", kList}).out);
  EXPECT_LT(fewer["runs"], all["runs"]);
  EXPECT_EQ(all["runs"], all["within_limits"]);
  EXPECT_EQ(fewer["best"], all["best"]);
  EXPECT_EQ(fewer["trade_off"], all["trade_off"]);
}

// Pieces times their prices from the file, summed here.
TEST(Size, TheShoppingListAddsUp) {
  const auto answer = nlohmann::json::parse(run({"size", "--json", kList}).out);
  const auto& shopping = answer["shopping"];
  double price = 0.0, mass_kg = 0.0;
  bool hasBlocks = false;
  for (const auto& line : shopping["lines"]) {
    EXPECT_NEAR(line["price"].get<double>(), line["pieces"].get<int>() * line["each"].get<double>(),
                1e-9);
    price += line["price"].get<double>();
    mass_kg += line["mass_kg"].get<double>();
    EXPECT_NE(line["option"], "without");  // nothing to be bought
    hasBlocks = hasBlocks || (line["option"] == "block" && line["each"] == 310.0 &&
                              line["mass_kg"] == 11.0 * line["pieces"].get<int>());
  }
  EXPECT_TRUE(hasBlocks);
  EXPECT_NEAR(price, answer["best"]["price"].get<double>(), 1e-9);
  EXPECT_NEAR(mass_kg, answer["best"]["mass_kg"].get<double>(), 1e-9);
  EXPECT_EQ(shopping["price"], answer["best"]["price"]);
  EXPECT_EQ(shopping["currency"], "USD");
  const Ran text = run({"size", kList});
  EXPECT_NE(text.out.find("Shopping list (USD)\n"), std::string::npos) << text.out;
}

TEST(Size, WhereNothingHoldsTheNearestIsNamed) {
  const Ran ran = run({"size", "--set", "sizing.most_money=900", kList});
  EXPECT_EQ(ran.code, 0);
  EXPECT_TRUE(ran.out.starts_with("On these numbers no set within the limits holds the night"))
      << ran.out;
}

TEST(Size, WithoutAListItIsToldWhere) {
  const Ran ran = run({"size", "-"}, smallScenario());
  EXPECT_EQ(ran.code, 2);
  EXPECT_EQ(ran.out, "");
  EXPECT_NE(ran.err.find("has no 'sizing'"), std::string::npos) << ran.err;
  const Ran word = run({"size", "--accept", "hold", kList});
  EXPECT_EQ(word.code, 2);
  EXPECT_NE(word.err.find("did you mean 'holds'?"), std::string::npos) << word.err;
}

}  // namespace
}  // namespace nightbank::cli
