#pragma once

#include <string>
#include <vector>

#include "nightbank/report/text.h"
#include "nightbank/study/answer.h"
#include "nightbank/units/quantity.h"

/// A picture before it is drawn: one description for the drawing, its table, its text alternative
/// and the data of the page's script. Private to the page.
namespace nightbank::report {

enum class PictureKind {
  lines,   ///< values at the edges, joined
  stack,   ///< means between edges, one layer on the other
  bars,    ///< one value between edges
  points,  ///< the marks, each with its name in the table; a layer joins some of them
};

/// What lies across a picture. Only pictures over the clock are live.
enum class Across {
  clock,    ///< seconds from the period's start, shown as times of the day
  elapsed,  ///< the same, shown as hours from it
  amount,   ///< a number in Picture::unitAcross
};

/// One curve or layer. `word` names its pattern and line in the style sheet.
struct Layer {
  std::string word, name;
  std::vector<double> values;  ///< at the edges (lines), else one fewer; NaN: there is none
};

/// A limit drawn across, or from top to foot.
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

/// A place in the picture: a ring with text beside it, or a sign with a short text inside.
struct Mark {
  double at = 0.0, value = 0.0;
  std::string text;
  std::string inside = "";  ///< "2"; "": a ring
  std::string word = "";    ///< of the sign's look: "held" a disc, "lost" a square
};

/// What a mark's sign means.
struct SignKey {
  std::string word, name;
};

struct Picture {
  std::string id, title, description, unit;
  PictureKind kind{};
  double start_s = 0.0;       ///< local time of the period's start
  std::vector<double> edges;  ///< in what lies across, ascending
  std::vector<Layer> layers;
  double low = 0.0, high = 1.0;
  std::vector<LevelLine> levels;
  std::vector<Stripes> stripes;
  std::vector<Mark> marks;
  Across across = Across::clock;
  std::string nameAcross, unitAcross;  ///< of an amount: "price", "USD"
  double left = 0.0;                   ///< where the picture begins
  double right = 0.0;                  ///< where it ends; not above left: at the last edge
  std::vector<LevelLine> uprights;     ///< from top to foot
  std::vector<SignKey> signs = {};     ///< what the marks' signs mean
  bool isKey = false;                  ///< its table names the numbers of points
};

/// Words, a bar from one value to another, words on it.
struct BarRow {
  std::string name, text;
  double from = 0.0, to = 0.0;
  std::string word;  ///< of its pattern
};

/// Bars one below the other, that share a scale. What lines mean stands on top of them.
struct RowPicture {
  std::string id, title, description, unit;
  double low = 0.0, high = 1.0;
  std::vector<BarRow> rows;
  std::vector<LevelLine> uprights;
  std::vector<SignKey> patterns;  ///< what the patterns mean
};

/// All pictures of a page.
struct PagePictures {
  std::vector<Picture> drawn;
  std::vector<RowPicture> rows;

  bool empty() const { return drawn.empty() && rows.empty(); }
};

/// Time between the edges of the pictures: at most fifty of them. [s]
double pictureStep_s(double span_s);

/// All pictures of an answer in their order; those of one night of the end where the compressor
/// never rests. None without samples.
std::vector<Picture> picturesOf(const Answer& answer, UnitSystem units);

/// The state of charge of a night as a layer of lines over `edges` from its start. [%]
Layer chargeLayer(const Night& night, std::string word, std::string name,
                  const std::vector<double>& edges);

/// <figure>: legend, drawings for wide and narrow screens, description, table.
std::string figureHtml(const Picture& picture);

/// The same of bars.
std::string rowsHtml(const RowPicture& picture);

/// Swatch and name of a layer or stripes.
std::string legendItem(std::string_view word, std::string_view name, bool isLine);

/// The patterns that the style sheet's fills refer to; once a page.
std::string patternsSvg();

/// All pictures for the page's script, a JSON object.
std::string pictureData(const PagePictures& pictures);

/// Number with the decimals that suit the unit: "%" and temperatures one, W none.
std::string pictureNumber(const Picture& picture, double value);

/// About `count` round steps from low to high, both ends included where they are round.
std::vector<double> roundSteps(double low, double high, int count);

}  // namespace nightbank::report
