// Nonsense edits of the committed scenarios. Each is refused with a message, or goes the whole way
// to the report: no crash, no number that is not finite, books that balance. Seeded; nothing here
// knows what the answer should be.

#include <algorithm>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <variant>
#include <vector>

#include "../devices/draws.h"
#include "mutations.h"
#include "whole_chain.h"
#include <gtest/gtest.h>

#include "nightbank/scenario/document.h"
#include "nightbank/scenario/problem.h"
#include "nightbank/scenario/reader.h"

namespace nightbank {
namespace {

constexpr std::uint64_t kMutationSeed = 20310718;
constexpr std::uint64_t kMutations = 300 / test::kFewer;

std::string fileText(const std::filesystem::path& path) {
  std::ifstream stream(path, std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

// The one weather file beside the committed scenarios, whatever a mutation calls it.
const WeatherSeries& committedWeather() {
  static const WeatherSeries series = std::get<WeatherSeries>(
      parseWeather(fileText(NIGHTBANK_SOURCE_DIR "/scenarios/quarry_pond.csv")));
  return series;
}

std::vector<std::string> committedScenarios() {
  std::map<std::string, std::string> texts;  // in the order of their names
  for (const auto& entry : std::filesystem::directory_iterator(NIGHTBANK_SOURCE_DIR "/scenarios")) {
    if (entry.path().extension() != ".yaml")
      continue;
    texts[entry.path().filename()] = fileText(entry.path());
  }
  std::vector<std::string> all;
  for (auto& [name, text] : texts)
    all.push_back(std::move(text));
  return all;
}

void expectClearMessages(const std::string& text,
                         const std::vector<scenario::Diagnostic>& messages) {
  EXPECT_FALSE(messages.empty());
  const auto lines = static_cast<int>(std::count(text.begin(), text.end(), '\n')) + 1;
  for (const scenario::Diagnostic& message : messages) {
    EXPECT_FALSE(message.message.empty());
    EXPECT_FALSE(hasNoNumber(message.message)) << message.message;
    EXPECT_LE(message.place.line, lines) << message.message;
    EXPECT_EQ(message.message.find('\n'), std::string::npos) << message.message;
  }
}

// Whether the text was accepted.
bool goesThroughOrIsRefused(const std::string& text) {
  const scenario::Parsed parsed = scenario::parseDocument(text, "night.yaml");
  if (const auto* refusal = std::get_if<std::vector<scenario::Diagnostic>>(&parsed)) {
    expectClearMessages(text, *refusal);
    return false;
  }
  const auto& document = std::get<scenario::Document>(parsed);
  const scenario::ReadResult read = scenario::readScenario(document);
  if (read.scenario)
    expectSoundAnswerTo(*read.scenario, &committedWeather());
  else
    expectClearMessages(text, scenario::diagnose(read.problems, document));
  return read.scenario.has_value();
}

TEST(MutatedScenarios, WordsForWhatIsNoNumberAreSeen) {
  for (const char* text : {"at most inf % of it", "(nan W)", "-nan", "from -inf, 3"})
    EXPECT_TRUE(hasNoNumber(text)) << text;
  for (const char* text : {"an infant", "-2.5 kWh", "information", "- none (any)"})
    EXPECT_FALSE(hasNoNumber(text)) << text;
}

TEST(MutatedScenarios, AreRefusedOrAnswered) {
  const std::vector<std::string> texts = committedScenarios();
  ASSERT_FALSE(texts.empty());
  std::uint64_t accepted = 0;
  for (std::uint64_t i = 0; i < kMutations; ++i) {
    mutation::Draws draws(kMutationSeed, i);
    const std::string text = mutation::mutated(texts[draws.below(texts.size())], draws);
    SCOPED_TRACE(text);
    accepted += goesThroughOrIsRefused(text) ? 1U : 0U;
    if (::testing::Test::HasFailure())
      break;
  }
  // Both ways must have been gone.
  EXPECT_GT(accepted, kMutations / 15);
  EXPECT_LT(accepted, kMutations / 2);
}

}  // namespace
}  // namespace nightbank
