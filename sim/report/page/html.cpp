#include "html.h"

#include <algorithm>
#include <cctype>

#include <fmt/format.h>

namespace nightbank::report {
namespace {

std::string withReferences(std::string_view text) {
  std::string result;
  for (const char c : text) {
    switch (c) {
      case '&':
        result += "&amp;";
        break;
      case '<':
        result += "&lt;";
        break;
      case '>':
        result += "&gt;";
        break;
      case '"':
        result += "&quot;";
        break;
      case '\'':
        result += "&#39;";
        break;
      default:
        result += c;
    }
  }
  return result;
}

bool isHeadingRow(const Cells& row) {
  return std::all_of(row.begin() + 1, row.end(), [](const std::string& c) { return c.empty(); });
}

std::string rowHtml(const Grid& grid, const Cells& row) {
  if (row.size() > 1 && isHeadingRow(row))
    return fmt::format("<tr class=\"day\"><th scope=\"rowgroup\" colspan=\"{}\">{}</th></tr>\n",
                       row.size(), escaped(row.front()));
  std::string text = "<tr>";
  for (std::size_t i = 0; i < row.size(); ++i) {
    const std::string_view side = grid.columns[i].right ? " class=\"n\"" : "";
    text += i == 0 && !row[i].empty()
                ? fmt::format("<th scope=\"row\"{}>{}</th>", side, escaped(row[i]))
                : fmt::format("<td{}>{}</td>", side, escaped(row[i]));
  }
  return text + "</tr>\n";
}

// What a terminal shows as a note in brackets, as a sentence.
std::string sentence(std::string text) {
  if (text.empty())
    return text;
  text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
  return text.ends_with('.') ? text : text + '.';
}

}  // namespace

std::string escaped(std::string_view text) {
  return withReferences(printable(text));
}

std::string inScript(std::string json) {
  for (std::size_t at = 0; (at = json.find('<', at)) != std::string::npos;)
    json.replace(at, 1, "\\u003c");
  return json;
}

std::string tableHtml(const Grid& grid, std::string_view caption) {
  std::string text = fmt::format(
      "<div class=\"wide-table\" role=\"region\" tabindex=\"0\" aria-label=\"{0}\"><table>"
      "<caption>{0}</caption>\n<thead><tr>",
      escaped(caption));
  for (const Column& column : grid.columns) {
    const std::string_view side = column.right ? " class=\"n\"" : "";
    text += column.head.empty()
                ? fmt::format("<td{}></td>", side)
                : fmt::format("<th scope=\"col\"{}>{}</th>", side, escaped(column.head));
  }
  text += "</tr></thead>\n<tbody>\n";
  for (const Cells& row : grid.rows)
    text += rowHtml(grid, row);
  return text + "</tbody></table></div>\n";
}

std::string paragraph(std::string_view text) {
  return text.empty() ? "" : fmt::format("<p>{}</p>\n", escaped(text));
}

std::string sectionHtml(const Section& section) {
  if (section.heading.empty())
    return "";
  std::string text = fmt::format("<section>\n<h2>{}</h2>\n", escaped(section.heading));
  text += paragraph(sentence(section.lead));
  if (!section.grid.rows.empty())
    text += tableHtml(section.grid, section.heading);
  text += listHtml(section.points);
  return text + paragraph(sentence(section.tail)) + "</section>\n";
}

std::string listHtml(const std::vector<std::string>& items) {
  if (items.empty())
    return "";
  std::string text = "<ul>\n";
  for (const std::string& item : items)
    text += fmt::format("<li>{}</li>\n", escaped(item));
  return text + "</ul>\n";
}

}  // namespace nightbank::report
