#include "nightbank/scenario/keys.h"

#include "command.h"
#include "options.h"
#include <fmt/format.h>

#include "nightbank/scenario/schema.h"

namespace nightbank::tool {
namespace {

constexpr std::string_view kHelp =
    R"(Explains the keys of a scenario: what each means, its unit, its range, what
stands in when it is left out, and where a person finds the value.

usage: nightbank keys [OPTIONS] [PATH]

PATH is a key or a part of a scenario, joined by dots; without it all keys are
listed.

options
  --schema             the JSON Schema of a scenario, for editors
  -h, --help           this text

examples
  nightbank keys
  nightbank keys bank
  nightbank keys generator.rule.start_below
  nightbank keys --schema > nightbank.schema.json
)";

Result keys(const Typed& typed) {
  const std::string path = typed.words.empty() ? "" : typed.words.front();
  if (typed.hasFlag("--schema")) {
    if (!path.empty())
      fail("--schema is of all keys; leave PATH out");
    return {ExitCode::answered, scenario::jsonSchema(), ""};
  }
  if (!path.empty() && !scenario::isKey(path))
    return {ExitCode::usage, "", fmt::format("nightbank: error: {}", scenario::keysHelp(path))};
  return {ExitCode::answered, scenario::keysHelp(path), ""};
}

}  // namespace

CommandSpec keysCommand() {
  return {"keys", "keys [PATH]", "explains the keys of a scenario", kHelp, {{"--schema", true}},
          1,      keys};
}

}  // namespace nightbank::tool
