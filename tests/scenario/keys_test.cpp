#include "nightbank/scenario/keys.h"

#include <sstream>
#include <string>

#include "../units/text_lines.h"
#include "samples.h"
#include <gtest/gtest.h>

#include "nightbank/scenario/fields.h"

namespace nightbank::scenario {
namespace {

using test::linesOf;

void collect(const Spec& spec, const std::string& path, std::vector<std::string>& paths) {
  for (const Field& field : spec.fields) {
    const std::string fieldPath = joinPath(path, field.key);
    paths.push_back(fieldPath);
    if (field.spec != nullptr)
      collect(field.spec(), fieldPath, paths);
  }
}

std::vector<std::string> allPaths() {
  std::vector<std::string> paths;
  collect(specOf<Scenario>(), "", paths);
  return paths;
}

TEST(Keys, FitIntoEightyColumns) {
  std::string all = keysHelp();
  for (const std::string& path : allPaths())
    all += keysHelp(path);
  for (const std::string& line : linesOf(all)) {
    EXPECT_LE(line.size(), 80U) << line;
    EXPECT_FALSE(line.ends_with(' ')) << line;
  }
}

// The line of a key in the tree: its number; -1: not there. Levels are indented by two columns.
int lineOf(const std::string& path) {
  const std::vector<std::string> lines = linesOf(keysHelp());
  std::size_t at = 0;
  std::string indent;
  std::istringstream steps(path);
  for (std::string step; std::getline(steps, step, '.'); indent += "  ") {
    while (at < lines.size() && !lines[at].starts_with(indent + step + ' '))
      ++at;
    if (at == lines.size())
      return -1;
  }
  return static_cast<int>(at);
}

TEST(Keys, TheTreeHasThemAll) {
  for (const std::string& path : allPaths())
    EXPECT_GE(lineOf(path), 0) << path;
  EXPECT_EQ(lineOf("bank.chemestry"), -1);
}

TEST(Keys, SeldomNeededOnesComeLast) {
  EXPECT_LT(lineOf("bank.resistance"), lineOf("bank.peukert_window"));
  EXPECT_LT(lineOf("site.generator_hours"), lineOf("site.utc_offset"));
  EXPECT_LT(lineOf("inverter.hours"), lineOf("inverter.surge"));
}

TEST(Keys, AnyKeyIsKnownWithOrWithoutTheItem) {
  for (const std::string& path : allPaths())
    EXPECT_TRUE(isKey(path)) << path;
  EXPECT_TRUE(isKey("air_conditioners.roof.running.current"));
  EXPECT_TRUE(isKey("generator.surge[0].power"));
  EXPECT_FALSE(isKey("air_conditioners.roof"));
  EXPECT_FALSE(isKey("bank.capacity.more"));
  EXPECT_FALSE(isKey(""));
}

TEST(Keys, AKeyInDetail) {
  const std::string text = keysHelp("bank.start_at");
  EXPECT_EQ(text,
            "bank.start_at\n"
            "  what       state of charge when the period begins (battery monitor)\n"
            "  takes      a percentage (%)\n"
            "  range      0 % to 100 %\n"
            "  typical    100 %, range 90 % to 100 %\n");
  EXPECT_NE(keysHelp("bank.peukert_exponent").find("or rates or two_well instead"),
            std::string::npos);
  EXPECT_NE(keysHelp("bank").find("  chemistry"), std::string::npos);
}

TEST(Keys, AnUnknownKeyGetsTheNearest) {
  EXPECT_EQ(keysHelp("bank.capacty"),
            "bank.capacty is no key of a bank; did you mean 'capacity'?\n");
  EXPECT_EQ(keysHelp("thermostat"),
            "thermostat is no key of a scenario; that key stands in air_conditioners\n");
}

}  // namespace
}  // namespace nightbank::scenario
