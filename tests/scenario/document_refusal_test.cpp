// Every reason to refuse a text, with its whole message.

#include <chrono>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "nightbank/scenario/document.h"

namespace nightbank::scenario {
namespace {

std::string refusal(std::string text) {
  const Parsed parsed = parseDocument(std::move(text), "night.yaml");
  const auto* errors = std::get_if<std::vector<Diagnostic>>(&parsed);
  return errors == nullptr ? "(accepted)" : render(*errors);
}

std::string repeated(std::string_view piece, std::size_t times) {
  std::string all;
  for (std::size_t i = 0; i < times; ++i) {
    all += piece;
  }
  return all;
}

TEST(Refusal, OfAnEmptyText) {
  const std::string expected =
      "night.yaml: error: the scenario is empty; 'nightbank new' writes a starter\n";
  for (const char* text :
       {"", "\n \n", "# only a remark\n", "---\n", "~\n", "\xEF\xBB\xBF", "...\n"}) {
    EXPECT_EQ(refusal(text), expected) << text;
  }
}

TEST(Refusal, OfWhatIsNoMap) {
  EXPECT_EQ(refusal("- a\n"),
            R"(night.yaml:1:1: error: a scenario is a map of keys such as bank; this is a list
 > 1 | - a
     | ^
)");
  EXPECT_EQ(refusal("capacity:5\n"),
            R"(night.yaml:1:1: error: a scenario is a map of keys such as bank; this is one value
 > 1 | capacity:5
     | ^~~~~~~~~~  a blank follows the ':' of a key
)");
}

TEST(Refusal, OfHugeTextsIsInstant) {
  // The bounds in this file are against a hang, wide enough for any machine.
  const auto start = std::chrono::steady_clock::now();
  EXPECT_EQ(refusal(std::string(100'000'000, 'a')),
            "night.yaml: error: the text has 100000000 bytes; a scenario has at most 1000000\n");
  EXPECT_LT(std::chrono::steady_clock::now() - start, std::chrono::seconds(20));
}

TEST(Refusal, OfWhatIsNoText) {
  EXPECT_EQ(refusal(std::string("a: \0b", 5)),
            "night.yaml: error: byte 4 is NUL; this is no text\n");
  EXPECT_EQ(refusal(std::string("\xFF\xFE"
                                "a\0",
                                4)),
            "night.yaml: error: the text is UTF-16; save it as UTF-8\n");
  EXPECT_EQ(refusal("a: 1\nb: K\xFChlung\n"), R"(night.yaml:2:5: error: byte 0xFC is no UTF-8
   1 | a: 1
 > 2 | b: K\xfchlung
     |     ^~~~  save the file as UTF-8
)");
  EXPECT_EQ(refusal("a: x\x1B[31m\n"),
            R"(night.yaml:1:5: error: control character U+001B in the text
 > 1 | a: x\x1b[31m
     |     ^~~~  delete it
)");
  EXPECT_EQ(refusal("a: 1\rb: 2\r"), R"(night.yaml:1:5: error: a carriage return without line feed
 > 1 | a: 1\x0db: 2\x0d
     |     ^~~~  end lines with LF or CRLF
)");
}

// RFC 3629 section 3 and section 10: overlong forms, surrogates and codes over U+10FFFF.
TEST(Refusal, OfInvalidUtf8) {
  for (const char* text :
       {"a: \xC0\x80", "a: \xE0\x80\xAF", "a: \xED\xA0\x80", "a: \xF4\x90\x80\x80", "a: \x80",
        "a: \xE2\x82", "a: \xF8\x88\x80\x80\x80"}) {
    EXPECT_NE(refusal(text).find("is no UTF-8"), std::string::npos) << text;
  }
  EXPECT_EQ(refusal("a: \xF0\x9F\x8C\x99\n"), "(accepted)");
}

TEST(Refusal, OfDeepNesting) {
  const std::string text = "a: " + std::string(32, '[') + std::string(32, ']');
  EXPECT_EQ(refusal(text), R"(night.yaml:1:35: error: nested more than 32 deep
 > 1 | a: [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]
     |                                   ^
)");
  std::string block;
  for (std::size_t i = 0; i < 33; ++i) {
    block += std::string(i, ' ') + "a:\n";
  }
  block += std::string(33, ' ') + "b";
  EXPECT_NE(refusal(block).find("night.yaml:33:33: error: nested more than 32 deep\n"),
            std::string::npos);
}

TEST(Refusal, OfNestingBombsIsInstant) {
  const auto start = std::chrono::steady_clock::now();
  for (const char* piece : {"[", "{", "- ", "? ", "{a: ", "[[", "-\t"}) {
    const std::string message = refusal(repeated(piece, 999'000 / std::string(piece).size()));
    EXPECT_NE(message.find("error: "), std::string::npos) << piece;
    EXPECT_LT(message.size(), 1000U) << piece;
  }
  EXPECT_LT(std::chrono::steady_clock::now() - start, std::chrono::seconds(60));
}

TEST(Refusal, OfAnchorsAliasesTagsAndMergeKeys) {
  EXPECT_EQ(refusal("a: &x 1\nb: *x\n<<: *x\nc: !!int 5\nd: ! e\n"),
            R"(night.yaml:1:4: error: anchors (&) are not read
 > 1 | a: &x 1
     |    ^~  write the value out
night.yaml:2:4: error: aliases (*) are not read
   1 | a: &x 1
 > 2 | b: *x
     |    ^~  write the value out
night.yaml:3:1: error: merge keys (<<) are not read
   2 | b: *x
 > 3 | <<: *x
     | ^~  write the lines out
night.yaml:3:5: error: aliases (*) are not read
   2 | b: *x
 > 3 | <<: *x
     |     ^~  write the value out
night.yaml:4:4: error: tags (!) are not read
   3 | <<: *x
 > 4 | c: !!int 5
     |    ^~~~~  delete it, or put the text in quotes
night.yaml:5:4: error: tags (!) are not read
   4 | c: !!int 5
 > 5 | d: ! e
     |    ^  delete it, or put the text in quotes
)");
  EXPECT_EQ(refusal("a: *x\n"), R"(night.yaml:1:4: error: aliases (*) are not read
 > 1 | a: *x
     |    ^  put the text in quotes
)");
}

TEST(Refusal, OfAliasBombsIsInstant) {
  std::string bomb = "a0: &a0 [x, x, x, x, x, x, x, x, x]\n";
  for (int i = 1; i < 30; ++i) {
    const std::string last = "*a" + std::to_string(i - 1);
    bomb += "a" + std::to_string(i) + ": &a" + std::to_string(i) + " [" + last + ", " + last +
            ", " + last + ", " + last + ", " + last + ", " + last + "]\n";
  }
  const auto start = std::chrono::steady_clock::now();
  EXPECT_NE(refusal(bomb).find("1:5: error: anchors (&) are not read"), std::string::npos);
  EXPECT_LT(std::chrono::steady_clock::now() - start, std::chrono::seconds(20));
}

TEST(Refusal, OfFurtherDocuments) {
  EXPECT_EQ(refusal("a: 1\n---\nb: 1\n"),
            R"(night.yaml:2:1: error: a second document begins here; a scenario is one document
   1 | a: 1
 > 2 | ---
     | ^~~
)");
  EXPECT_EQ(refusal("{a: 1} b\n"), R"(night.yaml:1:8: error: text after the end of the scenario
 > 1 | {a: 1} b
     |        ^
)");
}

TEST(Refusal, OfKeysGivenTwice) {
  EXPECT_EQ(refusal("bank:\n  voltage: 12 V\n  capacity: 1 Ah\n  voltage: 24 V\n"),
            R"(night.yaml:4:3: error: bank.voltage is given twice
   3 |   capacity: 1 Ah
 > 4 |   voltage: 24 V
     |   ^~~~~~~
 > 2 |   voltage: 12 V
     |   ^~~~~~~  first given here
)");
  EXPECT_EQ(refusal("loads: [{power: 1 W}, {power: 2 W, 'power': 3 W}]\n"),
            R"(night.yaml:1:36: error: loads[1].power is given twice
 > 1 | loads: [{power: 1 W}, {power: 2 W, 'power': 3 W}]
     |                                    ^~~~~~~
     |                        ^~~~~  first given here
)");
}

TEST(Refusal, OfKeysThatAreNoWords) {
  EXPECT_EQ(refusal("? [a]\n: 1\n? {b: 2}\n: 3\n: 4\n~: 5\n'': 6\n"),
            R"(night.yaml:1:3: error: a key is one word; this is a list
 > 1 | ? [a]
     |   ^~~
night.yaml:3:3: error: a key is one word; this is a map
   2 | : 1
 > 3 | ? {b: 2}
     |   ^~~~~~
night.yaml:5:1: error: a key is missing here
   4 | : 3
 > 5 | : 4
     | ^
night.yaml:6:1: error: '~' is no key
   5 | : 4
 > 6 | ~: 5
     | ^
night.yaml:7:1: error: a key is missing here
   6 | ~: 5
 > 7 | '': 6
     | ^~
)");
}

TEST(Refusal, OfMissingItems) {
  EXPECT_EQ(refusal("a: [x,, y]\nb: [x, ]\n"), R"(night.yaml:1:7: error: an item is missing here
 > 1 | a: [x,, y]
     |       ^
)");
}

TEST(Refusal, ReportsAtMostAHundredProblems) {
  const Parsed parsed = parseDocument(repeated("a: 1\n", 200'000), "night.yaml");
  EXPECT_EQ(std::get<std::vector<Diagnostic>>(parsed).size(), 100U);
}

struct Refusal {
  const char* text;
  const char* expected;
};

TEST(Refusal, OfBadSyntaxSaysWhatToMend) {
  const std::vector<Refusal> cases{
      {"a:\n  b: 1\n c: 2\n", R"(night.yaml:3:2: error: this line fits no line above it
   2 |   b: 1
 > 3 |  c: 2
     |  ^  check the indentation
)"},
      {"a: 1\n- b\n", R"(night.yaml:2:1: error: a list item among keys
   1 | a: 1
 > 2 | - b
     | ^  check the indentation
)"},
      {"a:1\nb: 2\n",
       R"(night.yaml:2:2: error: this ':' makes no key: the text of the line above runs on to here
   1 | a:1
 > 2 | b: 2
     |  ^  check the indentation, and the blank after each ':'
)"},
      {"title: Ridge: two nights\n", R"(night.yaml:1:13: error: a second ':' in one value
 > 1 | title: Ridge: two nights
     |             ^  put the text in quotes
)"},
      {"a: \"b\" c\n", R"(night.yaml:1:8: error: unexpected text behind a value
 > 1 | a: "b" c
     |        ^  put the whole in quotes, or begin a new line
)"},
      {"a: 1\nb: \"x\nc: 1\n", R"(night.yaml:2:4: error: this quote is never closed
   1 | a: 1
 > 2 | b: "x
     |    ^
)"},
      {"a: 'x\n", R"(night.yaml:1:4: error: this quote is never closed
 > 1 | a: 'x
     |    ^
)"},
      {"a: [1, \"b\", \"c\nd: 2\n", R"(night.yaml:1:13: error: this quote is never closed
 > 1 | a: [1, "b", "c
     |             ^
)"},
      {"a: [1, 2\n", R"(night.yaml:1:4: error: this '[' is never closed
 > 1 | a: [1, 2
     |    ^
)"},
      {"a: {x: 1, y: 2\nb: 1\n", R"(night.yaml:2:2: error: expected ',' or '}'
   1 | a: {x: 1, y: 2
 > 2 | b: 1
     |  ^
 > 1 | a: {x: 1, y: 2
     |    ^  opened here
)"},
      {"a: {x: 1]\n", R"(night.yaml:1:9: error: ']' cannot close '{'
 > 1 | a: {x: 1]
     |         ^
     |    ^  opened here
)"},
      {"a: {b: [1}\n", R"(night.yaml:1:10: error: '}' cannot close '['
 > 1 | a: {b: [1}
     |          ^
     |        ^  opened here
)"},
      {"a: [1]]\n", R"(night.yaml:1:7: error: this ']' closes nothing
 > 1 | a: [1]]
     |       ^
)"},
      {"a:\n\tb: 1\n", R"(night.yaml:2:1: error: a tab in the indentation
   1 | a:
 > 2 |  b: 1
     | ^  YAML indents with blanks only
)"},
      {"a: %x\n", R"(night.yaml:1:4: error: a value cannot begin with '%'
 > 1 | a: %x
     |    ^  put the text in quotes
)"},
      {"a: - b\n", R"(night.yaml:1:4: error: a list item cannot begin here
 > 1 | a: - b
     |    ^  begin the list on a line of its own
)"},
      {"a: \"\\q\"\n", R"(night.yaml:1:7: error: this escape (\) is not understood
 > 1 | a: "\q"
     |       ^  single quotes take '\' as it is
)"},
      {"a: |x\n  y\n", R"(night.yaml:1:5: error: unexpected text behind | or >
 > 1 | a: |x
     |     ^  begin the text on the next line
)"},
      {"a: \"x\n---\n\"\n", R"(night.yaml:2:1: error: '---' or '...' inside a quoted text
   1 | a: "x
 > 2 | ---
     | ^
)"},
      {"%TAG ! x\n%TAG ! x\n---\na: 1\n", R"(night.yaml:2:1: error: tags (!) are not read
   1 | %TAG ! x
 > 2 | %TAG ! x
     | ^  delete this line
)"},
  };
  for (const Refusal& each : cases) {
    EXPECT_EQ(refusal(each.text), each.expected);
  }
}

TEST(Refusal, ShowsWhatWasFoundBeforeTheSyntaxError) {
  EXPECT_EQ(refusal("a: 1\na: 2\nb: [\n"), R"(night.yaml:2:1: error: a is given twice
   1 | a: 1
 > 2 | a: 2
     | ^
 > 1 | a: 1
     | ^  first given here
night.yaml:3:4: error: this '[' is never closed
   2 | a: 2
 > 3 | b: [
     |    ^
)");
}

}  // namespace
}  // namespace nightbank::scenario
