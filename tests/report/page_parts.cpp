#include "page_parts.h"

#include <algorithm>
#include <iterator>
#include <string>
#include <string_view>
#include <vector>

#include <nlohmann/json.hpp>

namespace nightbank::testing_support {

std::string between(const std::string& text, std::string_view from, std::string_view to) {
  const std::size_t begin = text.find(from);
  if (begin == std::string::npos)
    return "";
  const std::size_t start = begin + from.size();
  return text.substr(start, text.find(to, start) - start);
}

nlohmann::json dataOf(const std::string& html) {
  return nlohmann::json::parse(
      between(html, R"(<script type="application/json" id="data">)", "</script>"));
}

const nlohmann::json& pictureOf(const nlohmann::json& data, std::string_view id) {
  static const nlohmann::json none;
  for (const nlohmann::json& picture : data["pictures"])
    if (picture["id"] == id)
      return picture;
  return none;
}

std::string nestingFault(const std::string& html) {
  constexpr std::string_view kVoid[] = {"meta", "!DOCTYPE"};
  std::vector<std::string> open;
  for (std::size_t at = 0; (at = html.find('<', at)) != std::string::npos;) {
    const std::size_t end = html.find('>', at);
    if (end == std::string::npos)
      return "a tag does not end";
    const bool closes = html[at + 1] == '/';
    const std::size_t begin = at + (closes ? 2 : 1);
    const std::string name = html.substr(begin, html.find_first_of(" >/", begin) - begin);
    at = end + 1;
    if (closes) {
      if (open.empty() || open.back() != name)
        return name + " ends inside " + (open.empty() ? "nothing" : open.back());
      open.pop_back();
    } else if (html[end - 1] != '/' &&
               std::find(std::begin(kVoid), std::end(kVoid), name) == std::end(kVoid)) {
      open.push_back(name);
      if (name == "script" || name == "style")
        at = html.find("</" + name, at);
    }
  }
  return open.empty() ? "" : open.back() + " does not end";
}

}  // namespace nightbank::testing_support
