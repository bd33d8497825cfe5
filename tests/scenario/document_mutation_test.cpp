// Thousands of seeded byte edits of a sample: never a crash or a hang, always either a document
// whose places hold, or at least one problem with a place inside the text.

#include <algorithm>
#include <chrono>
#include <random>
#include <string>

#include <gtest/gtest.h>

#include "nightbank/scenario/document.h"

namespace nightbank::scenario {
namespace {

using namespace std::literals;

constexpr std::string_view kSample = R"(# a night on the ridge
title: "Ridge: \"two\" nights, größe"
mains: 120 V
period: {night_of: 2026-07-18, step: 300 s}   # 17:00 to 09:00
air_conditioners:
  - name: roof
    hours: ["21:30-06:30", '22:00-23:00']
    running: {current: 13.1 A measured, outdoor: 95 degF}
    duty: [{from: "20:30", share: 65 %}, {from: 02:00, share: 40 %}]
  - {name: floor, fed_from: [inverter, generator], fan: {mode: auto}}
loads:
  - name: fridge
    power: 55 W
  -
  - - nested
    - list
notes: >-
  folded
    more

  text
more: |+2
    kept
  as is

plain: one
  two
empty:
gone: ~
bank: {chemistry: agm, capacity: 200 Ah, rates: [{over: 20 h}, {over: 5 h,}], last: }
? explicit
: key
)";

// What a byte becomes: mostly YAML's own signs, since random letters change little.
constexpr std::string_view kSigns =
    "[]{}:,-?&*!|>'\"%@`#~<=.\\ \t\n\r\0\xC3\xFF"
    "aZ0"sv;

class Mutator {
 public:
  explicit Mutator(unsigned seed) : random_(seed) {}

  std::string mutated(std::string_view sample) {
    std::string text(sample);
    const std::size_t edits = 1 + below(4);
    for (std::size_t i = 0; i < edits; ++i) {
      edit(text);
    }
    return text;
  }

 private:
  std::size_t below(std::size_t bound) { return random_() % bound; }

  void edit(std::string& text) {
    const std::size_t at = below(text.size() + 1);
    const std::size_t length = std::min(1 + below(8), text.size() - at);
    switch (below(5)) {
      case 0:
        text.insert(at, 1, kSigns[below(kSigns.size())]);
        break;
      case 1:
        text.erase(at, length);
        break;
      case 2:
        text.insert(below(text.size() + 1), text.substr(at, 4 * length));
        break;
      case 3:
        text.resize(text.size() - below(text.size() / 8 + 1));
        break;
      default:
        text.replace(at, length, length, kSigns[below(kSigns.size())]);
        break;
    }
  }

  std::mt19937 random_;  // its sequence is fixed by the C++ standard
};

// Lines as an editor counts them, for comparison.
bool isPlaceOf(const std::string& text, const Place& place) {
  const std::size_t mark = text.rfind("\xEF\xBB\xBF", 0) == 0 ? 3 : 0;
  const std::string before = text.substr(0, place.offset);
  const auto line = 1 + std::count(before.begin(), before.end(), '\n');
  const std::size_t start = line == 1 ? mark : before.rfind('\n') + 1;
  const auto column = static_cast<int>(place.offset - std::min(start, place.offset)) + 1;
  return place.offset <= text.size() && place.line == line && place.column == column &&
         place.length >= 1;
}

void expectGoodPlaces(const std::string& text, const Node& node, std::size_t first,
                      std::size_t last) {
  ASSERT_TRUE(isPlaceOf(text, node.place)) << text;
  ASSERT_TRUE(isPlaceOf(text, node.keyPlace)) << text;
  ASSERT_GE(node.place.offset, first) << text;
  ASSERT_LE(node.place.offset, node.endOffset) << text;
  ASSERT_LE(node.endOffset, last) << text;
  for (const Entry& entry : node.entries) {
    expectGoodPlaces(text, entry.node, node.place.offset, node.endOffset);
  }
  for (const Node& item : node.items) {
    expectGoodPlaces(text, item, node.place.offset, node.endOffset);
  }
}

void expectEqualTrees(const Node& a, const Node& b) {
  ASSERT_EQ(a.kind, b.kind);
  ASSERT_TRUE(a.kind == Node::Kind::null || a.text == b.text) << a.text << " / " << b.text;
  ASSERT_EQ(a.entries.size(), b.entries.size());
  ASSERT_EQ(a.items.size(), b.items.size());
  for (std::size_t i = 0; i < a.entries.size(); ++i) {
    ASSERT_EQ(a.entries[i].key, b.entries[i].key);
    expectEqualTrees(a.entries[i].node, b.entries[i].node);
  }
  for (std::size_t i = 0; i < a.items.size(); ++i) {
    expectEqualTrees(a.items[i], b.items[i]);
  }
}

void expectRoundTrip(const Node& root) {
  const std::string flow = flowText(root);
  const Parsed again = parseSnippet(flow, "", "flow");
  ASSERT_TRUE(std::holds_alternative<Document>(again))
      << flow << '\n'
      << render(std::get<std::vector<Diagnostic>>(again));
  expectEqualTrees(root, std::get<Document>(again).root);
}

void expectGoodMessages(const std::string& text, const std::vector<Diagnostic>& problems) {
  ASSERT_FALSE(problems.empty());
  for (const Diagnostic& problem : problems) {
    ASSERT_TRUE(isPlaceOf(text, problem.place)) << text;
    ASSERT_EQ(problem.message.find("this is no YAML"), std::string::npos) << problem.message;
    for (const char c : render(problem)) {
      ASSERT_TRUE(c == '\n' || static_cast<unsigned char>(c) >= 0x20) << render(problem);
    }
  }
}

TEST(DocumentMutations, GiveADocumentOrAProblem) {
  ASSERT_TRUE(std::holds_alternative<Document>(parseDocument(std::string(kSample), "night.yaml")));
  constexpr int kTexts = 5'000;
  Mutator mutator(20260718);
  int documents = 0;
  const auto start = std::chrono::steady_clock::now();
  for (int i = 0; i < kTexts && !HasFatalFailure(); ++i) {
    const std::string text = mutator.mutated(kSample);
    const Parsed parsed = parseDocument(text, "night.yaml");
    if (const auto* document = std::get_if<Document>(&parsed)) {
      ++documents;
      expectGoodPlaces(text, document->root, 0, text.size());
      expectRoundTrip(document->root);
    } else {
      expectGoodMessages(text, std::get<std::vector<Diagnostic>>(parsed));
    }
  }
  // Both ways out were walked.
  EXPECT_GT(documents, kTexts / 20);
  EXPECT_LT(documents, kTexts - kTexts / 20);
  EXPECT_LT(std::chrono::steady_clock::now() - start, std::chrono::minutes(2));
}

TEST(DocumentMutations, OfEveryCutEnd) {
  for (std::size_t length = 0; length < kSample.size(); ++length) {
    const std::string text(kSample.substr(0, length));
    const Parsed parsed = parseDocument(text, "night.yaml");
    if (const auto* document = std::get_if<Document>(&parsed)) {
      expectGoodPlaces(text, document->root, 0, text.size());
    } else {
      expectGoodMessages(text, std::get<std::vector<Diagnostic>>(parsed));
    }
    ASSERT_FALSE(HasFatalFailure()) << length;
  }
}

}  // namespace
}  // namespace nightbank::scenario
