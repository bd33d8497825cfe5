#pragma once

#include <string>
#include <vector>

#include "nightbank/study/answer.h"
#include "nightbank/units/quantity.h"

/// A picture over the clock before it is drawn: one description for the drawing, its table, its
/// text alternative and the data of the page's script. Private to the page.
namespace nightbank::report {

enum class PictureKind {
  lines,  ///< values at the edges, joined
  stack,  ///< means between edges, one layer on the other
  bars,   ///< one value between edges
};

/// One curve or layer. `word` names its pattern and line in the style sheet.
struct Layer {
  std::string word, name;
  std::vector<double> values;  ///< at the edges (lines), else one fewer; NaN: there is none
};

/// A limit drawn across.
struct LevelLine {
  std::string name;
  double value = 0.0;
  std::string above = "";  ///< what the hatched zone above it means; "": there is none
};

struct Span {
  double from_s = 0.0, to_s = 0.0;
};

/// Spans of the clock, behind the curves or as a strip at the foot.
struct Stripes {
  std::string word, name;
  std::vector<Span> spans;
  bool atFoot = false;
};

struct Mark {
  double at_s = 0.0, value = 0.0;
  std::string text;
};

struct Picture {
  std::string id, title, description, unit;
  PictureKind kind{};
  double start_s = 0.0;         ///< local time of the period's start
  std::vector<double> edges_s;  ///< from the period's start, ascending
  std::vector<Layer> layers;
  double low = 0.0, high = 1.0;
  std::vector<LevelLine> levels;
  std::vector<Stripes> stripes;
  std::vector<Mark> marks;
};

/// Time between the edges of the pictures: at most fifty of them. [s]
double pictureStep_s(double span_s);

/// All pictures of an answer in their order; those of one night of the end where the compressor
/// never rests. None without samples.
std::vector<Picture> picturesOf(const Answer& answer, UnitSystem units);

/// <figure>: legend, drawings for wide and narrow screens, description, table.
std::string figureHtml(const Picture& picture);

/// Swatch and name of a layer or stripes.
std::string legendItem(std::string_view word, std::string_view name, bool isLine);

/// The patterns that the style sheet's fills refer to; once a page.
std::string patternsSvg();

/// All pictures for the page's script, a JSON object.
std::string pictureData(const std::vector<Picture>& pictures);

/// Number with the decimals that suit the unit: "%" and temperatures one, W none.
std::string pictureNumber(const Picture& picture, double value);

/// About `count` round steps from low to high, both ends included where they are round.
std::vector<double> roundSteps(double low, double high, int count);

}  // namespace nightbank::report
