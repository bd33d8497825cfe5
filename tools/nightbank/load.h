#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "nightbank/scenario/document.h"
#include "nightbank/scenario/edit.h"
#include "nightbank/scenario/problem.h"
#include "nightbank/scenario/scenario.h"
#include "nightbank/weather/weather_series.h"

namespace nightbank::tool {

/// A scenario that may be run, with the text that it came from.
struct Loaded {
  scenario::Document document;
  scenario::Scenario scenario;              ///< edits applied, typical values not filled in
  std::vector<scenario::Problem> warnings;  ///< of the reader
  std::string messages;                     ///< the same as they go to standard error
  std::optional<WeatherSeries> weather;     ///< of the scenario's weather file
  std::string file;                         ///< as typed
  std::string weatherFile;                  ///< its name from here

  const WeatherSeries* series() const { return weather ? &*weather : nullptr; }
};

/// Reads a scenario ("" the built-in one, "-" standard input), applies the edits, and reads the
/// weather file that it names then, from the scenario's own folder.
/// @throws UserError with every error and warning as one text
Loaded load(const std::string& file, std::span<const scenario::Edit> edits);

/// The same with further edits, that stand under `origin` ("--variant bigger") in messages. The
/// weather file is read again where they name another one.
/// @throws UserError with every error and warning as one text
Loaded vary(const Loaded& base, std::span<const scenario::Edit> edits, const std::string& origin);

/// Ends a command with problems that showed after reading, told like those of the reader: those of
/// an edit in the words of that edit, the others in the file.
/// @throws UserError always
[[noreturn]] void refuse(const Loaded& loaded, std::span<const scenario::Problem> problems,
                         std::span<const scenario::Edit> edits,
                         const std::string& origin = "--set");

/// Keeps an output from taking the place of what was read.
/// @throws UserError where `output` is the scenario or its weather file
void refuseOverwriting(const Loaded& loaded, std::string_view option, const std::string& output);

}  // namespace nightbank::tool
