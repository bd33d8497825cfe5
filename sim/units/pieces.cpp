#include "nightbank/units/pieces.h"

namespace nightbank {
namespace {

// Whether what is read stands outside of quotes, brackets and braces.
class Nesting {
 public:
  void read(char c) {
    if (quote_ != '\0')
      quote_ = c == quote_ ? '\0' : quote_;
    else if (c == '"' || c == '\'')
      quote_ = c;
    else
      depth_ += (c == '[' || c == '{' ? 1 : 0) - (c == ']' || c == '}' ? 1 : 0);
  }

  bool isOutside() const { return quote_ == '\0' && depth_ == 0; }

 private:
  int depth_ = 0;
  char quote_ = '\0';
};

}  // namespace

std::string withoutBlanks(std::string_view text) {
  constexpr std::string_view kBlanks = " \t\r";
  const std::size_t first = text.find_first_not_of(kBlanks);
  if (first == std::string_view::npos)
    return "";
  return std::string(text.substr(first, text.find_last_not_of(kBlanks) - first + 1));
}

std::vector<std::string> piecesOf(std::string_view text, char sign) {
  std::vector<std::string> pieces{""};
  Nesting nesting;
  for (const char c : text) {
    nesting.read(c);
    if (c == sign && nesting.isOutside())
      pieces.emplace_back();
    else
      pieces.back() += c;
  }
  for (std::string& piece : pieces)
    piece = withoutBlanks(piece);
  return pieces;
}

}  // namespace nightbank
