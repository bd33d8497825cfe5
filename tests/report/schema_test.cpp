#include "nightbank/report/schema.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "nightbank/simulate/simulate.h"

namespace nightbank::report {
namespace {

constexpr std::string_view kShared = R"({"$defs": {
  "share": {"type": "number"},
  "chance": {"properties": {"low": {"$ref": "#/$defs/share"}}},
  "other": {"type": "string"}}})";

nlohmann::json merged(std::string_view own) {
  return nlohmann::json::parse(answerSchema(own, kShared));
}

TEST(Schema, BringsWhatItRefersToAndNothingElse) {
  const auto schema = merged(R"({"items": [{"$ref": "#/$defs/chance"}]})");
  EXPECT_EQ(schema["$defs"].size(), 2U);
  EXPECT_EQ(schema["$defs"]["share"]["type"], "number");
}

TEST(Schema, ItsOwnDefinitionGoesFirst) {
  const auto schema =
      merged(R"({"$ref": "#/$defs/share", "$defs": {"share": {"$ref": "#/$defs/other"}}})");
  EXPECT_EQ(schema["$defs"]["share"]["$ref"], "#/$defs/other");
  EXPECT_EQ(schema["$defs"]["other"]["type"], "string");
}

TEST(Schema, ADefinitionThatIsNowhereIsAFaultOfTheProgram) {
  EXPECT_THROW(merged(R"({"$ref": "#/$defs/shares"})"), InternalError);
}

}  // namespace
}  // namespace nightbank::report
