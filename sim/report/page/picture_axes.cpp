#include <array>
#include <cmath>

#include "html.h"
#include "sheet.h"
#include <fmt/format.h>

#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

std::string rule(std::string_view name, double x1, double y1, double x2, double y2) {
  return fmt::format(
      "<line class=\"{}\" x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\"/>\n", name, x1,
      y1, x2, y2);
}

// With as many decimals as all of the steps need.
std::string scaleNumber(const std::vector<double>& steps, double value) {
  constexpr int kMostDecimals = 4;
  const double step = steps.size() > 1 ? steps[1] - steps[0] : 1.0;
  int decimals = 0;
  for (double scaled = step;
       decimals < kMostDecimals && std::abs(scaled - std::round(scaled)) > 1e-6 * std::abs(scaled);
       scaled *= 10.0)
    ++decimals;
  return fmt::format("{:.{}f}", value, decimals);
}

struct AcrossLabel {
  double at = 0.0;
  std::string text;
};

// Hours between labels of the clock.
int clockStep_h(const Sheet& sheet) {
  constexpr std::array kSteps_h{1, 2, 3, 4, 6, 12, 24, 48, 96, 168, 336, 720, 1440, 2880, 8760};
  const auto found = std::find_if(kSteps_h.begin(), kSteps_h.end(), [&](int step_h) {
    return step_h * kHour_s * sheet.shape.innerWidth() / sheet.span() >= sheet.shape.apart;
  });
  return found == kSteps_h.end() ? kSteps_h.back() : *found;
}

// Clock times, or dates a day or more apart; hours where they are counted from the beginning.
std::vector<AcrossLabel> timeLabels(const Sheet& sheet) {
  const int step_h = clockStep_h(sheet);
  const bool isClock = sheet.picture.across == Across::clock;
  const double start_s = isClock ? sheet.picture.start_s : 0.0;
  const double step_s = step_h * kHour_s;
  std::vector<AcrossLabel> labels;
  for (double local_s = std::ceil(start_s / step_s - 1e-9) * step_s;
       local_s <= start_s + sheet.span() + 1.0; local_s += step_s) {
    const std::string when = dayAndClockText(local_s);
    labels.push_back({local_s - start_s, !isClock ? fmt::format("{:.0f}", local_s / kHour_s + 0.0)
                                         : step_h < 24 ? clockText(local_s)
                                                       : when.substr(0, when.rfind(' '))});
  }
  return labels;
}

std::vector<AcrossLabel> amountLabels(const Sheet& sheet) {
  const int count = std::max(2, static_cast<int>(sheet.shape.innerWidth() / sheet.shape.apart));
  const std::vector<double> steps = roundSteps(sheet.picture.left, sheet.end(), count);
  std::vector<AcrossLabel> labels;
  for (const double value : steps)
    if (value > sheet.picture.left - 1e-9 * sheet.span() &&
        value < sheet.end() + 1e-9 * sheet.span())
      labels.push_back({value, scaleNumber(steps, value)});
  return labels;
}

std::string acrossName(const Picture& picture) {
  switch (picture.across) {
    case Across::clock:
      return "";
    case Across::elapsed:
      return "hours from the beginning";
    case Across::amount:
      return picture.unitAcross.empty() ? picture.nameAcross
                                        : picture.nameAcross + " [" + picture.unitAcross + "]";
  }
  return "";
}

}  // namespace

std::string svgLabel(double x, double y, std::string_view anchor, std::string_view text) {
  return fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\">{}</text>\n", x, y, anchor,
                     escaped(text));
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
    text += svgLabel(shape.left - 6.0, y + (isTop ? 10.0 : 5.0), "end",
                     scaleNumber(steps, value) + unit);
  }
  return text;
}

std::string acrossSvg(const Sheet& sheet) {
  const Shape& shape = sheet.shape;
  const double foot = sheet.foot();
  const std::vector<AcrossLabel> labels =
      sheet.picture.across == Across::amount ? amountLabels(sheet) : timeLabels(sheet);
  const double apart =
      labels.size() > 1 ? sheet.x(labels[1].at) - sheet.x(labels[0].at) : shape.width;
  std::string text;
  for (const AcrossLabel& label : labels) {
    const double x = sheet.x(label.at);
    text += rule("tick", x, foot, x, foot + 6.0);
    const bool atStart = x < shape.left + 4.0;
    const bool atEnd = x > shape.width - 24.0;
    if (atEnd && apart < shape.apart + 24.0)
      continue;  // set to the left, it would run into the one before
    text += svgLabel(atStart ? shape.left - 4.0
                     : atEnd ? shape.width - 1.0
                             : x,
                     foot + 24.0,
                     atStart ? "start"
                     : atEnd ? "end"
                             : "middle",
                     label.text);
  }
  if (const std::string name = acrossName(sheet.picture); !name.empty())
    text += svgLabel(shape.width - shape.right, foot + 48.0, "end", name);
  return text + rule("axis", shape.left, foot, shape.width - shape.right, foot);
}

std::string levelsSvg(const Sheet& sheet) {
  constexpr double kApart = 22.0;  // of two lines of text
  const Shape& shape = sheet.shape;
  std::string text;
  const std::vector<LevelLine>& levels = sheet.picture.levels;
  for (auto level = levels.begin(); level != levels.end(); ++level) {
    const double y = sheet.y(level->value);
    text += rule("limit", shape.left, y, shape.width - shape.right, y);
    const bool hasRoom = y > shape.top + 24.0;
    // The cheap ones of points lie at the left; a name near by may lie there too.
    const bool atEnd = sheet.picture.kind == PictureKind::points ||
                       std::any_of(levels.begin(), level, [&](const LevelLine& other) {
                         return std::abs(sheet.y(other.value) - y) < kApart;
                       });
    text += svgLabel(atEnd ? shape.width - shape.right : shape.left + 6.0,
                     hasRoom ? y - 6.0 : y + 19.0, atEnd ? "end" : "start", level->name);
  }
  for (const LevelLine& upright : sheet.picture.uprights) {
    const double x = sheet.x(upright.value);
    const bool leftHalf = x < shape.left + 0.5 * shape.innerWidth();
    text += rule("limit", x, shape.top, x, sheet.foot());
    text += svgLabel(leftHalf ? x + 6.0 : x - 6.0, shape.top + 14.0, leftHalf ? "start" : "end",
                     upright.name);
  }
  return text;
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

}  // namespace nightbank::report
