#include <string>
#include <vector>

#include "../units/text_lines.h"
#include "process.h"
#include <gtest/gtest.h>

/// The README shows what the program prints today. A block
///
///     ```console
///     $ nightbank run ...
///     output
///     [...]
///     ```
///
/// is run and compared line by line; "[...]" stands for lines left out. A block of a command alone
/// is not run.
namespace nightbank::cli {
namespace {

using test::linesOf;

using Lines = std::vector<std::string>;

struct Example {
  std::string command;
  Lines shown;
};

std::vector<Example> examplesOf(const std::string& readme) {
  std::vector<Example> examples;
  bool inside = false;
  for (const std::string& line : linesOf(readme)) {
    if (line.starts_with("```"))
      inside = line == "```console";
    else if (inside && line.starts_with("$ nightbank "))
      examples.push_back({line.substr(12), {}});
    else if (inside && !examples.empty())
      examples.back().shown.push_back(line);
  }
  return examples;
}

/// Words of a command line; double quotes keep blanks. Scenarios are found from any folder.
std::vector<std::string> wordsOf(const std::string& command) {
  std::vector<std::string> words{""};
  bool quoted = false;
  for (const char c : command) {
    if (c == '"')
      quoted = !quoted;
    else if (c == ' ' && !quoted)
      words.emplace_back();
    else
      words.back() += c;
  }
  for (std::string& word : words)
    if (word.starts_with("scenarios/"))
      word = scenarioFile(word.substr(10));
  return words;
}

/// Whether `shown` is what was printed, up to the lines left out at each "[...]".
bool matches(const Lines& shown, const Lines& printed) {
  std::size_t at = 0;
  bool mayLeaveOut = false;
  for (const std::string& line : shown) {
    if (line == "[...]") {
      mayLeaveOut = true;
      continue;
    }
    while (mayLeaveOut && at < printed.size() && printed[at] != line)
      ++at;
    if (at >= printed.size() || printed[at] != line)
      return false;
    ++at;
    mayLeaveOut = false;
  }
  return mayLeaveOut || at == printed.size();
}

TEST(Readme, ShowsWhatTheProgramPrints) {
#ifdef NIGHTBANK_SANITIZED
  GTEST_SKIP() << "takes half a minute there; each command has a test of its own";
#endif
  int compared = 0;
  for (const Example& example : examplesOf(fileText(NIGHTBANK_SOURCE_DIR "/README.md"))) {
    if (example.shown.empty())
      continue;
    const Ran ran = run(wordsOf(example.command));
    EXPECT_TRUE(matches(example.shown, linesOf(ran.err + ran.out)))
        << "nightbank " << example.command << " prints:\n"
        << ran.err << ran.out;
    ++compared;
  }
  EXPECT_GE(compared, 5);
}

TEST(Readme, ComparisonSeesAChangedAMissingAndAnAddedLine) {
  const Lines printed{"a", "b", "c", "d"};
  EXPECT_TRUE(matches({"a", "b", "c", "d"}, printed));
  EXPECT_TRUE(matches({"a", "[...]", "d"}, printed));
  EXPECT_TRUE(matches({"a", "[...]"}, printed));
  EXPECT_FALSE(matches({"a", "x", "c", "d"}, printed));
  EXPECT_FALSE(matches({"a", "b", "d"}, printed));
  EXPECT_FALSE(matches({"a", "b", "c"}, printed));
  EXPECT_FALSE(matches({"a", "[...]", "e"}, printed));
}

}  // namespace
}  // namespace nightbank::cli
