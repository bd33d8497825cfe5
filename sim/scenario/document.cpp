#include "nightbank/scenario/document.h"

#include <sstream>
#include <utility>

#include "finding.h"
#include "lines.h"
#include "syntax.h"
#include "text_check.h"
#include "tree_builder.h"
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/parser.h>

namespace nightbank::scenario {

namespace {

// The parser runs until the end or the first error of syntax; the builder has findings of its own.
void readTree(std::string_view text, const Lines& lines, TreeBuilder& builder) {
  std::istringstream in{std::string(text.substr(byteOrderMark(text)))};
  try {
    YAML::Parser parser(in);
    while (parser.HandleNextDocument(builder)) {
    }
  } catch (const StopReading&) {
    // The reason is among the findings.
  } catch (const YAML::Exception& exception) {
    const std::size_t offset = lines.offset(exception.mark.line, exception.mark.column);
    const SyntaxError error{exception.msg, offset, builder.reached(), builder.openBracket(),
                            builder.lastQuote()};
    builder.addLast(explain(error, text, lines));
  }
}

std::optional<Finding> checkRoot(const Node& root) {
  switch (root.kind) {
    case Node::Kind::map:
      return std::nullopt;
    case Node::Kind::null:
      return Finding{"the scenario is empty; 'nightbank new' writes a starter", std::nullopt,
                     std::nullopt};
    case Node::Kind::list:
      return Finding{"a scenario is a map of keys such as bank; this is a list",
                     Caret{root.place, ""}, std::nullopt};
    case Node::Kind::scalar:
      break;
  }
  return Finding{"a scenario is a map of keys such as bank; this is one value",
                 Caret{root.place, "a blank follows the ':' of a key"}, std::nullopt};
}

Parsed refused(std::vector<Finding> findings, std::string_view text, const std::string& file,
               bool isSnippet) {
  std::vector<Diagnostic> diagnostics;
  diagnostics.reserve(findings.size());
  for (Finding& finding : findings) {
    diagnostics.push_back(diagnosticOf(std::move(finding), text, file, isSnippet));
  }
  return diagnostics;
}

Parsed parse(Document document) {
  const std::string_view text = document.text;
  if (std::optional<Finding> finding = checkText(text)) {
    return refused({std::move(*finding)}, text, document.fileName, document.isSnippet);
  }
  const Lines lines(text);
  TreeBuilder builder(text, lines);
  readTree(text, lines, builder);
  std::vector<Finding> findings = builder.takeFindings();
  document.root = builder.takeRoot();
  if (findings.empty() && !document.isSnippet) {
    if (std::optional<Finding> finding = checkRoot(document.root)) {
      findings.push_back(std::move(*finding));
    }
  }
  if (!findings.empty()) {
    return refused(std::move(findings), text, document.fileName, document.isSnippet);
  }
  return document;
}

}  // namespace

const Node* Node::child(std::string_view key) const {
  for (const Entry& entry : entries) {
    if (entry.key == key) {
      return &entry.node;
    }
  }
  return nullptr;
}

Parsed parseDocument(std::string text, std::string fileName) {
  Document document;
  document.fileName = std::move(fileName);
  document.text = std::move(text);
  return parse(std::move(document));
}

Parsed parseSnippet(std::string text, std::string path, std::string origin) {
  Document document;
  document.fileName = std::move(origin);
  document.text = std::move(text);
  document.rootPath = std::move(path);
  document.isSnippet = true;
  return parse(std::move(document));
}

}  // namespace nightbank::scenario
