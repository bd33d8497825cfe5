#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "nightbank/scenario/place.h"

/// What is wrong with a scenario, and how it is told: like a compiler, with the lines around.
///
///     scenarios/hot_night.yaml:12:13: error: bank.capacity is '5 kW', a power; expected a charge
///        11 |   voltage: 12.8 V
///      > 12 |   capacity: 5 kW
///           |             ^~~~  did you mean '5 kWh'?
namespace nightbank::scenario {

struct Document;

/// Something wrong at a path. It knows no place: the Document adds it.
struct Problem {
  enum class Severity { error, warning };
  enum class At { value, key };  ///< what the caret stands under

  Severity severity = Severity::error;
  std::string path;       ///< "bank.capacity", "loads[1].power"; see Document::find
  std::string otherPath;  ///< "" or the second place of a contradiction
  std::string message;    ///< one sentence, no full stop; may hold user's text as typed
  std::string hint;       ///< "" or what stands after the caret: "did you mean '5 kWh'?"
  At at = At::value;
};

/// A problem at its place. Complete without the text that it came from.
struct Diagnostic {
  Problem::Severity severity = Problem::Severity::error;
  std::string file;  ///< "hot_night.yaml", "--set bank.capacity"
  Place place;
  bool showsPlace = true;  ///< ":12:13" after the file; not for a snippet or a text as a whole
  std::string message;
  std::string hint;
  /// The lines around, carets and hint, each line ended by LF; "" where there is no line to show.
  std::string excerpt;
};

/// The problem at its place: the value's (or key's); where the path leads nowhere, the key of its
/// nearest parent that exists.
Diagnostic diagnose(const Problem& problem, const Document& document);

/// All problems in the order of their places. At most `most` of them are located and kept, errors
/// before warnings, so that a hostile text cannot ask for unbounded work.
std::vector<Diagnostic> diagnose(std::span<const Problem> problems, const Document& document,
                                 std::size_t most = 100);

/// "file:line:column: error: message", then the excerpt; every line ended by LF. Control characters
/// are shown escaped, so that no text can drive a terminal.
std::string render(const Diagnostic& diagnostic);

std::string render(const Problem& problem, const Document& document);

/// What was typed, for use inside a message: "'5 kW'". Cut in the middle where it is long.
std::string quote(std::string_view typed);

/// Like render of each, one after the other.
std::string render(std::span<const Diagnostic> diagnostics);

}  // namespace nightbank::scenario
