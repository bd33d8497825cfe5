#include <cmath>

#include "../json_parts.h"
#include "html.h"
#include "picture.h"
#include <fmt/format.h>
#include <nlohmann/json.hpp>

namespace nightbank::report {
namespace {

// A tile of 8 by 8 that tells a layer from others without colour: strokes in the paper's colour.
struct Pattern {
  std::string_view word, path;
};

constexpr Pattern kPatterns[] = {
    {"bank", ""},
    {"generator", "M0 0L8 8M8 0L0 8"},
    {"shore", "M0 4L8 4"},
    {"alternator", "M2 2L2 6M6 2L6 6"},
    {"solar", "M-2 2L2 -2M0 8L8 0M6 10L10 6"},
    {"unit", "M-2 6L2 10M0 0L8 8M6 -2L10 2"},
    {"loads", "M4 0L4 8"},
    {"losses", "M2 4L4 4M6 0L8 0M6 8L8 8"},
    {"quiet", "M-2 2L2 -2M0 8L8 0M6 10L10 6"},
    {"engine", "M0 0L8 8M8 0L0 8"},
};

Json numbersOf(const Picture& picture, const std::vector<double>& values) {
  Json list = Json::array();
  const double scale = picture.unit == "W" ? 10.0 : 1000.0;
  for (const double value : values)
    list.push_back(std::isfinite(value) ? Json(std::round(value * scale) / scale + 0.0) : Json());
  return list;
}

Json dataOf(const Picture& picture) {
  constexpr std::string_view kKinds[] = {"lines", "stack", "bars", "points"};
  constexpr std::string_view kAcross[] = {"clock", "elapsed", "amount"};
  Json layers = Json::array(), levels = Json::array(), stripes = Json::array();
  Json marks = Json::array(), uprights = Json::array();
  for (const Mark& mark : picture.marks) {
    marks.push_back({{"at", mark.at}, {"value", mark.value}});
    if (!mark.inside.empty())
      marks.back().update({{"inside", mark.inside}, {"word", mark.word}, {"text", mark.text}});
  }
  for (const Layer& layer : picture.layers)
    layers.push_back(
        {{"word", layer.word}, {"name", layer.name}, {"values", numbersOf(picture, layer.values)}});
  for (const LevelLine& level : picture.levels)
    levels.push_back({{"name", level.name}, {"value", level.value}, {"above", level.above}});
  for (const LevelLine& upright : picture.uprights)
    uprights.push_back({{"name", upright.name}, {"value", upright.value}});
  for (const Stripes& one : picture.stripes) {
    Json spans = Json::array();
    for (const Span& span : one.spans)
      spans.push_back({span.from_s, span.to_s});
    stripes.push_back({{"word", one.word}, {"atFoot", one.atFoot}, {"spans", spans}});
  }
  return {{"id", picture.id},
          {"title", picture.title},
          {"text", picture.description},
          {"unit", picture.unit},
          {"kind", kKinds[static_cast<std::size_t>(picture.kind)]},
          {"across", kAcross[static_cast<std::size_t>(picture.across)]},
          {"low", picture.low},
          {"high", picture.high},
          {"edges", picture.edges},
          {"layers", layers},
          {"levels", levels},
          {"uprights", uprights},
          {"stripes", stripes},
          {"marks", marks}};
}

Json dataOf(const RowPicture& picture) {
  Json rows = Json::array();
  for (const BarRow& row : picture.rows)
    rows.push_back({{"name", row.name}, {"from", row.from}, {"to", row.to}, {"word", row.word}});
  return {{"id", picture.id}, {"unit", picture.unit}, {"rows", rows}};
}

}  // namespace

std::string pictureData(const PagePictures& pictures) {
  const std::vector<Picture>& drawn = pictures.drawn;
  Json object = {{"start", drawn.empty() ? 0.0 : drawn.front().start_s},
                 {"pictures", Json::array()},
                 {"rows", Json::array()}};
  for (const Picture& picture : drawn)
    object["pictures"].push_back(dataOf(picture));
  for (const RowPicture& picture : pictures.rows)
    object["rows"].push_back(dataOf(picture));
  return inScript(object.dump(-1, ' ', false, Json::error_handler_t::replace));
}

std::string patternsSvg() {
  std::string text = "<svg class=\"patterns\" aria-hidden=\"true\"><defs>\n";
  for (const Pattern& pattern : kPatterns)
    text += fmt::format(
        "<pattern id=\"p-{0}\" width=\"8\" height=\"8\" patternUnits=\"userSpaceOnUse\">"
        "<rect class=\"c-{0}\" width=\"8\" height=\"8\"/><path d=\"{1}\"/></pattern>\n",
        pattern.word, pattern.path);
  return text + "</defs></svg>\n";
}

}  // namespace nightbank::report
