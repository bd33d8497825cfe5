#include <algorithm>
#include <cmath>

#include "html.h"
#include "sheet.h"
#include <fmt/format.h>

namespace nightbank::report {
namespace {

// A drawing for one width of screen; `most` characters fit into a line.
struct RowShape {
  std::string_view name;
  double width = 0.0;
  int most = 0;
};

constexpr RowShape kWideRows{"wide", 720.0, 74}, kNarrowRows{"narrow", 320.0, 29};
constexpr double kRowHeight = 84.0, kRowBar = 20.0, kRowBarTop = 24.0, kRowsTop = 26.0;

double rowX(const RowPicture& picture, const RowShape& shape, double value) {
  const double share = (value - picture.low) / (picture.high - picture.low);
  return 1.0 + (shape.width - 2.0) * std::clamp(share, 0.0, 1.0);
}

std::string rowSvg(const RowPicture& picture, const RowShape& shape, const BarRow& row, double y) {
  const double from = rowX(picture, shape, std::min(row.from, row.to));
  const double to = rowX(picture, shape, std::max(row.from, row.to));
  return svgLabel(0.0, y + 16.0, "start", cut(printable(row.name), shape.most)) +
         fmt::format(
             "<rect class=\"f-{} edge\" x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" "
             "height=\"{:.1f}\"/>\n",
             row.word, from, y + kRowBarTop, std::max(1.0, to - from), kRowBar) +
         svgLabel(0.0, y + kRowBarTop + kRowBar + 18.0, "start",
                  cut(printable(row.text), shape.most));
}

std::string rowUprights(const RowPicture& picture, const RowShape& shape, double height) {
  std::string text;
  for (const LevelLine& upright : picture.uprights) {
    const double x = rowX(picture, shape, upright.value);
    const bool leftHalf = x < 0.5 * shape.width;
    text += svgLabel(x, 14.0, leftHalf ? "start" : "end", upright.name);
    for (std::size_t i = 0; i < picture.rows.size(); ++i) {
      const double y = kRowsTop + kRowHeight * static_cast<double>(i) + kRowBarTop;
      text += fmt::format(
          "<line class=\"limit\" x1=\"{0:.1f}\" y1=\"{1:.1f}\" x2=\"{0:.1f}\" y2=\"{2:.1f}\"/>\n",
          x, y - 4.0, std::min(height, y + kRowBar + 4.0));
    }
  }
  return text;
}

std::string rowsDrawing(const RowPicture& picture, const RowShape& shape) {
  const double height = kRowsTop + kRowHeight * static_cast<double>(picture.rows.size());
  std::string text = fmt::format(
      "<svg class=\"{0}\" viewBox=\"0 0 {1:.0f} {2:.0f}\" role=\"img\" aria-labelledby=\"{3}-{0}-t "
      "{3}-{0}-d\">\n<title id=\"{3}-{0}-t\">{4}</title>\n<desc id=\"{3}-{0}-d\">{5}</desc>\n",
      shape.name, shape.width, height, picture.id, escaped(picture.title),
      escaped(picture.description));
  for (std::size_t i = 0; i < picture.rows.size(); ++i)
    text += rowSvg(picture, shape, picture.rows[i], kRowsTop + kRowHeight * static_cast<double>(i));
  return text + rowUprights(picture, shape, height) + "</svg>\n";
}

Grid rowsGrid(const RowPicture& picture) {
  Grid grid{{{"", false}, {fmt::format("from [{}]", picture.unit)}, {"to"}, {"", false}}, {}};
  const auto number = [](double value) {
    return fmt::format("{:.2f}", std::round(100.0 * value) / 100.0 + 0.0);
  };
  for (const BarRow& row : picture.rows)
    grid.rows.push_back({row.name, number(row.from), number(row.to), row.text});
  return grid;
}

}  // namespace

std::string rowsHtml(const RowPicture& picture) {
  std::string text = fmt::format("<figure id=\"{}\">\n<h3>{} [{}]</h3>\n", picture.id,
                                 escaped(picture.title), escaped(picture.unit));
  text += "<ul class=\"legend\">\n";
  for (const SignKey& key : picture.patterns)
    text += legendItem(key.word, key.name, false);
  text += "</ul>\n<div class=\"drawn\">\n" + rowsDrawing(picture, kWideRows) +
          rowsDrawing(picture, kNarrowRows) + "</div>\n";
  text += fmt::format("<figcaption>{}</figcaption>\n", escaped(picture.description));
  return text + fmt::format("<details><summary>{} as a table</summary>\n{}</details>\n</figure>\n",
                            escaped(picture.title), tableHtml(rowsGrid(picture), picture.title));
}

}  // namespace nightbank::report
