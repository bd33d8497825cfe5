#include "syntax.h"

#include <algorithm>
#include <array>
#include <string>

#include "extent.h"
#include "shown.h"
#include <fmt/format.h>

namespace nightbank::scenario {

namespace {

struct Words {
  std::string_view parser, message, hint;
};

// The parser's fixed messages (its header exceptions.h) that need nothing but better words. The
// first whose text begins the parser's message is taken.
constexpr std::array<Words, 24> kWords{{
    {"illegal block entry", "a list item cannot begin here", "begin the list on a line of its own"},
    {"illegal map key", "a key cannot begin here", "put the text in quotes"},
    {"illegal document indicator", "'---' or '...' inside a quoted text", ""},
    {"illegal character in scalar", "a character that cannot stand here", "put the text in quotes"},
    {"illegal tab", "a tab in the indentation", "YAML indents with blanks only"},
    {"cannot set zero indentation", "a block of text cannot be indented by 0", ""},
    {"unexpected character in block scalar", "unexpected text behind | or >",
     "begin the text on the next line"},
    {"the referenced anchor", "aliases (*) are not read", "put the text in quotes"},
    {"alias not found", "aliases (*) are not read", "put the text in quotes"},
    {"illegal character found while scanning alias", "aliases (*) are not read",
     "put the text in quotes"},
    {"aliases can't", "aliases (*) are not read", "put the text in quotes"},
    {"cannot assign multiple aliases", "aliases (*) are not read", "put the text in quotes"},
    {"anchor not found", "anchors (&) are not read", "put the text in quotes"},
    {"illegal character found while scanning anchor", "anchors (&) are not read",
     "put the text in quotes"},
    {"cannot assign multiple anchors", "anchors (&) are not read", "put the text in quotes"},
    {"cannot assign the same alias", "anchors (&) are not read", "put the text in quotes"},
    {"illegal character found while scanning tag", "tags (!) are not read",
     "put the text in quotes"},
    {"tag handle", "tags (!) are not read", "put the text in quotes"},
    {"end of verbatim tag", "tags (!) are not read", "put the text in quotes"},
    {"cannot assign multiple tags", "tags (!) are not read", "put the text in quotes"},
    {"TAG directives", "tags (!) are not read", "delete this line"},
    {"repeated TAG", "tags (!) are not read", "delete this line"},
    {"YAML", "this %YAML line is not understood", "delete it"},
    {"bad YAML version", "this %YAML line is not understood", "delete it"},
}};

bool startsWith(std::string_view text, std::string_view start) {
  return text.substr(0, start.size()) == start;
}

class Explainer {
 public:
  Explainer(const SyntaxError& error, std::string_view text, const Lines& lines)
      : error_(error), text_(text), lines_(lines) {}

  Finding finding() const {
    const std::string_view message = error_.message;
    if (const std::optional<std::size_t> tab = tabInIndentation()) {
      return at(*tab, "a tab in the indentation", "YAML indents with blanks only");
    }
    if (startsWith(message, "illegal EOF in scalar")) {
      const std::optional<std::size_t> quote = findOpenQuote(text_, error_.reached);
      return at(quote.value_or(error_.offset), "this quote is never closed", "");
    }
    if (startsWith(message, "end of sequence flow") || startsWith(message, "end of map flow")) {
      return unclosedBracket();
    }
    if (startsWith(message, "illegal flow end")) {
      return strayBracket();
    }
    if (startsWith(message, "illegal map value")) {
      return strayColon();
    }
    if (startsWith(message, "end of map") || startsWith(message, "end of sequence")) {
      return misplaced();
    }
    return byWords();
  }

 private:
  Finding at(std::size_t offset, std::string message, std::string hint) const {
    return {std::move(message), Caret{lines_.place(offset, offset + 1), std::move(hint)},
            std::nullopt};
  }

  std::string characterAtError() const {
    return error_.offset < text_.size() ? cellAt(text_, error_.offset).text : "the end";
  }

  // A line whose indentation holds a tab, where the parser gave up.
  std::optional<std::size_t> tabInIndentation() const {
    const std::size_t start = lineStart(text_, error_.offset);
    const std::size_t first = std::min(text_.find_first_not_of(" \t", start), text_.size());
    const std::size_t tab = text_.substr(0, first).find('\t', start);
    return tab == std::string_view::npos ? std::nullopt : std::optional(tab);
  }

  Finding unclosedBracket() const {
    if (!error_.openBracket) {
      return misplaced();
    }
    const std::size_t open = *error_.openBracket;
    const char close = text_[open] == '[' ? ']' : '}';
    const bool isAtEnd = skipBlanks(text_, error_.offset) >= text_.size();
    if (error_.offset <= open || isAtEnd) {
      return at(open, fmt::format("this '{}' is never closed", text_[open]), "");
    }
    Finding finding = at(error_.offset, fmt::format("expected ',' or '{}'", close), "");
    finding.other = Caret{lines_.place(open, open + 1), "opened here"};
    return finding;
  }

  Finding strayBracket() const {
    const std::string bracket = characterAtError();
    // The parser reads ahead of the values it has given, so brackets since then count as well.
    const std::optional<std::size_t> open =
        innermostBracket(text_, error_.openBracket.value_or(error_.reached), error_.offset);
    if (!open) {
      return at(error_.offset, fmt::format("this '{}' closes nothing", bracket), "");
    }
    Finding finding =
        at(error_.offset, fmt::format("'{}' cannot close '{}'", bracket, text_[*open]), "");
    finding.other = Caret{lines_.place(*open, *open + 1), "opened here"};
    return finding;
  }

  Finding strayColon() const {
    const std::size_t start = lineStart(text_, error_.offset);
    const std::string_view before = text_.substr(start, error_.offset - start);
    const std::size_t first = std::min(before.find_first_not_of(' '), before.size());
    if (before.substr(first, 1) == "-" && before.substr(first, 2) != "- ") {
      return at(start + first, "this '-' begins no list item", "put a blank behind it");
    }
    const bool isSecond = before.find(": ") != std::string_view::npos;
    return isSecond ? at(error_.offset, "a second ':' in one value", "put the text in quotes")
                    : at(error_.offset,
                         "this ':' makes no key: the text of the line above runs on to here",
                         "check the indentation, and the blank after each ':'");
  }

  // A quote of an earlier line that closes right before the error: its own end was forgotten.
  std::optional<std::size_t> quoteOverLines() const {
    std::size_t quote = error_.lastQuote.value_or(text_.find_first_of("\"'", error_.reached));
    while (quote < error_.offset) {
      const std::optional<std::size_t> end = quotedEnd(text_, quote);
      if (!end || *end > error_.offset) {
        return std::nullopt;
      }
      const bool endsAtError = skipBlanks(text_, *end) == error_.offset;
      if (endsAtError && lineEnd(text_, quote) < error_.offset) {
        return quote;
      }
      quote = text_.find_first_of("\"'", *end);
    }
    return std::nullopt;
  }

  Finding misplaced() const {
    const std::size_t start = lineStart(text_, error_.offset);
    const std::size_t first = std::min(text_.find_first_not_of(' ', start), text_.size());
    if (const std::optional<std::size_t> quote = quoteOverLines()) {
      Finding finding = at(*quote, "this quote goes on over the end of the line", "close it here");
      finding.other = Caret{lines_.place(error_.offset, error_.offset + 1), "it ends before this"};
      return finding;
    }
    if (first != error_.offset) {
      return at(error_.offset, "unexpected text behind a value",
                "put the whole in quotes, or begin a new line");
    }
    const bool isItem = text_.substr(first, 2) == "- ";
    return isItem ? at(first, "a list item among keys", "check the indentation")
                  : at(first, "this line fits no line above it", "check the indentation");
  }

  Finding byWords() const {
    const std::string_view message = error_.message;
    const auto* const known =
        std::find_if(kWords.begin(), kWords.end(),
                     [message](const Words& words) { return startsWith(message, words.parser); });
    if (known != kWords.end()) {
      return at(error_.offset, std::string(known->message), std::string(known->hint));
    }
    if (startsWith(message, "unknown token")) {
      return at(error_.offset, fmt::format("a value cannot begin with '{}'", characterAtError()),
                "put the text in quotes");
    }
    const bool isEscape = startsWith(message, "unknown escape") ||
                          startsWith(message, "invalid unicode") ||
                          startsWith(message, "bad character found while scanning hex");
    if (isEscape) {
      return at(error_.offset, "this escape (\\) is not understood",
                "single quotes take '\\' as it is");
    }
    return at(error_.offset, fmt::format("this is no YAML: {}", message), "");
  }

  const SyntaxError& error_;
  std::string_view text_;
  const Lines& lines_;
};

}  // namespace

Finding explain(const SyntaxError& error, std::string_view text, const Lines& lines) {
  return Explainer(error, text, lines).finding();
}

}  // namespace nightbank::scenario
