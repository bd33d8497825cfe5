#include "nightbank/scenario/document.h"

#include <gtest/gtest.h>

namespace nightbank::scenario {
namespace {

Document documentOf(const std::string& text) {
  Parsed parsed = parseDocument(text, "night.yaml");
  if (auto* errors = std::get_if<std::vector<Diagnostic>>(&parsed)) {
    ADD_FAILURE() << render(*errors);
    return {};
  }
  return std::get<Document>(std::move(parsed));
}

// "line:column+length" of a value, and the bytes that it takes.
std::string placeText(const Place& place) {
  return std::to_string(place.line) + ":" + std::to_string(place.column) + "+" +
         std::to_string(place.length);
}

std::string valuePlace(const Document& document, std::string_view path) {
  return placeText(document.placeOf(path));
}

std::string keyPlace(const Document& document, std::string_view path) {
  return placeText(document.placeOf(path, Problem::At::key));
}

std::string source(const Document& document, std::string_view path) {
  const Node* node = document.find(path);
  if (node == nullptr) {
    return "(none)";
  }
  return document.text.substr(node->place.offset, node->endOffset - node->place.offset);
}

std::string textAt(const Document& document, std::string_view path) {
  const Node* node = document.find(path);
  return node == nullptr ? "(none)" : node->text;
}

TEST(Document, KeepsScalarsAsTyped) {
  const Document document = documentOf(
      "a: 010\nb: no\nc: 22:00\nd: 4/0 AWG\ne: .nan\nf: '5 kW'\ng: \"x\\u00e9\"\nh: 50 %  # "
      "half\n");
  EXPECT_EQ(textAt(document, "a"), "010");
  EXPECT_EQ(textAt(document, "b"), "no");
  EXPECT_EQ(textAt(document, "c"), "22:00");
  EXPECT_EQ(textAt(document, "d"), "4/0 AWG");
  EXPECT_EQ(textAt(document, "e"), ".nan");
  EXPECT_EQ(textAt(document, "f"), "5 kW");
  EXPECT_EQ(textAt(document, "g"), "xé");
  EXPECT_EQ(textAt(document, "h"), "50 %");
  EXPECT_FALSE(document.find("a")->quoted);
  EXPECT_TRUE(document.find("f")->quoted);
  EXPECT_TRUE(document.find("g")->quoted);
}

TEST(Document, KeepsKeysInOrder) {
  const Document document = documentOf("c: 1\na: 2\nb: {z: 3, y: 4}\n");
  ASSERT_EQ(document.root.entries.size(), 3U);
  EXPECT_EQ(document.root.entries[0].key, "c");
  EXPECT_EQ(document.root.entries[1].key, "a");
  EXPECT_EQ(document.root.entries[2].node.entries[0].key, "z");
  EXPECT_EQ(document.root.entries[2].node.entries[1].key, "y");
}

TEST(Document, TellsNothingFromQuotedWords) {
  const Document document = documentOf("a:\nb: ~\nc: null\nd: \"null\"\ne: nullable\nf: ''\n");
  for (const char* path : {"a", "b", "c"}) {
    EXPECT_EQ(document.find(path)->kind, Node::Kind::null) << path;
  }
  for (const char* path : {"d", "e", "f"}) {
    EXPECT_EQ(document.find(path)->kind, Node::Kind::scalar) << path;
  }
  EXPECT_EQ(textAt(document, "a"), "");
  EXPECT_EQ(textAt(document, "c"), "null");
}

TEST(Document, PlacesBlockMapsAndLists) {
  const Document document = documentOf(
      "title: Hot night\n"
      "loads:\n"
      "  - name: fridge\n"
      "    power: 55 W\n"
      "  -\n"
      "    name: lights\n"
      "bank:\n"
      "  capacity: 5 kW\n");
  EXPECT_EQ(valuePlace(document, "title"), "1:8+9");
  EXPECT_EQ(keyPlace(document, "title"), "1:1+5");
  EXPECT_EQ(valuePlace(document, "loads"), "3:3+1");
  EXPECT_EQ(keyPlace(document, "loads"), "2:1+5");
  EXPECT_EQ(valuePlace(document, "loads[0]"), "3:5+4");
  EXPECT_EQ(valuePlace(document, "loads[0].power"), "4:12+4");
  EXPECT_EQ(valuePlace(document, "loads[1]"), "6:5+4");
  EXPECT_EQ(valuePlace(document, "bank"), "8:3+8");
  EXPECT_EQ(valuePlace(document, "bank.capacity"), "8:13+4");
  EXPECT_EQ(keyPlace(document, "bank.capacity"), "8:3+8");
  EXPECT_EQ(source(document, "loads[0]"), "name: fridge\n    power: 55 W");
}

TEST(Document, PlacesFlowMapsAndLists) {
  const Document document =
      documentOf("a: {b: [1, {c: 22 W}], d: , e}\nf: [g: 1]\nh: [\n  x,\n  y ]\n");
  EXPECT_EQ(valuePlace(document, "a"), "1:4+27");
  EXPECT_EQ(valuePlace(document, "a.b"), "1:8+14");
  EXPECT_EQ(valuePlace(document, "a.b[1]"), "1:12+9");
  EXPECT_EQ(valuePlace(document, "a.b[1].c"), "1:16+4");
  EXPECT_EQ(valuePlace(document, "a.d"), "1:25+1");  // left out: the colon
  EXPECT_EQ(valuePlace(document, "a.e"), "1:29+1");  // no colon either: the key
  EXPECT_EQ(source(document, "f[0]"), "g: 1");
  EXPECT_EQ(valuePlace(document, "h"), "3:4+1");  // to the end of its first line
  EXPECT_EQ(source(document, "h"), "[\n  x,\n  y ]");
}

TEST(Document, PlacesWhatWasLeftOut) {
  const Document document =
      documentOf("a:\n\n# remark: here\nb:  # none\nc:\n  - x\n  -\n  -\nd: 1\n");
  EXPECT_EQ(valuePlace(document, "a"), "1:2+1");
  EXPECT_EQ(valuePlace(document, "b"), "4:2+1");
  EXPECT_EQ(valuePlace(document, "c[1]"), "7:3+1");
  EXPECT_EQ(valuePlace(document, "c[2]"), "8:3+1");
}

TEST(Document, PlacesQuotedAndFoldedScalars) {
  const Document document = documentOf(
      "a: 'it''s'\n"
      "b: \"say \\\"x\\\"\" # c\n"
      "c: one\n"
      "  two   three\n"
      "\n"
      "  four\n"
      "d: >-\n"
      "   five\n"
      "\n"
      "     six\n"
      "  # no remark\n"
      "e: |2\n"
      "    seven\n"
      "   eight\n"
      "f: 'two\n"
      "  lines'\n");
  EXPECT_EQ(source(document, "a"), "'it''s'");
  EXPECT_EQ(valuePlace(document, "b"), "2:4+11");
  EXPECT_EQ(source(document, "b"), "\"say \\\"x\\\"\"");
  EXPECT_EQ(textAt(document, "c"), "one two   three\nfour");
  EXPECT_EQ(source(document, "c"), "one\n  two   three\n\n  four");
  EXPECT_EQ(valuePlace(document, "c"), "3:4+3");
  EXPECT_EQ(source(document, "d"), ">-\n   five\n\n     six");
  EXPECT_EQ(source(document, "e"), "|2\n    seven\n   eight");
  EXPECT_EQ(source(document, "f"), "'two\n  lines'");
  EXPECT_EQ(valuePlace(document, "f"), "15:4+4");
}

TEST(Document, CountsColumnsInBytes) {
  const Document document = documentOf("größe: {höhe: 2 m, tiefe: 3 m}\n");
  EXPECT_EQ(keyPlace(document, "größe"), "1:1+7");
  EXPECT_EQ(keyPlace(document, "größe.höhe"), "1:11+5");
  EXPECT_EQ(valuePlace(document, "größe.tiefe"), "1:30+3");
}

TEST(Document, TakesCarriageReturnsAndByteOrderMarks) {
  const std::string plain = "a: 1\nb:\n  - x\n  -\nc: \"y\n  z\"\nd: |\n  e\n  f\ng: 2\n";
  std::string windows = "\xEF\xBB\xBF";
  for (const char c : plain) {
    windows += c == '\n' ? "\r\n" : std::string(1, c);
  }
  const Document expected = documentOf(plain);
  const Document document = documentOf(windows);
  for (const char* path : {"", "a", "b", "b[0]", "b[1]", "c", "d", "g"}) {
    EXPECT_EQ(valuePlace(document, path), valuePlace(expected, path)) << path;
    EXPECT_EQ(textAt(document, path), textAt(expected, path)) << path;
  }
  EXPECT_EQ(source(document, "g"), "2");
  EXPECT_EQ(document.find("a")->place.offset, 6U);
  EXPECT_EQ(source(document, "d"), "|\r\n  e\r\n  f");
}

TEST(Document, TakesOneMarkedDocument) {
  EXPECT_EQ(valuePlace(documentOf("# remark\n---\na: 1\n...\n"), "a"), "3:4+1");
  EXPECT_EQ(valuePlace(documentOf("%YAML 1.2\n---\na: 1\n"), "a"), "3:4+1");
}

TEST(Document, TakesThirtyTwoLevels) {
  std::string text = "a: ";
  for (int i = 0; i < kMostDepth - 1; ++i) {
    text += '[';
  }
  text += "x" + std::string(static_cast<std::size_t>(kMostDepth) - 1, ']');
  EXPECT_EQ(valuePlace(documentOf(text), "a"), "1:4+63");
}

TEST(Document, TakesBracketsInTextAndRemarks) {
  const std::string brackets(40, '[');
  const Document document =
      documentOf("a: x" + brackets + "\nb: '" + brackets + "'\n# " + brackets);
  EXPECT_EQ(textAt(document, "a"), "x" + brackets);
}

TEST(DocumentPaths, LeadByNumberOrName) {
  const Document document = documentOf(
      "loads:\n"
      "  - {name: fridge, power: 1 W}\n"
      "  - {name: fridge.door, power: 2 W}\n"
      "  - {name: \"0\", power: 3 W}\n"
      "  - 4 W\n");
  EXPECT_EQ(textAt(document, "loads.fridge.power"), "1 W");
  EXPECT_EQ(textAt(document, "loads.fridge.door.power"), "2 W");
  EXPECT_EQ(textAt(document, "loads.0.power"), "3 W");  // the name wins
  EXPECT_EQ(textAt(document, "loads[0].power"), "1 W");
  EXPECT_EQ(textAt(document, "loads.1.power"), "2 W");
  EXPECT_EQ(textAt(document, "loads[3]"), "4 W");
  EXPECT_EQ(document.find(""), &document.root);
  for (const char* path : {"loads[4]", "loads[x]", "loads[0", "loads.-1", "loads[0]x", "load",
                           "loads.fridge.power.x", "loads..", "loads[99999999999999999999]"}) {
    EXPECT_EQ(document.find(path), nullptr) << path;
  }
}

TEST(DocumentPaths, TakeKeysWithDots) {
  const Document document = documentOf("set: {a.b.c: 1, a: {b: 2}}\n");
  EXPECT_EQ(textAt(document, "set.a.b.c"), "1");
  EXPECT_EQ(textAt(document, "set.a.b"), "2");
}

TEST(DocumentPaths, FallBackToTheKeyOfTheNearestParent) {
  const Document document = documentOf("title: x\nbank:\n  voltage: 12 V\nloads: [{name: a}]\n");
  EXPECT_EQ(valuePlace(document, "bank.capacity"), "2:1+4");
  EXPECT_EQ(valuePlace(document, "bank.rates[1].over"), "2:1+4");
  EXPECT_EQ(valuePlace(document, "loads[0].power"), "4:9+9");
  EXPECT_EQ(valuePlace(document, "inverter.idle"), "1:1+5");
}

TEST(DocumentPaths, AreJoined) {
  EXPECT_EQ(joinPath("bank", "capacity"), "bank.capacity");
  EXPECT_EQ(joinPath("", "bank"), "bank");
  EXPECT_EQ(joinPath("loads", std::size_t{1}), "loads[1]");
}

TEST(Snippet, AnswersToFullPaths) {
  Parsed parsed = parseSnippet("{each: {voltage: 6 V}}", "bank.batteries", "--set bank.batteries");
  ASSERT_TRUE(std::holds_alternative<Document>(parsed));
  const Document& document = std::get<Document>(parsed);
  EXPECT_TRUE(document.isSnippet);
  EXPECT_EQ(textAt(document, "bank.batteries.each.voltage"), "6 V");
  EXPECT_EQ(document.find("bank.voltage"), nullptr);
  EXPECT_EQ(document.find("bank.batteriesx"), nullptr);
  EXPECT_EQ(valuePlace(document, "bank.batteries.each.voltage"), "1:18+3");
  EXPECT_EQ(valuePlace(document, "bank.voltage"), "1:1+22");
}

TEST(Snippet, MayBeAnyValue) {
  const auto kindOf = [](const char* text) {
    const Parsed parsed = parseSnippet(text, "a", "--set a");
    return std::get<Document>(parsed).root.kind;
  };
  EXPECT_EQ(kindOf("5 kWh"), Node::Kind::scalar);
  EXPECT_EQ(kindOf("[\"21:00-06:00\"]"), Node::Kind::list);
  EXPECT_EQ(kindOf("{a: 1}"), Node::Kind::map);
  EXPECT_EQ(kindOf(""), Node::Kind::null);
  EXPECT_EQ(kindOf("~"), Node::Kind::null);
}

TEST(FlowText, GivesTheSameTreeAgain) {
  const std::string text =
      "{a: 5 kW, \"b c\": [\"22:00-07:00\", ~, {}, []], d: \"\", e: \"null\", f: \"- x\", g: -5 K, "
      "h: \"\\\"\\\\\\n\\u001b\", i: \"größe\"}";
  EXPECT_EQ(flowText(documentOf(text).root),
            "{a: 5 kW, b c: [\"22:00-07:00\", ~, {}, []], d: \"\", e: \"null\", f: \"- x\", "
            "g: -5 K, h: \"\\\"\\\\\\n\\u001b\", i: \"größe\"}");
  EXPECT_EQ(flowText(documentOf("a: x, y\nb:\n  - it's: 1\n").root),
            "{a: \"x, y\", b: [{\"it's\": 1}]}");
}

}  // namespace
}  // namespace nightbank::scenario
