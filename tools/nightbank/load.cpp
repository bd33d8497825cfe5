#include "load.h"

#include <algorithm>
#include <string_view>

#include "built_in.h"
#include "errors.h"
#include "files.h"
#include <fmt/format.h>

#include "nightbank/scenario/reader.h"

namespace nightbank::tool {
namespace {

using scenario::Diagnostic;
using scenario::Document;
using scenario::Edit;
using scenario::Problem;

// UserError's text has no line end of its own.
[[noreturn]] void fail(std::string messages) {
  while (messages.ends_with('\n'))
    messages.pop_back();
  throw UserError(messages);
}

Document documentOf(const std::string& file) {
  std::string text = file.empty() ? std::string(embedded::builtInScenario())
                                  : readText(file, scenario::kMostTextBytes);
  const std::string shown = file.empty()  ? "built-in scenario"
                            : file == "-" ? "standard input"
                                          : file;
  scenario::Parsed parsed = scenario::parseDocument(std::move(text), shown);
  if (const auto* diagnostics = std::get_if<std::vector<Diagnostic>>(&parsed))
    fail(scenario::render(*diagnostics));
  return std::move(std::get<Document>(parsed));
}

// The edit that a problem is about: its own path or one below.
const Edit* editOf(const Problem& problem, std::span<const Edit> edits) {
  const auto found = std::find_if(edits.begin(), edits.end(), [&](const Edit& edit) {
    const std::string_view path = problem.path;
    return !edit.path.empty() && path.starts_with(edit.path) &&
           (path.size() == edit.path.size() || path[edit.path.size()] == '.' ||
            path[edit.path.size()] == '[');
  });
  return found == edits.end() ? nullptr : &*found;
}

bool isKnown(const Problem& problem, std::span<const Problem> before) {
  return std::any_of(before.begin(), before.end(), [&](const Problem& other) {
    return other.path == problem.path && other.message == problem.message;
  });
}

bool hasError(std::span<const Problem> problems) {
  return std::any_of(problems.begin(), problems.end(), [](const Problem& problem) {
    return problem.severity == Problem::Severity::error;
  });
}

/// Problems as people read them.
std::string renderProblems(std::span<const Problem> problems, const Document& document,
                           std::span<const Edit> edits) {
  std::string text;
  std::vector<Problem> ofFile;
  for (const Problem& problem : problems) {
    const Edit* edit = editOf(problem, edits);
    if (edit == nullptr) {
      ofFile.push_back(problem);
      continue;
    }
    const scenario::Parsed snippet =
        scenario::parseSnippet(edit->value, edit->path, "--set " + edit->path);
    if (const auto* broken = std::get_if<std::vector<Diagnostic>>(&snippet))
      text += scenario::render(*broken);
    else
      text += scenario::render(problem, std::get<Document>(snippet));
  }
  return scenario::render(scenario::diagnose(ofFile, document)) + text;
}

}  // namespace

Loaded load(const std::string& file, std::span<const Edit> edits) {
  Loaded loaded;
  loaded.document = documentOf(file);
  scenario::ReadResult read = scenario::readScenario(loaded.document);
  if (!read.scenario || hasError(read.problems))
    fail(renderProblems(read.problems, loaded.document, {}));
  loaded.messages = renderProblems(read.problems, loaded.document, {});
  loaded.scenario = std::move(*read.scenario);
  loaded.warnings = read.problems;
  if (edits.empty())
    return loaded;
  scenario::ReadResult edited = scenario::apply(loaded.scenario, edits);
  std::erase_if(edited.problems, [&](const Problem& p) { return isKnown(p, read.problems); });
  const std::string messages = renderProblems(edited.problems, loaded.document, edits);
  if (!edited.scenario || hasError(edited.problems))
    fail(loaded.messages + messages);
  loaded.messages += messages;
  loaded.warnings.insert(loaded.warnings.end(), edited.problems.begin(), edited.problems.end());
  loaded.scenario = std::move(*edited.scenario);
  return loaded;
}

void refuse(const Loaded& loaded, std::span<const Problem> problems, std::span<const Edit> edits) {
  fail(loaded.messages + renderProblems(problems, loaded.document, edits));
}

}  // namespace nightbank::tool
