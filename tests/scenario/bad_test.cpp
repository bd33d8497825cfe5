// Every wrong scenario of tests/bad/ against the whole text that a person gets to read: NAME.yaml
// is refused with exactly NAME.expected. What cannot well be a file is made here.

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>
#include <string>
#include <variant>
#include <vector>

#include <gtest/gtest.h>

#include "nightbank/scenario/document.h"
#include "nightbank/scenario/problem.h"
#include "nightbank/scenario/reader.h"

namespace nightbank::scenario {
namespace {

namespace fs = std::filesystem;

constexpr const char* kFolder = NIGHTBANK_SOURCE_DIR "/tests/bad";

std::string contentOf(const fs::path& path) {
  std::ifstream stream(path, std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

struct Reply {
  bool isAccepted;
  std::string text;
};

Reply replyTo(std::string text, const std::string& name) {
  const Parsed parsed = parseDocument(std::move(text), name);
  if (const auto* refusal = std::get_if<std::vector<Diagnostic>>(&parsed))
    return {false, render(*refusal)};
  const auto& document = std::get<Document>(parsed);
  const ReadResult result = readScenario(document);
  return {result.scenario.has_value(), render(diagnose(result.problems, document))};
}

std::set<std::string> stemsWith(const std::string& extension) {
  std::set<std::string> stems;
  for (const fs::directory_entry& entry : fs::directory_iterator(kFolder))
    if (entry.path().extension() == extension)
      stems.insert(entry.path().stem().string());
  return stems;
}

TEST(Bad, EveryFileHasItsMessage) {
  EXPECT_EQ(stemsWith(".yaml"), stemsWith(".expected"));
  EXPECT_GE(stemsWith(".yaml").size(), 45U);
  for (const fs::directory_entry& entry : fs::directory_iterator(kFolder))
    EXPECT_TRUE(entry.path().extension() == ".yaml" || entry.path().extension() == ".expected")
        << entry.path();
}

TEST(Bad, EveryFileIsRefusedWithItsWholeMessage) {
  for (const std::string& stem : stemsWith(".yaml")) {
    const fs::path path = fs::path(kFolder) / (stem + ".yaml");
    const Reply reply = replyTo(contentOf(path), stem + ".yaml");
    EXPECT_FALSE(reply.isAccepted) << stem;
    EXPECT_EQ(reply.text, contentOf(fs::path(kFolder) / (stem + ".expected"))) << stem;
  }
}

TEST(Bad, MessagesAreFitForATerminal) {
  for (const std::string& stem : stemsWith(".expected")) {
    const std::string text = contentOf(fs::path(kFolder) / (stem + ".expected"));
    EXPECT_TRUE(text.ends_with('\n')) << stem;
    EXPECT_TRUE(std::ranges::all_of(text, [](char c) { return c == '\n' || (c >= 32 && c < 127); }))
        << stem;
  }
}

std::string repeated(const std::string& text, int count) {
  std::string all;
  for (int i = 0; i < count; ++i)
    all += text;
  return all;
}

TEST(Bad, DeepNestingIsRefusedBeforeItCostsAnything) {
  EXPECT_EQ(replyTo("a: " + repeated("[", 40) + repeated("]", 40) + "\n", "deep.yaml").text,
            "deep.yaml:1:35: error: nested more than 32 deep\n"
            " > 1 | a: " +
                repeated("[", 40) + repeated("]", 40) + "\n     | " + repeated(" ", 34) + "^\n");
  EXPECT_EQ(replyTo("a: " + repeated("[", 100000) + "\n", "deep.yaml").text,
            "deep.yaml:1:1004: error: more than 1000 brackets are open\n"
            " > 1 | ..." +
                repeated("[", 86) + "...\n     | " + repeated(" ", 33) + "^\n");
  const Reply byLists = replyTo(repeated("- ", 100000) + "x\n", "deep.yaml");
  EXPECT_FALSE(byLists.isAccepted);
  EXPECT_EQ(byLists.text.substr(0, byLists.text.find('\n')),
            "deep.yaml:1:65: error: nested more than 32 deep");
}

TEST(Bad, AHundredMegabytesAreRefusedUnread) {
  EXPECT_EQ(replyTo(std::string(100'000'000, 'a'), "big.yaml").text,
            "big.yaml: error: the text has 100000000 bytes; a scenario has at most 1000000\n");
}

TEST(Bad, BytesThatAreNoTextAreRefused) {
  using namespace std::string_literals;
  EXPECT_EQ(replyTo("bank: \0"s, "nul.yaml").text,
            "nul.yaml: error: byte 7 is NUL; this is no text\n");
  EXPECT_EQ(replyTo("\xFF\xFEt\0i\0"s, "wide.yaml").text,
            "wide.yaml: error: the text is UTF-16; save it as UTF-8\n");
  EXPECT_EQ(replyTo("\x89PNG\r\n\x1a\n"s, "photo.yaml").text,
            "photo.yaml:1:1: error: byte 0x89 is no UTF-8\n"
            " > 1 | \\x89PNG\n"
            "     | ^~~~  save the file as UTF-8\n");
}

TEST(Bad, AtMostAHundredProblemsAreTold) {
  std::string text;
  for (int i = 0; i < 5000; ++i)
    text += "key" + std::to_string(i) + ": 1\n";
  const std::string told = replyTo(text, "many.yaml").text;
  std::size_t errors = 0;
  for (std::size_t at = told.find(" error: "); at != std::string::npos;
       at = told.find(" error: ", at + 1))
    ++errors;
  EXPECT_EQ(errors, 100U);
}

}  // namespace
}  // namespace nightbank::scenario
