#include "nightbank/scenario/schema.h"

#include <regex>
#include <string>

#include "samples.h"
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "nightbank/scenario/fields.h"

namespace nightbank::scenario {
namespace {

using Json = nlohmann::json;

// What of draft-07 the schema uses: type, enum, pattern, required, properties, items, anyOf, oneOf.
bool accepts(const Json& schema, const Node& node);

bool acceptsMap(const Json& schema, const Node& node) {
  for (const Json& key : schema.value("required", Json::array()))
    if (node.child(key.get<std::string>()) == nullptr)
      return false;
  if (!schema.contains("properties"))
    return true;
  for (const Entry& entry : node.entries)
    if (!schema["properties"].contains(entry.key) ||
        !accepts(schema["properties"][entry.key], entry.node))
      return false;
  return true;
}

bool acceptsList(const Json& schema, const Node& node) {
  for (const Node& item : node.items)
    if (!accepts(schema["items"], item))
      return false;
  return node.items.size() >= schema.value("minItems", std::size_t{0}) &&
         node.items.size() <= schema.value("maxItems", std::size_t{1000});
}

bool acceptsText(const Json& schema, const std::string& text) {
  const std::string type = schema.value("type", "string");
  if (type == "number" || type == "integer") {
    static const std::regex number("-?[0-9]+([.][0-9]+)?");
    return std::regex_match(text, number);
  }
  if (schema.contains("enum"))
    return std::find(schema["enum"].begin(), schema["enum"].end(), text) != schema["enum"].end();
  return type == "string" &&
         (!schema.contains("pattern") ||
          std::regex_search(text, std::regex(schema["pattern"].get<std::string>())));
}

bool accepts(const Json& schema, const Node& node) {
  if (schema.contains("oneOf")) {
    int count = 0;
    for (const Json& way : schema["oneOf"])
      count += acceptsMap(way, node) ? 1 : 0;
    if (count != 1)
      return false;
  }
  if (schema.contains("anyOf"))
    return std::any_of(schema["anyOf"].begin(), schema["anyOf"].end(),
                       [&](const Json& way) { return accepts(way, node); });
  const std::string type = schema.value("type", "string");
  if (type == "object")
    return node.kind == Node::Kind::map && acceptsMap(schema, node);
  if (type == "array")
    return node.kind == Node::Kind::list && acceptsList(schema, node);
  return node.kind == Node::Kind::scalar && acceptsText(schema, node.text);
}

bool accepts(std::string_view text) {
  static const Json schema = Json::parse(jsonSchema());
  return accepts(schema, testing::document(std::string(text)).root);
}

TEST(Schema, IsDraft07AndEndsWithALine) {
  const std::string text = jsonSchema();
  EXPECT_TRUE(text.ends_with("}\n"));
  const Json schema = Json::parse(text);
  EXPECT_EQ(schema["$schema"], "http://json-schema.org/draft-07/schema#");
  EXPECT_EQ(schema["type"], "object");
  EXPECT_EQ(schema["required"], (Json{"period", "bank"}));
}

void expectSame(const Spec& spec, const Json& schema) {
  EXPECT_EQ(schema["additionalProperties"], false) << spec.name;
  for (const Field& field : spec.fields) {
    ASSERT_TRUE(schema["properties"].contains(std::string(field.key))) << field.key;
    const Json& value = schema["properties"][std::string(field.key)];
    EXPECT_EQ(value["description"], spec.find(field.key).front().help);
    if (field.kind == Kind::part && value.contains("properties"))
      expectSame(field.spec(), value);
    if (field.kind == Kind::list && value.contains("items"))
      expectSame(field.spec(), value["items"]);
  }
}

TEST(Schema, HasEveryKeyWithItsHelpAndNoOther) {
  expectSame(specOf<Scenario>(), Json::parse(jsonSchema()));
}

TEST(Schema, AcceptsWhatTheReaderReads) {
  EXPECT_TRUE(accepts(testing::kShort));
  EXPECT_TRUE(accepts(testing::kFull));
}

TEST(Schema, RefusesWhatTheReaderRefuses) {
  const auto replaced = [](std::string_view from, std::string_view to) {
    std::string text(testing::kShort);
    const std::size_t at = text.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    return text.replace(at, from.size(), to);
  };
  for (const auto& [from, to] : std::vector<std::pair<std::string_view, std::string_view>>{
           {"200 Ah", "200"},
           {"200 Ah", "200 kW"},
           {"200 Ah", "200 ah"},
           {"13.1 A measured", "13.1 A mesured"},
           {"21:30-06:30", "21:30-25:00"},
           {"agm", "amg"},
           {"capacity: 200 Ah", "capacty: 200 Ah"},
           {"voltage: 12 V, ", ""},
           {"night_of: 2026-07-18", "night_of: tomorrow"},
           {"60 %", "0.6"}})
    EXPECT_FALSE(accepts(replaced(from, to))) << to;
  EXPECT_TRUE(accepts(replaced("200 Ah", "2.4 kWh measured")));
  EXPECT_TRUE(accepts(replaced("60 %", "[{from: \"20:30\", share: 65 %}]")));
}

}  // namespace
}  // namespace nightbank::scenario
