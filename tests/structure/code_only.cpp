#include <algorithm>
#include <cstddef>

#include "layers.h"

namespace nightbank::structure {
namespace {

// End of the literal that opens at `at` with a quote: one past the closing quote.
std::size_t literalEnd(std::string_view text, std::size_t at) {
  const char quote = text[at];
  for (std::size_t i = at + 1; i < text.size() && text[i] != '\n'; ++i) {
    if (text[i] == '\\') {
      ++i;
    } else if (text[i] == quote) {
      return i + 1;
    }
  }
  return text.size();
}

// The same for R"tag( ... )tag"; `at` is the quote.
std::size_t rawLiteralEnd(std::string_view text, std::size_t at) {
  const std::size_t open = text.find('(', at);
  if (open == std::string_view::npos) {
    return text.size();
  }
  const std::string close = ")" + std::string(text.substr(at + 1, open - at - 1)) + "\"";
  const std::size_t end = text.find(close, open);
  return end == std::string_view::npos ? text.size() : end + close.size();
}

// End of the comment that starts at `at`, or `at` where none does.
std::size_t commentEnd(std::string_view text, std::size_t at) {
  const std::string_view rest = text.substr(at);
  if (rest.starts_with("//")) {
    return std::min(text.find('\n', at), text.size());
  }
  if (rest.starts_with("/*")) {
    const std::size_t end = text.find("*/", at + 2);
    return end == std::string_view::npos ? text.size() : end + 2;
  }
  return at;
}

bool isDigitSeparator(std::string_view text, std::size_t at) {
  return text[at] == '\'' && at > 0 && text[at - 1] >= '0' && text[at - 1] <= '9';
}

}  // namespace

std::string codeOnly(std::string_view text) {
  std::string code;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t comment = commentEnd(text, at);
    if (comment > at) {
      code += ' ';
      at = comment;
    } else if (text[at] == '"' || (text[at] == '\'' && !isDigitSeparator(text, at))) {
      const bool raw = text[at] == '"' && at > 0 && text[at - 1] == 'R';
      code += text[at];
      code += text[at];
      at = raw ? rawLiteralEnd(text, at) : literalEnd(text, at);
    } else {
      code += text[at++];
    }
  }
  return code;
}

}  // namespace nightbank::structure
