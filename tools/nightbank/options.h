#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "nightbank/scenario/edit.h"
#include "nightbank/study/judgement.h"
#include "nightbank/units/quantity.h"

/// What the command line asks for, one struct per command.
namespace nightbank::tool {

struct RunOptions {
  std::string file;  ///< "" the built-in scenario, "-" standard input
  std::vector<scenario::Edit> edits;
  UnitSystem units = UnitSystem::metric;
  bool json = false;
  bool quiet = false;               ///< the verdict alone
  std::string csvFile;              ///< "" none, "-" standard output
  std::optional<Level> worstLevel;  ///< --require
};

struct StartOptions {
  std::string file;
  std::vector<scenario::Edit> edits;
  bool json = false;
  bool quiet = false;
  std::string csvFile;              ///< "" none, "-" standard output
  std::optional<Level> worstLevel;  ///< --require
};

struct CheckOptions {
  std::string file;
  std::vector<scenario::Edit> edits;
  UnitSystem units = UnitSystem::metric;
};

struct KeysOptions {
  std::string path;
  bool schema = false;
};

struct NewOptions {
  std::string file;  ///< "" standard output
  bool ask = false;
};

/// Text that ends the matter: help, version.
struct ShowText {
  std::string text;
};

using Command =
    std::variant<ShowText, RunOptions, StartOptions, CheckOptions, KeysOptions, NewOptions>;

}  // namespace nightbank::tool
