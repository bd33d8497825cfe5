#include <cmath>

#include "html.h"
#include "sheet.h"
#include <fmt/format.h>

#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

std::string placeText(const Picture& picture, double at) {
  switch (picture.across) {
    case Across::clock:
      return dayAndClockText(picture.start_s + at);
    case Across::elapsed:
      return fmt::format("{:.1f} h", at / kHour_s);
    case Across::amount:
      break;
  }
  return fmt::format("{:.10g}", std::round(100.0 * at) / 100.0 + 0.0);
}

std::string amountHead(const Picture& picture) {
  return picture.unitAcross.empty()
             ? picture.nameAcross
             : fmt::format("{} [{}]", picture.nameAcross, picture.unitAcross);
}

std::string signName(const Picture& picture, std::string_view word) {
  for (const SignKey& key : picture.signs)
    if (key.word == word)
      return key.name;
  return "";
}

Grid pointsGrid(const Picture& picture) {
  Grid grid{{{"", false}, {amountHead(picture)}, {picture.unit}, {"", false}, {"set", false}}, {}};
  for (const Mark& mark : picture.marks)
    grid.rows.push_back({mark.inside, placeText(picture, mark.at),
                         pictureNumber(picture, mark.value), signName(picture, mark.word),
                         mark.text});
  return grid;
}

Grid gridOf(const Picture& picture) {
  if (picture.kind == PictureKind::points)
    return pointsGrid(picture);
  Grid grid;
  const bool atEdges = picture.kind == PictureKind::lines;
  grid.columns.push_back({picture.across == Across::amount ? amountHead(picture) + ", from"
                          : atEdges                        ? "at"
                                                           : "from",
                          picture.across == Across::amount});
  for (const Layer& layer : picture.layers)
    grid.columns.push_back({fmt::format("{} [{}]", layer.name, picture.unit)});
  const std::size_t rows = picture.edges.size() - (atEdges ? 0 : 1);
  for (std::size_t i = 0; i < rows; ++i) {
    Cells cells{placeText(picture, picture.edges[i])};
    for (const Layer& layer : picture.layers)
      cells.push_back(pictureNumber(picture, layer.values[i]));
    grid.rows.push_back(std::move(cells));
  }
  return grid;
}

std::string signItem(const SignKey& key) {
  const std::string sign =
      key.word == "lost"
          ? "<rect class=\"s-lost\" x=\"11\" y=\"1\" width=\"14\" height=\"14\"/>"
          : fmt::format("<circle class=\"s-{}\" cx=\"18\" cy=\"8\" r=\"7\"/>", key.word);
  return fmt::format(
      "<li><svg class=\"swatch\" viewBox=\"0 0 36 16\" aria-hidden=\"true\">{}</svg> {}</li>\n",
      sign, escaped(key.name));
}

std::string legendHtml(const Picture& picture) {
  const bool isLine = picture.kind == PictureKind::lines || picture.kind == PictureKind::points;
  std::string text;
  for (const Layer& layer : picture.layers)
    text += legendItem(layer.word, layer.name, isLine);
  for (const Stripes& stripes : picture.stripes)
    text += legendItem(stripes.word, stripes.name, false);
  for (const LevelLine& level : picture.levels)
    if (!level.above.empty())
      text += legendItem("quiet", level.above, false);
  for (const SignKey& key : picture.signs)
    text += signItem(key);
  return "<ul class=\"legend\">\n" + text + "</ul>\n";
}

}  // namespace

std::string pictureNumber(const Picture& picture, double value) {
  if (!std::isfinite(value))
    return "-";
  const int decimals = picture.unit == "W"                              ? 0
                       : picture.unit == "kWh" || picture.unit == "gal" ? 2
                                                                        : 1;
  const double scale = std::pow(10.0, decimals);
  return fmt::format("{:.{}f}", std::round(value * scale) / scale + 0.0, decimals);
}

std::string legendItem(std::string_view word, std::string_view name, bool isLine) {
  const std::string swatch =
      isLine ? fmt::format("<path class=\"l-{}\" d=\"M1 8L35 8\"/>", word)
             : fmt::format("<rect class=\"f-{} edge\" x=\"1\" y=\"1\" width=\"34\" height=\"14\"/>",
                           word);
  return fmt::format(
      "<li><svg class=\"swatch\" viewBox=\"0 0 36 16\" aria-hidden=\"true\">{}</svg> {}</li>\n",
      swatch, escaped(name));
}

std::string figureHtml(const Picture& picture) {
  std::string text =
      fmt::format("<figure id=\"{}\">\n<h3>{}{}</h3>\n", picture.id, escaped(picture.title),
                  picture.unit == "%" ? "" : " [" + picture.unit + "]");
  text += legendHtml(picture);
  text += "<div class=\"drawn\">\n" + drawingsSvg(picture) + "</div>\n";
  text += fmt::format("<figcaption>{}</figcaption>\n", escaped(picture.description));
  const std::string_view open = picture.isKey ? " open" : "";
  const std::string_view named = picture.kind == PictureKind::points ? " class=\"named\"" : "";
  text +=
      fmt::format("<details{}{}><summary>{} as a table</summary>\n{}</details>\n</figure>\n", open,
                  named, escaped(picture.title), tableHtml(gridOf(picture), picture.title));
  return text;
}

}  // namespace nightbank::report
