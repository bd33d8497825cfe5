#include "nightbank/scenario/field.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <set>
#include <string>

#include "samples.h"
#include <gtest/gtest.h>

#include "nightbank/scenario/fields.h"

namespace nightbank::scenario {
namespace {

using Visit = std::function<void(const Spec&, const Field&, const std::string& path)>;

void visitBelow(const Spec& spec, const std::string& path, const Visit& visit) {
  for (const Field& field : spec.fields) {
    const std::string fieldPath = joinPath(path, field.key);
    visit(spec, field, fieldPath);
    if (field.spec != nullptr)
      visitBelow(field.spec(), fieldPath, visit);
  }
}

void visitAll(const Visit& visit) {
  visitBelow(specOf<Scenario>(), "", visit);
}

TEST(Field, EntriesOfOneKeyStandTogether) {
  visitAll([](const Spec& spec, const Field& field, const std::string& path) {
    const auto count = std::ranges::count(spec.fields, field.key, &Field::key);
    EXPECT_EQ(spec.find(field.key).size(), static_cast<std::size_t>(count)) << path;
  });
}

TEST(Field, EveryValueSaysWhereAPersonFindsIt) {
  visitAll([](const Spec&, const Field& field, const std::string& path) {
    EXPECT_FALSE(field.help.empty()) << path;
    EXPECT_TRUE(field.items != nullptr || field.help.ends_with(')')) << path << field.help;
  });
}

TEST(Field, EveryConstantTypicalValueLiesInItsRange) {
  visitAll([](const Spec&, const Field& field, const std::string& path) {
    if (std::isnan(field.typical.value))
      return;
    EXPECT_LE(field.typical.low, field.typical.value) << path;
    EXPECT_GE(field.typical.high, field.typical.value) << path;
    EXPECT_TRUE(field.range.holds(field.typical.low)) << path;
    EXPECT_TRUE(field.range.holds(field.typical.high)) << path;
    EXPECT_FALSE(field.typicalText.empty()) << path;
  });
}

TEST(Field, PathsAreShortEnoughForSlots) {
  visitAll([](const Spec& spec, const Field&, const std::string& path) {
    EXPECT_LT(std::count(path.begin(), path.end(), '.'), 6) << path;
    EXPECT_LE(spec.fields.size(), 255U) << path;
  });
}

TEST(Field, KeysThatAreNotUsedYetSaySo) {
  std::set<std::string> unused;
  visitAll([&](const Spec&, const Field& field, const std::string& path) {
    if (!field.notUsed.empty())
      unused.insert(path);
  });
  const std::set<std::string> expected = {};
  EXPECT_EQ(unused, expected);
}

TEST(Field, EveryGivenValueRoundTripsThroughItsText) {
  const Scenario full = testing::read(testing::kFull);
  const std::vector<std::string> paths = givenPaths(full);
  EXPECT_GT(paths.size(), 70U);
  for (const std::string& path : paths) {
    const std::string text = valueText(full, path);
    ASSERT_NE(text, "none") << path;
    if (path.ends_with(".name"))
      continue;  // a name names its own path
    const Scenario again = testing::with(full, {{path, text}});
    EXPECT_EQ(testing::dump(again), testing::dump(full)) << path << " = " << text;
  }
}

TEST(Field, GradesAndVoltagesAreInTheText) {
  const Scenario full = testing::read(testing::kFull);
  EXPECT_EQ(valueText(full, "air_conditioners.roof.running.current"), "12.6 A measured");
  EXPECT_EQ(valueText(full, "generator.surge[1].current"), "35 A typical");
  EXPECT_EQ(valueText(full, "charger.input_limit"), "12 A at 120 V");
  EXPECT_EQ(valueText(full, "title"), "\"Bunk trailer of a trail crew, two hot nights\"");
  EXPECT_EQ(valueText(full, "loads.lights.hours"), "[\"20:00-23:00\"]");
  EXPECT_EQ(valueText(full, "loads.lights.current"), "none");
  EXPECT_EQ(valueText(full, "loads.heater.power"), "none");
}

}  // namespace
}  // namespace nightbank::scenario
