#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string_view>

#include "html.h"
#include "sheet.h"
#include <fmt/format.h>

namespace nightbank::report {
namespace {

constexpr Shape kWide{"wide", 720.0, 280.0, 80.0};
constexpr Shape kNarrow{"narrow", 320.0, 250.0, 62.0, 64.0};
constexpr double kFoot = 16.0;  // height of a strip at the foot

std::string point(char command, double x, double y) {
  return fmt::format("{}{:.1f} {:.1f}", command, x, y);
}

// Joined values at the edges; a gap where there is none.
std::string linePath(const Sheet& sheet, const std::vector<double>& values) {
  std::string path;
  bool isDown = false;
  for (std::size_t i = 0; i < values.size(); ++i) {
    if (std::isfinite(values[i]))
      path += point(isDown ? 'L' : 'M', sheet.x(sheet.picture.edges[i]), sheet.y(values[i]));
    isDown = std::isfinite(values[i]);
  }
  return path;
}

// Steps along `upper`, and back along `lower`.
std::string stepArea(const Sheet& sheet, const std::vector<double>& lower,
                     const std::vector<double>& upper) {
  const auto& edges = sheet.picture.edges;
  std::string path;
  for (std::size_t i = 0; i < upper.size(); ++i) {
    path += point(i == 0 ? 'M' : 'L', sheet.x(edges[i]), sheet.y(upper[i]));
    path += point('L', sheet.x(edges[i + 1]), sheet.y(upper[i]));
  }
  for (std::size_t i = upper.size(); i-- > 0;) {
    path += point('L', sheet.x(edges[i + 1]), sheet.y(lower[i]));
    path += point('L', sheet.x(edges[i]), sheet.y(lower[i]));
  }
  return path + "Z";
}

std::string rectangle(double x, double y, double width, double height, std::string_view fill) {
  return fmt::format(
      "<rect class=\"f-{}\" x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\"/>\n", fill,
      x, y, width, height);
}

std::string stripesSvg(const Sheet& sheet) {
  std::string text;
  for (const LevelLine& level : sheet.picture.levels)
    if (!level.above.empty())
      text += rectangle(sheet.shape.left, sheet.shape.top, sheet.shape.innerWidth(),
                        sheet.y(level.value) - sheet.shape.top, "quiet");
  for (const Stripes& stripes : sheet.picture.stripes)
    for (const Span& span : stripes.spans) {
      const double x = sheet.x(span.from_s);
      const double top = stripes.atFoot ? sheet.foot() - kFoot : sheet.shape.top;
      text += rectangle(x, top, std::max(1.0, sheet.x(span.to_s) - x), sheet.foot() - top,
                        stripes.word);
    }
  return text;
}

std::string barsSvg(const Sheet& sheet) {
  std::string text;
  for (const Layer& layer : sheet.picture.layers)
    for (std::size_t i = 0; i < layer.values.size(); ++i) {
      if (!std::isfinite(layer.values[i]))
        continue;
      const double x = sheet.x(sheet.picture.edges[i]), y = sheet.y(layer.values[i]);
      text +=
          rectangle(x, y, sheet.x(sheet.picture.edges[i + 1]) - x, sheet.foot() - y, layer.word);
    }
  return text;
}

std::string layersSvg(const Sheet& sheet) {
  const Picture& picture = sheet.picture;
  if (picture.kind == PictureKind::bars)
    return barsSvg(sheet);
  std::string text;
  std::vector<double> lower(std::max<std::size_t>(1, picture.edges.size()) - 1, 0.0);
  for (const Layer& layer : picture.layers) {
    if (picture.kind != PictureKind::stack) {
      text += fmt::format("<path class=\"l-{}\" d=\"{}\"/>\n", layer.word,
                          linePath(sheet, layer.values));
      continue;
    }
    std::vector<double> upper = lower;
    for (std::size_t i = 0; i < upper.size(); ++i)
      upper[i] += layer.values[i];
    text +=
        fmt::format("<path class=\"f-{}\" d=\"{}\"/>\n", layer.word, stepArea(sheet, lower, upper));
    lower = std::move(upper);
  }
  return text;
}

// A number on a disc or a square.
std::string signSvg(const Sheet& sheet, const Mark& mark) {
  constexpr double kHalf = 12.0;
  const double x = sheet.x(mark.at), y = sheet.y(mark.value);
  const std::string shape =
      mark.word == "lost"
          ? fmt::format(
                "<rect class=\"s-lost\" x=\"{0:.1f}\" y=\"{1:.1f}\" width=\"{2:.0f}\" "
                "height=\"{2:.0f}\"/>\n",
                x - kHalf, y - kHalf, 2.0 * kHalf)
          : fmt::format("<circle class=\"s-{}\" cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"{:.0f}\"/>\n",
                        mark.word, x, y, kHalf + 1.0);
  return shape + svgLabel(x, y + 6.0, "middle", mark.inside);
}

std::string ringSvg(const Sheet& sheet, const Mark& mark) {
  const double x = sheet.x(mark.at), y = sheet.y(mark.value);
  const bool leftHalf = x < sheet.shape.left + 0.5 * sheet.shape.innerWidth();
  const bool isCrossed = std::any_of(
      sheet.picture.levels.begin(), sheet.picture.levels.end(), [&](const LevelLine& level) {
        return sheet.y(level.value) > y && sheet.y(level.value) < y + 30.0;
      });
  const bool hasRoomBelow = !isCrossed && y + 28.0 < sheet.foot() - kFoot;
  double above = y - 12.0;
  for (const LevelLine& level : sheet.picture.levels)  // clear of their names
    if (std::abs(sheet.y(level.value) - 6.0 - above) < 20.0)
      above = sheet.y(level.value) - 26.0;
  return fmt::format("<circle class=\"mark\" cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"5\"/>\n", x, y) +
         svgLabel(leftHalf ? x + 4.0 : x - 4.0, hasRoomBelow ? y + 24.0 : above,
                  leftHalf ? "start" : "end", mark.text);
}

// The last ones first, so that the first lie on top.
std::string marksSvg(const Sheet& sheet) {
  std::string text;
  for (auto mark = sheet.picture.marks.rbegin(); mark != sheet.picture.marks.rend(); ++mark)
    text += mark->inside.empty() ? ringSvg(sheet, *mark) : signSvg(sheet, *mark);
  return text;
}

// What lies across may need a line for its name.
Shape shapeFor(const Picture& picture, Shape shape) {
  constexpr double kNameLine = 24.0;
  if (picture.across != Across::clock) {
    shape.height += kNameLine;
    shape.bottom += kNameLine;
  }
  return shape;
}

std::string drawing(const Picture& picture, const Shape& usual) {
  const Shape shape = shapeFor(picture, usual);
  const Sheet sheet{picture, shape};
  std::string text = fmt::format(
      "<svg class=\"{0}\" viewBox=\"0 0 {1:.0f} {2:.0f}\" role=\"img\" aria-labelledby=\"{3}-{0}-t "
      "{3}-{0}-d\">\n<title id=\"{3}-{0}-t\">{4}</title>\n<desc id=\"{3}-{0}-d\">{5}</desc>\n",
      shape.name, shape.width, shape.height, picture.id, escaped(picture.title),
      escaped(picture.description));
  text += stripesSvg(sheet) + scaleSvg(sheet) + layersSvg(sheet) + acrossSvg(sheet);
  return text + levelsSvg(sheet) + marksSvg(sheet) + "</svg>\n";
}

}  // namespace

std::string drawingsSvg(const Picture& picture) {
  return drawing(picture, kWide) + drawing(picture, kNarrow);
}

}  // namespace nightbank::report
