#include "nightbank/scenario/keys.h"

#include "commands.h"
#include <fmt/format.h>

#include "nightbank/scenario/schema.h"

namespace nightbank::tool {

Result keys(const KeysOptions& options) {
  if (options.schema)
    return {ExitCode::answered, scenario::jsonSchema(), ""};
  if (!options.path.empty() && !scenario::isKey(options.path))
    return {ExitCode::usage, "",
            fmt::format("nightbank: error: {}", scenario::keysHelp(options.path))};
  return {ExitCode::answered, scenario::keysHelp(options.path), ""};
}

}  // namespace nightbank::tool
