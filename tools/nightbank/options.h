#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "command.h"

#include "nightbank/scenario/edit.h"
#include "nightbank/study/judgement.h"
#include "nightbank/units/quantity.h"

/// Options that several commands share, made of what was typed. Each throws UserError with what was
/// found, what was expected and the nearest word.
namespace nightbank::tool {

/// "nightbank: error: ..."
/// @throws UserError always
[[noreturn]] void fail(std::string_view message);

/// The index of `typed` among `words`.
std::size_t chosenWord(std::string_view option, std::string_view typed,
                       std::span<const std::string_view> words);

/// The only word; refused where it is empty or not there.
std::string neededFile(const Typed& typed, std::string_view command);

/// The only word, or "".
/// @param instead  what leaving it out means: "the built-in scenario"
std::string optionalFile(const Typed& typed, std::string_view instead);

std::vector<scenario::Edit> editsOf(const Typed& typed);  ///< --set, in order
/// "PATH=VALUE" of an option as an edit.
scenario::Edit editOf(std::string_view option, const std::string& text);

/// --threads, those of this machine if not there.
int threadsOf(const Typed& typed);

/// The whole number that an option has, within [low, high]; `otherwise` where it is not there.
std::uint64_t wholeOf(const Typed& typed, std::string_view option, std::uint64_t low,
                      std::uint64_t high, std::uint64_t otherwise);

UnitSystem unitsOf(const Typed& typed);                 ///< --units, metric if not there
std::optional<Level> worstLevelOf(const Typed& typed);  ///< --require

/// Where an answer goes; of several answers one goes to standard output.
struct Outputs {
  bool json = false;
  bool quiet = false;   ///< the verdict alone
  std::string csvFile;  ///< "" none, "-" standard output

  bool csvToFile() const { return !csvFile.empty() && csvFile != "-"; }
};

Outputs outputsOf(const Typed& typed);

/// What --schema shows.
/// @param own  of the command, out of built_in.h
Result schemaResult(std::string_view own);

}  // namespace nightbank::tool
