#pragma once

#include <algorithm>
#include <string>
#include <string_view>

#include "picture.h"

/// A picture laid out on a drawing of one size. Private to the page.
namespace nightbank::report {

/// A drawing for one width of screen. Lengths in the drawing's own units, which are pixels where it
/// is shown at its own width.
struct Shape {
  std::string_view name;
  double width = 0.0, height = 0.0;
  double apart = 0.0;  // between labels across, at least
  double left = 58.0, right = 10.0, top = 12.0, bottom = 30.0;

  double innerWidth() const { return width - left - right; }

  double innerHeight() const { return height - top - bottom; }
};

struct Sheet {
  const Picture& picture;
  const Shape& shape;

  double end() const { return picture.right > picture.left ? picture.right : picture.edges.back(); }

  double span() const { return end() - picture.left; }

  double x(double at) const {
    return shape.left + shape.innerWidth() * (at - picture.left) / span();
  }

  double y(double value) const {
    const double share = (value - picture.low) / (picture.high - picture.low);
    return shape.top + shape.innerHeight() * (1.0 - std::clamp(share, 0.0, 1.0));
  }

  double foot() const { return shape.top + shape.innerHeight(); }
};

/// Both drawings, for wide and narrow screens.
std::string drawingsSvg(const Picture& picture);

/// Grid and numbers at the left.
std::string scaleSvg(const Sheet& sheet);

/// The line at the foot with the clock's times, hours, or an amount's numbers and name.
std::string acrossSvg(const Sheet& sheet);

/// Limits across and from top to foot, with their names.
std::string levelsSvg(const Sheet& sheet);

/// <text>
std::string svgLabel(double x, double y, std::string_view anchor, std::string_view text);

}  // namespace nightbank::report
