#include "nightbank/report/schema.h"

#include <vector>

#include "json_parts.h"
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "nightbank/simulate/simulate.h"

namespace nightbank::report {
namespace {

/// The names that `part` refers to, in their order.
void addReferences(const Json& part, std::vector<std::string>& names) {
  constexpr std::string_view kBefore = "#/$defs/";
  for (const auto& item : part.items()) {
    const Json& value = item.value();
    if (item.key() == "$ref" && value.is_string())
      names.push_back(value.get<std::string>().substr(kBefore.size()));
    else if (value.is_structured())
      addReferences(value, names);
  }
}

}  // namespace

std::string answerSchema(std::string_view own, std::string_view shared) {
  Json schema = Json::parse(own);
  const Json all = Json::parse(shared).at("$defs");
  std::vector<std::string> names;
  addReferences(schema, names);
  for (std::size_t i = 0; i < names.size(); ++i) {  // grows by what the definitions refer to
    const std::string name = names[i];
    if (schema["$defs"].contains(name))
      continue;
    if (!all.contains(name))
      throw InternalError(fmt::format("no definition of {}", name));
    addReferences(all.at(name), names);
    schema["$defs"][name] = all.at(name);
  }
  return schema.dump(1) + '\n';
}

}  // namespace nightbank::report
