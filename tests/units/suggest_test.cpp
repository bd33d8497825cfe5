#include "nightbank/units/suggest.h"

#include <array>
#include <string>

#include <gtest/gtest.h>

namespace nightbank {
namespace {

constexpr std::array<std::string_view, 7> kWords = {
    "capacity", "chemistry", "voltage", "rated_over", "start_at", "inverter", "generator"};

TEST(Suggest, FindsTheNearestWord) {
  EXPECT_EQ(nearest("capacity", kWords), "capacity");
  EXPECT_EQ(nearest("capasity", kWords), "capacity");
  EXPECT_EQ(nearest("capacty", kWords), "capacity");
  EXPECT_EQ(nearest("capaciity", kWords), "capacity");
  EXPECT_EQ(nearest("cpaacity", kWords), "capacity");
  EXPECT_EQ(nearest("CAPACITY", kWords), "capacity");
  EXPECT_EQ(nearest("Voltige", kWords), "voltage");
  EXPECT_EQ(nearest("ratedover", kWords), "rated_over");
}

TEST(Suggest, GivesUpBeyondThreeEdits) {
  constexpr std::array<std::string_view, 1> word = {"rated_over_hours"};
  EXPECT_EQ(nearest("ratdoverhours", word), "rated_over_hours");
  EXPECT_EQ(nearest("ratdoverhour", word), "");
}

TEST(Suggest, GivesUpBeyondHalfOfTheTypedLength) {
  constexpr std::array<std::string_view, 2> words = {"tilt", "hours"};
  EXPECT_EQ(nearest("tlt", words), "tilt");  // one edit of three letters
  EXPECT_EQ(nearest("tl", words), "");       // two of two
  EXPECT_EQ(nearest("houses", words), "hours");
  EXPECT_EQ(nearest("h", words), "");
  EXPECT_EQ(nearest("", words), "");
}

TEST(Suggest, CountsSwappedNeighboursOnceButNotAPartTwice) {
  constexpr std::array<std::string_view, 1> word = {"abc"};
  EXPECT_EQ(nearest("acb", word), "abc");  // one edit of three letters
  // "ca" to "abc" takes three; two only if a letter could be put between a swapped pair.
  EXPECT_EQ(nearest("caxx", std::array<std::string_view, 1>{"abcxx"}), "");
}

TEST(Suggest, TiesGoToTheEarlierWord) {
  EXPECT_EQ(nearest("bat", std::array<std::string_view, 2>{"cat", "hat"}), "cat");
  EXPECT_EQ(nearest("bat", std::array<std::string_view, 2>{"hat", "cat"}), "hat");
}

TEST(Suggest, NothingComesFromNoWordsOrAHugeText) {
  EXPECT_EQ(nearest("capacity", {}), "");
  EXPECT_EQ(nearest(std::string(1 << 24, 'c'), kWords), "");
}

}  // namespace
}  // namespace nightbank
