#include "nightbank/report/text.h"

#include <gtest/gtest.h>

namespace nightbank::report {
namespace {

TEST(Text, WrappedLinesStayWithinTheWidthAndKeepTheirIndent) {
  const std::string text = wrapped(
      "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen "
      "sixteen seventeen",
      "- ", "  ");
  EXPECT_EQ(text,
            "- one two three four five six seven eight nine ten eleven twelve thirteen\n"
            "  fourteen fifteen sixteen seventeen\n");
}

TEST(Text, NumberAndUnitAreNotPartedByALineEnd) {
  const std::string filler(76, 'x');
  EXPECT_EQ(wrapped(filler + " 40 % left", "", ""), filler + "\n40 % left\n");
  EXPECT_EQ(wrapped(filler + " (40 %) left", "", ""), filler + "\n(40 %) left\n");
  EXPECT_EQ(wrapped(filler + " 40 men left", "", ""), filler + " 40\nmen left\n");
}

TEST(Text, AWordLongerThanALineIsBroken) {
  const std::string word(200, 'w');
  const std::string text = wrapped(word, "", "  ");
  EXPECT_EQ(text, std::string(80, 'w') + "\n  " + std::string(78, 'w') + "\n  " +
                      std::string(42, 'w') + "\n");
}

TEST(Text, WidthCountsColumnsAndNotBytes) {
  EXPECT_EQ(displayWidth("Zürich"), 6);
  EXPECT_EQ(displayWidth("e\u0301"), 1);  // a combining acute
  EXPECT_EQ(displayWidth("夜"), 2);       // East Asian wide, Unicode Standard Annex 11
  EXPECT_EQ(padRight("夜", 4), "夜  ");
  EXPECT_EQ(padLeft("ü", 3), "  ü");
}

TEST(Text, CutNeverPartsACharacter) {
  EXPECT_EQ(cut("夜夜夜夜", 8), "夜夜夜夜");
  EXPECT_EQ(cut("夜夜夜夜", 7), "夜夜..");
  EXPECT_EQ(cut("plain", 4), "pl..");
}

TEST(Text, PrintableLeavesNothingThatDrivesATerminal) {
  EXPECT_EQ(printable("a\x1b[31mb"), "a?[31mb");
  EXPECT_EQ(printable("a\u202eb"), "a?b");  // turns the direction of writing
  EXPECT_EQ(printable("a\tb\nc"), "a b c");
  EXPECT_EQ(printable("a\xff"), "a?");
  EXPECT_EQ(printable("Zürich 夜"), "Zürich 夜");
}

TEST(Text, TableColumnsAreAsWideAsTheirWidestCell) {
  EXPECT_EQ(table({{"", false}, {"Wh"}}, {{"lamp", "7"}, {"a fan", "1200"}}),
            "           Wh\n"
            "  lamp      7\n"
            "  a fan  1200\n");
}

}  // namespace
}  // namespace nightbank::report
