#include "nightbank/scenario/problem.h"

#include <algorithm>

#include "finding.h"
#include "shown.h"
#include <fmt/format.h>

#include "nightbank/scenario/document.h"

namespace nightbank::scenario {

namespace {

constexpr int kMostMessageColumns = 1000;
constexpr std::size_t kMostQuotedBytes = 60;

}  // namespace

Diagnostic diagnosticOf(Finding finding, std::string_view text, const std::string& file,
                        bool isSnippet) {
  Diagnostic diagnostic;
  diagnostic.file = file;
  diagnostic.message = std::move(finding.message);
  diagnostic.showsPlace = finding.at && !isSnippet;
  if (finding.at) {
    diagnostic.place = finding.at->place;
    diagnostic.excerpt = excerptOf(text, *finding.at, finding.other);
    diagnostic.hint = std::move(finding.at->note);
  }
  return diagnostic;
}

namespace {

// A part that is missing, or a plan as a whole: there is no line to show.
bool isAboutTheWhole(const Problem& problem, const Document& document) {
  const std::string_view path = problem.path;
  return !document.isSnippet &&
         (path.empty() || document.find(path.substr(0, path.find_first_of(".["))) == nullptr);
}

}  // namespace

Diagnostic diagnose(const Problem& problem, const Document& document) {
  Finding finding;
  finding.message = problem.message;
  if (!isAboutTheWhole(problem, document)) {
    finding.at = Caret{document.placeOf(problem.path, problem.at), problem.hint};
  } else if (!problem.hint.empty()) {
    finding.message += "; " + problem.hint;
  }
  const bool hasOther = !problem.otherPath.empty() && document.find(problem.otherPath) != nullptr;
  if (hasOther) {
    finding.other = Caret{document.placeOf(problem.otherPath, problem.at), "and here"};
  }
  Diagnostic diagnostic =
      diagnosticOf(std::move(finding), document.text, document.fileName, document.isSnippet);
  diagnostic.severity = problem.severity;
  return diagnostic;
}

std::vector<Diagnostic> diagnose(std::span<const Problem> problems, const Document& document,
                                 std::size_t most) {
  std::vector<Diagnostic> located;
  for (const auto severity : {Problem::Severity::error, Problem::Severity::warning}) {
    for (const Problem& problem : problems) {
      if (problem.severity == severity && located.size() < most) {
        located.push_back(diagnose(problem, document));
      }
    }
  }
  std::stable_sort(located.begin(), located.end(), [](const Diagnostic& a, const Diagnostic& b) {
    return a.place.offset < b.place.offset;
  });
  return located;
}

std::string render(const Diagnostic& diagnostic) {
  const std::string place =
      diagnostic.showsPlace ? fmt::format(":{}:{}", diagnostic.place.line, diagnostic.place.column)
                            : "";
  const bool isError = diagnostic.severity == Problem::Severity::error;
  return fmt::format("{}{}: {}: {}\n{}", printable(diagnostic.file, kMostMessageColumns), place,
                     isError ? "error" : "warning",
                     printable(diagnostic.message, kMostMessageColumns), diagnostic.excerpt);
}

std::string render(const Problem& problem, const Document& document) {
  return render(diagnose(problem, document));
}

std::string render(std::span<const Diagnostic> diagnostics) {
  std::string all;
  for (const Diagnostic& diagnostic : diagnostics) {
    all += render(diagnostic);
  }
  return all;
}

std::string quote(std::string_view typed) {
  return fmt::format("'{}'", shortened(typed, kMostQuotedBytes));
}

}  // namespace nightbank::scenario
