#include "extent.h"

#include <algorithm>
#include <vector>

#include "lines.h"

namespace nightbank::scenario {

namespace {

bool isBlank(char c) {
  return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

std::size_t skipSpace(std::string_view text, std::size_t at) {
  while (at < text.size() && isBlank(text[at])) {
    ++at;
  }
  return at;
}

// A plain scalar was read with its lines folded: word by word it stands in the text as in `value`.
std::size_t plainEnd(std::string_view text, std::size_t begin, std::string_view value) {
  std::size_t at = begin;
  for (std::size_t i = 0; i < value.size();) {
    if (isBlank(value[i])) {
      i = skipSpace(value, i);
      at = i < value.size() ? skipSpace(text, at) : at;
    } else if (at < text.size() && text[at] == value[i]) {
      ++i;
      ++at;
    } else {
      break;
    }
  }
  return at;
}

std::size_t indentation(std::string_view line) {
  return std::min(line.find_first_not_of(' '), line.size());
}

std::string_view firstFilledLine(std::string_view value) {
  const std::size_t filled = value.find_first_not_of(" \n");
  if (filled == std::string_view::npos) {
    return {};
  }
  const std::size_t before = value.rfind('\n', filled);
  return value.substr(before == std::string_view::npos ? 0 : before + 1);
}

// The lines after the head (| or >) belong to the block while they are indented like its first
// line, less the blanks that are part of its text.
std::size_t blockEnd(std::string_view text, std::size_t begin, std::string_view value) {
  std::size_t end = lineEnd(text, begin);
  const std::string_view firstLine = firstFilledLine(value);
  if (firstLine.empty()) {
    return end;
  }
  std::size_t indent = std::string_view::npos;
  for (std::size_t at = text.find('\n', end); at < text.size(); at = text.find('\n', at)) {
    ++at;
    const std::size_t last = lineEnd(text, at);
    const std::string_view line = text.substr(at, last - at);
    const std::size_t blanks = indentation(line);
    if (blanks == line.size()) {
      continue;
    }
    if (indent == std::string_view::npos) {
      indent = blanks - std::min(blanks, indentation(firstLine));
    }
    if (blanks < indent) {
      break;
    }
    end = last;
  }
  return end;
}

bool startsToken(std::string_view text, std::size_t at) {
  return at == 0 || isBlank(text[at - 1]) ||
         std::string_view(",[{").find(text[at - 1]) != std::string_view::npos;
}

bool isQuote(char c) {
  return c == '"' || c == '\'';
}

// Past the remark, the quoted text or else the byte at `at`; nullopt for a quote that is never
// closed.
std::optional<std::size_t> pastToken(std::string_view text, std::size_t at) {
  if (startsToken(text, at) && text[at] == '#') {
    return std::min(text.find('\n', at), text.size());
  }
  return startsToken(text, at) && isQuote(text[at]) ? quotedEnd(text, at) : at + 1;
}

}  // namespace

std::optional<std::size_t> quotedEnd(std::string_view text, std::size_t begin) {
  const char quote = text[begin];
  for (std::size_t at = begin + 1; at < text.size(); ++at) {
    if (text[at] == '\\' && quote == '"') {
      ++at;
    } else if (text[at] == quote) {
      const bool isDoubled = quote == '\'' && text.substr(at + 1, 1) == "'";
      if (!isDoubled) {
        return at + 1;
      }
      ++at;
    }
  }
  return std::nullopt;
}

std::optional<std::size_t> scalarEnd(std::string_view text, std::size_t begin,
                                     std::string_view value) {
  if (begin >= text.size()) {
    return text.size();
  }
  if (isQuote(text[begin])) {
    return quotedEnd(text, begin);
  }
  const bool isBlock = text[begin] == '|' || text[begin] == '>';
  return isBlock ? blockEnd(text, begin, value) : plainEnd(text, begin, value);
}

std::size_t skipBlanks(std::string_view text, std::size_t begin) {
  std::size_t at = skipSpace(text, begin);
  while (at < text.size() && text[at] == '#') {
    at = skipSpace(text, std::min(text.find('\n', at), text.size()));
  }
  return at;
}

std::size_t flowEnd(std::string_view text, std::size_t begin) {
  std::size_t at = skipBlanks(text, begin);
  while (at < text.size() && text[at] != ']' && text[at] != '}') {
    at = skipBlanks(text, at + 1);
  }
  return std::min(at + 1, text.size());
}

std::size_t nullWordLength(std::string_view text, std::size_t begin) {
  for (const std::string_view word : {"~", "null", "Null", "NULL"}) {
    if (text.substr(std::min(begin, text.size()), word.size()) == word) {
      return word.size();
    }
  }
  return 0;
}

std::optional<std::size_t> findOpenQuote(std::string_view text, std::size_t begin) {
  for (std::size_t at = begin; at < text.size();) {
    const std::optional<std::size_t> next = pastToken(text, at);
    if (!next) {
      return at;
    }
    at = *next;
  }
  return std::nullopt;
}

std::optional<std::size_t> innermostBracket(std::string_view text, std::size_t begin,
                                            std::size_t end) {
  std::vector<std::size_t> open;
  for (std::size_t at = begin; at < end; at = pastToken(text, at).value_or(end)) {
    if (text[at] == '[' || text[at] == '{') {
      open.push_back(at);
    } else if ((text[at] == ']' || text[at] == '}') && !open.empty()) {
      open.pop_back();
    }
  }
  return open.empty() ? std::nullopt : std::optional(open.back());
}

}  // namespace nightbank::scenario
