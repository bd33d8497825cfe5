#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <string_view>

#include "html.h"
#include "picture.h"
#include <fmt/format.h>

#include "nightbank/report/figures.h"
#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

// A drawing for one width of screen. Lengths in the drawing's own units, which are pixels where it
// is shown at its own width.
struct Shape {
  std::string_view name;
  double width = 0.0, height = 0.0;
  double apart = 0.0;  // between labels of the clock, at least
  double left = 58.0, right = 10.0, top = 12.0, bottom = 30.0;

  double innerWidth() const { return width - left - right; }

  double innerHeight() const { return height - top - bottom; }
};

constexpr Shape kWide{"wide", 720.0, 280.0, 80.0};
constexpr Shape kNarrow{"narrow", 320.0, 250.0, 62.0, 64.0};
constexpr double kFoot = 16.0;  // height of a strip at the foot

struct Sheet {
  const Picture& picture;
  const Shape& shape;

  double span_s() const { return picture.edges_s.back(); }

  double x(double at_s) const { return shape.left + shape.innerWidth() * at_s / span_s(); }

  double y(double value) const {
    const double share = (value - picture.low) / (picture.high - picture.low);
    return shape.top + shape.innerHeight() * (1.0 - std::clamp(share, 0.0, 1.0));
  }

  double foot() const { return shape.top + shape.innerHeight(); }
};

std::string point(char command, double x, double y) {
  return fmt::format("{}{:.1f} {:.1f}", command, x, y);
}

// Joined values at the edges; a gap where there is none.
std::string linePath(const Sheet& sheet, const std::vector<double>& values) {
  std::string path;
  bool isDown = false;
  for (std::size_t i = 0; i < values.size(); ++i) {
    if (std::isfinite(values[i]))
      path += point(isDown ? 'L' : 'M', sheet.x(sheet.picture.edges_s[i]), sheet.y(values[i]));
    isDown = std::isfinite(values[i]);
  }
  return path;
}

// Steps along `upper`, and back along `lower`.
std::string stepArea(const Sheet& sheet, const std::vector<double>& lower,
                     const std::vector<double>& upper) {
  const auto& edges_s = sheet.picture.edges_s;
  std::string path;
  for (std::size_t i = 0; i < upper.size(); ++i) {
    path += point(i == 0 ? 'M' : 'L', sheet.x(edges_s[i]), sheet.y(upper[i]));
    path += point('L', sheet.x(edges_s[i + 1]), sheet.y(upper[i]));
  }
  for (std::size_t i = upper.size(); i-- > 0;) {
    path += point('L', sheet.x(edges_s[i + 1]), sheet.y(lower[i]));
    path += point('L', sheet.x(edges_s[i]), sheet.y(lower[i]));
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
      const double x = sheet.x(sheet.picture.edges_s[i]), y = sheet.y(layer.values[i]);
      text +=
          rectangle(x, y, sheet.x(sheet.picture.edges_s[i + 1]) - x, sheet.foot() - y, layer.word);
    }
  return text;
}

std::string layersSvg(const Sheet& sheet) {
  const Picture& picture = sheet.picture;
  if (picture.kind == PictureKind::bars)
    return barsSvg(sheet);
  std::string text;
  std::vector<double> lower(picture.edges_s.size() - 1, 0.0);
  for (const Layer& layer : picture.layers) {
    if (picture.kind == PictureKind::lines) {
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

std::string label(double x, double y, std::string_view anchor, std::string_view text) {
  return fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\">{}</text>\n", x, y, anchor,
                     escaped(text));
}

std::string rule(std::string_view name, double x1, double y1, double x2, double y2) {
  return fmt::format(
      "<line class=\"{}\" x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\"/>\n", name, x1,
      y1, x2, y2);
}

std::string scaleSvg(const Sheet& sheet) {
  const Shape& shape = sheet.shape;
  std::string text;
  const std::vector<double> steps = roundSteps(sheet.picture.low, sheet.picture.high, 4);
  for (const double value : steps) {
    const double y = sheet.y(value);
    text += rule("grid", shape.left, y, shape.width - shape.right, y);
    const bool isTop = value == steps.back();
    const std::string unit = isTop && sheet.picture.unit == "%" ? " %" : "";
    text += label(shape.left - 6.0, y + (isTop ? 10.0 : 5.0), "end",
                  fmt::format("{:.0f}{}", value, unit));
  }
  return text;
}

// Clock times, or dates a day or more apart.
std::string clockSvg(const Sheet& sheet) {
  constexpr std::array kSteps_h{1, 2, 3, 4, 6, 12, 24, 48, 96, 168, 336, 720, 1440, 2880, 8760};
  const Shape& shape = sheet.shape;
  const auto fits = [&](int step_h) {
    return step_h * kHour_s * shape.innerWidth() / sheet.span_s() >= shape.apart;
  };
  const auto found = std::find_if(kSteps_h.begin(), kSteps_h.end(), fits);
  const int step_h = found == kSteps_h.end() ? kSteps_h.back() : *found;
  const double step_s = step_h * kHour_s;
  std::string text;
  for (double local_s = std::ceil(sheet.picture.start_s / step_s - 1e-9) * step_s;
       local_s <= sheet.picture.start_s + sheet.span_s() + 1.0; local_s += step_s) {
    const double x = sheet.x(local_s - sheet.picture.start_s);
    const std::string when = dayAndClockText(local_s);
    text += rule("tick", x, sheet.foot(), x, sheet.foot() + 6.0);
    const bool atStart = x < shape.left + 4.0;
    const bool atEnd = x > shape.width - 24.0;
    if (atEnd && step_s * shape.innerWidth() / sheet.span_s() < shape.apart + 24.0)
      continue;  // set to the left, it would run into the one before
    text += label(atStart ? shape.left - 4.0
                  : atEnd ? shape.width - 1.0
                          : x,
                  shape.height - 6.0,
                  atStart ? "start"
                  : atEnd ? "end"
                          : "middle",
                  step_h < 24 ? clockText(local_s) : when.substr(0, when.rfind(' ')));
  }
  return text;
}

std::string levelsSvg(const Sheet& sheet) {
  std::string text;
  for (const LevelLine& level : sheet.picture.levels) {
    const double y = sheet.y(level.value);
    text += rule("limit", sheet.shape.left, y, sheet.shape.width - sheet.shape.right, y);
    const bool hasRoom = y > sheet.shape.top + 24.0;
    text += label(sheet.shape.left + 6.0, hasRoom ? y - 6.0 : y + 19.0, "start", level.name);
  }
  return text;
}

std::string marksSvg(const Sheet& sheet) {
  std::string text;
  for (const Mark& mark : sheet.picture.marks) {
    const double x = sheet.x(mark.at_s), y = sheet.y(mark.value);
    const bool leftHalf = x < sheet.shape.left + 0.5 * sheet.shape.innerWidth();
    const bool isCrossed = std::any_of(
        sheet.picture.levels.begin(), sheet.picture.levels.end(), [&](const LevelLine& level) {
          return sheet.y(level.value) > y && sheet.y(level.value) < y + 30.0;
        });
    const bool hasRoomBelow = !isCrossed && y + 28.0 < sheet.foot() - kFoot;
    text += fmt::format("<circle class=\"mark\" cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"5\"/>\n", x, y);
    text += label(leftHalf ? x + 4.0 : x - 4.0, hasRoomBelow ? y + 24.0 : y - 12.0,
                  leftHalf ? "start" : "end", mark.text);
  }
  return text;
}

std::string drawing(const Picture& picture, const Shape& shape) {
  const Sheet sheet{picture, shape};
  std::string text = fmt::format(
      "<svg class=\"{0}\" viewBox=\"0 0 {1:.0f} {2:.0f}\" role=\"img\" aria-labelledby=\"{3}-{0}-t "
      "{3}-{0}-d\">\n<title id=\"{3}-{0}-t\">{4}</title>\n<desc id=\"{3}-{0}-d\">{5}</desc>\n",
      shape.name, shape.width, shape.height, picture.id, escaped(picture.title),
      escaped(picture.description));
  text += stripesSvg(sheet) + scaleSvg(sheet) + layersSvg(sheet) + clockSvg(sheet);
  text += rule("axis", shape.left, sheet.foot(), shape.width - shape.right, sheet.foot());
  return text + levelsSvg(sheet) + marksSvg(sheet) + "</svg>\n";
}

Grid gridOf(const Picture& picture) {
  Grid grid;
  const bool atEdges = picture.kind == PictureKind::lines;
  grid.columns.push_back({atEdges ? "at" : "from", false});
  for (const Layer& layer : picture.layers)
    grid.columns.push_back({fmt::format("{} [{}]", layer.name, picture.unit)});
  const std::size_t rows = picture.edges_s.size() - (atEdges ? 0 : 1);
  for (std::size_t i = 0; i < rows; ++i) {
    Cells cells{dayAndClockText(picture.start_s + picture.edges_s[i])};
    for (const Layer& layer : picture.layers)
      cells.push_back(pictureNumber(picture, layer.values[i]));
    grid.rows.push_back(std::move(cells));
  }
  return grid;
}

std::string legendHtml(const Picture& picture) {
  std::string text = "<ul class=\"legend\">\n";
  for (const Layer& layer : picture.layers)
    text += legendItem(layer.word, layer.name, picture.kind == PictureKind::lines);
  for (const Stripes& stripes : picture.stripes)
    text += legendItem(stripes.word, stripes.name, false);
  for (const LevelLine& level : picture.levels)
    if (!level.above.empty())
      text += legendItem("quiet", level.above, false);
  return text + "</ul>\n";
}

}  // namespace

std::string pictureNumber(const Picture& picture, double value) {
  if (!std::isfinite(value))
    return "-";
  const double shown = std::round(value * 10.0) / 10.0 + 0.0;
  return picture.unit == "W" ? fmt::format("{:.0f}", std::round(value) + 0.0)
                             : fmt::format("{:.1f}", shown);
}

std::vector<double> roundSteps(double low, double high, int count) {
  const double rough = std::max(high - low, 1e-6) / count;
  const double power = std::pow(10.0, std::floor(std::log10(rough)));
  constexpr std::array kFactors{1.0, 2.0, 2.5, 5.0, 10.0};
  double step = power * kFactors.back();
  for (const double factor : kFactors)
    if (factor * power >= rough * (1.0 - 1e-9) && factor * power < step)
      step = factor * power;
  std::vector<double> steps;
  const double first = std::floor(low / step + 1e-9);
  for (int i = 0; steps.empty() || steps.back() < high - 1e-9 * step; ++i)
    steps.push_back((first + i) * step + 0.0);
  return steps;
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
  text +=
      "<div class=\"drawn\">\n" + drawing(picture, kWide) + drawing(picture, kNarrow) + "</div>\n";
  text += fmt::format("<figcaption>{}</figcaption>\n", escaped(picture.description));
  text += fmt::format("<details><summary>{} as a table</summary>\n{}</details>\n</figure>\n",
                      escaped(picture.title), tableHtml(gridOf(picture), picture.title));
  return text;
}

}  // namespace nightbank::report
