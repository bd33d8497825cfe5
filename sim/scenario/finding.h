#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "nightbank/scenario/place.h"
#include "nightbank/scenario/problem.h"

/// Private to the room: an error at a place, before the lines around it are fetched.
namespace nightbank::scenario {

/// What a caret points at and says.
struct Caret {
  Place place;
  std::string note;
};

struct Finding {
  std::string message;
  std::optional<Caret> at;  ///< nullopt: the text as a whole; else its note is the hint
  std::optional<Caret> other;
};

/// The lines around one or two places, with carets; every line ended by LF. Lines are cut to about
/// 100 columns, tabs shown as blanks.
std::string excerptOf(std::string_view text, const Caret& at, const std::optional<Caret>& other);

/// @param isSnippet the text is one value on a command line: no line and column in the message
Diagnostic diagnosticOf(Finding finding, std::string_view text, const std::string& file,
                        bool isSnippet);

}  // namespace nightbank::scenario
