#include "nightbank/scenario/problem.h"

#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "nightbank/scenario/document.h"

namespace nightbank::scenario {
namespace {

Document read(const std::string& text, const std::string& file = "scenarios/hot_night.yaml") {
  Parsed parsed = parseDocument(text, file);
  if (auto* errors = std::get_if<std::vector<Diagnostic>>(&parsed)) {
    ADD_FAILURE() << render(*errors);
    return {};
  }
  return std::get<Document>(std::move(parsed));
}

Problem problemAt(std::string path, std::string message = "wrong", std::string hint = "") {
  Problem problem;
  problem.path = std::move(path);
  problem.message = std::move(message);
  problem.hint = std::move(hint);
  return problem;
}

const std::string kNight =
    "title: Hot night\n"
    "bank:\n"
    "  voltage: 12.8 V\n"
    "  capacity: 5 kW\n"
    "loads: [{name: fridge, power: 55}]\n";

TEST(Problem, IsToldLikeACompilersMessage) {
  const Problem problem =
      problemAt("bank.capacity", "bank.capacity is '5 kW', a power; expected a charge (Ah, mAh)",
                "did you mean '5 kWh'?");
  EXPECT_EQ(
      render(problem, read("\n\n\n\n\n\n\n\n" + kNight)),
      R"(scenarios/hot_night.yaml:12:13: error: bank.capacity is '5 kW', a power; expected a charge (Ah, mAh)
   11 |   voltage: 12.8 V
 > 12 |   capacity: 5 kW
      |             ^~~~  did you mean '5 kWh'?
)");
}

TEST(Problem, MayStandAtAKeyAndBeAWarning) {
  Problem problem = problemAt("loads[0].power", "loads.fridge.power has no unit");
  problem.at = Problem::At::key;
  problem.severity = Problem::Severity::warning;
  EXPECT_EQ(render(problem, read(kNight)),
            R"(scenarios/hot_night.yaml:5:24: warning: loads.fridge.power has no unit
   4 |   capacity: 5 kW
 > 5 | loads: [{name: fridge, power: 55}]
     |                        ^~~~~
)");
}

TEST(Problem, OfAMissingKeyStandsAtItsParent) {
  EXPECT_EQ(render(problemAt("bank.chemistry", "bank.chemistry is missing"), read(kNight)),
            R"(scenarios/hot_night.yaml:2:1: error: bank.chemistry is missing
   1 | title: Hot night
 > 2 | bank:
     | ^~~~
)");
}

TEST(Problem, OfAContradictionShowsBothPlaces) {
  Problem problem = problemAt("bank.capacity", "give bank.capacity or loads, not both", "drop one");
  problem.otherPath = "loads";
  problem.at = Problem::At::key;
  EXPECT_EQ(render(problem, read("\n\n\n\n\n" + kNight)),
            R"(scenarios/hot_night.yaml:9:3: error: give bank.capacity or loads, not both
    8 |   voltage: 12.8 V
 >  9 |   capacity: 5 kW
      |   ^~~~~~~~  drop one
 > 10 | loads: [{name: fridge, power: 55}]
      | ^~~~~  and here
)");
  problem.path = "loads[0].name";
  problem.otherPath = "loads[0].power";
  EXPECT_EQ(render(problem, read(kNight)),
            R"(scenarios/hot_night.yaml:5:10: error: give bank.capacity or loads, not both
   4 |   capacity: 5 kW
 > 5 | loads: [{name: fridge, power: 55}]
     |          ^~~~  drop one
     |                        ^~~~~  and here
)");
  problem.otherPath = "inverter";  // left out: nothing to show
  EXPECT_EQ(render(problem, read(kNight)).find("and here"), std::string::npos);
}

TEST(Problem, InASnippetShowsTheValueAsTyped) {
  const Parsed parsed = parseSnippet("5 kW", "bank.capacity", "--set bank.capacity");
  EXPECT_EQ(render(problemAt("bank.capacity", "bank.capacity is '5 kW', a power",
                             "did you mean '5 kWh'?"),
                   std::get<Document>(parsed)),
            R"(--set bank.capacity: error: bank.capacity is '5 kW', a power
 > 1 | 5 kW
     | ^~~~  did you mean '5 kWh'?
)");
  const Parsed broken = parseSnippet("[1", "bank.rates", "--set bank.rates");
  EXPECT_EQ(render(std::get<std::vector<Diagnostic>>(broken)),
            R"(--set bank.rates: error: this '[' is never closed
 > 1 | [1
     | ^
)");
}

TEST(Problem, CountsDisplayColumns) {
  // A combining accent takes no column, a wide character two, a tab one blank.
  const Document document = read("{größe: 1, e\xCC\x81: \"月\", x:\t2}\n", "a.yaml");
  EXPECT_EQ(render(problemAt("x"), document),
            "a.yaml:1:29: error: wrong\n"
            " > 1 | {größe: 1, e\xCC\x81: \"月\", x: 2}\n"
            "     |                        ^\n");
  EXPECT_EQ(render(problemAt("größe"), document),
            "a.yaml:1:11: error: wrong\n"
            " > 1 | {größe: 1, e\xCC\x81: \"月\", x: 2}\n"
            "     |         ^\n");
}

TEST(Problem, KeepsTerminalsFromTheUsersText) {
  const Document document = read(
      "a: \"\\e[31m\"  # \xE2\x80\xAE"
      "\nb: x\n",
      "a\x1b[2J.yaml");
  EXPECT_EQ(render(problemAt("a", "a is '" + document.find("a")->text + "'\n\t\x7f\xC2\x9B\xFF",
                             "not\x1b]0;"),
                   document),
            R"(a\x1b[2J.yaml:1:4: error: a is '\x1b[31m'\n\t\x7f\u009b\xff
 > 1 | a: "\e[31m"  # \u202e
     |    ^~~~~~~~  not\x1b]0;
)");
}

TEST(Problem, CutsLongLinesAroundTheCaret) {
  std::string text = "a: {first: 1";
  for (int i = 0; i < 40; ++i) {
    text += ", key" + std::to_string(i) + ": " + std::to_string(i) + " W";
  }
  text += ", last: 2}\n";
  const Document document = read(text, "a.yaml");
  EXPECT_EQ(render(problemAt("a.first"), document), R"(a.yaml:1:12: error: wrong
 > 1 | a: {first: 1, key0: 0 W, key1: 1 W, key2: 2 W, key3: 3 W, key4: 4 W, key5: 5 W, key6: ...
     |            ^
)");
  EXPECT_EQ(render(problemAt("a.key20"), document), R"(a.yaml:1:262: error: wrong
 > 1 | ...18: 18 W, key19: 19 W, key20: 20 W, key21: 21 W, key22: 22 W, key23: 23 W, key24: 24 W...
     |                                  ^~~~
)");
  EXPECT_EQ(render(problemAt("a.last"), document), R"(a.yaml:1:521: error: wrong
 > 1 | ...y38: 38 W, key39: 39 W, last: 2}
     |                                  ^
)");
}

TEST(Problem, StaysShortWhateverTheText) {
  const std::string huge(500'000, 'x');
  const Document document = read("a: " + huge + "\nb: '" + huge.substr(1000) + "'\n", "a.yaml");
  for (const char* path : {"a", "b"}) {
    const std::string text = render(problemAt(path, huge, huge), document);
    EXPECT_LT(text.size(), 2000U);
    std::size_t start = text.find('\n') + 1;
    for (std::size_t end = text.find('\n', start); end != std::string::npos;
         start = end + 1, end = text.find('\n', start)) {
      EXPECT_LE(end - start, 106U) << text;
    }
  }
}

TEST(Problem, PutsAHintBelowWhereTheLineIsFull) {
  const Document document = read("a: " + std::string(70, 'x') + "\n", "a.yaml");
  EXPECT_EQ(render(problemAt("a", "wrong", "a hint of more than ten columns"), document),
            "a.yaml:1:4: error: wrong\n > 1 | a: " + std::string(70, 'x') + "\n     |    ^" +
                std::string(59, '~') + "\n     | a hint of more than ten columns\n");
}

TEST(Diagnose, OrdersByPlaceAndKeepsErrorsFirst) {
  const Document document = read(kNight, "a.yaml");
  std::vector<Problem> problems{problemAt("loads", "third"), problemAt("title", "first"),
                                problemAt("bank.capacity", "second")};
  problems[1].severity = Problem::Severity::warning;
  const std::vector<Diagnostic> all = diagnose(problems, document);
  ASSERT_EQ(all.size(), 3U);
  EXPECT_EQ(all[0].message, "first");
  EXPECT_EQ(all[1].message, "second");
  EXPECT_EQ(all[2].message, "third");
  const std::vector<Diagnostic> two = diagnose(problems, document, 2);
  ASSERT_EQ(two.size(), 2U);
  EXPECT_EQ(two[0].message, "second");
  EXPECT_EQ(render(two), render(two[0]) + render(two[1]));
}

TEST(Quote, CutsLongTextsInTheMiddleOfNoCharacter) {
  EXPECT_EQ(quote("5 kW"), "'5 kW'");
  EXPECT_EQ(quote(std::string(40, 'a') + std::string(40, 'b')),
            "'" + std::string(30, 'a') + "..." + std::string(20, 'b') + "'");
  std::string umlauts = "x";
  for (int i = 0; i < 40; ++i) {
    umlauts += "ö";
  }
  const std::string quoted = quote(umlauts);
  EXPECT_EQ(render(problemAt("", quoted), read("a: 1\n")).find("\\x"), std::string::npos);
}

}  // namespace
}  // namespace nightbank::scenario
