#include <algorithm>

#include "../start_parts.h"
#include "html.h"
#include "parts.h"
#include "picture.h"
#include <fmt/format.h>

#include "nightbank/report/start.h"

namespace nightbank::report {
namespace {

// A drawing for one width of screen: a case is a line of words, a bar, and a line of amounts.
struct BarShape {
  std::string_view name;
  double width = 0.0;
};

constexpr BarShape kWideBars{"wide", 720.0}, kNarrowBars{"narrow", 320.0};
constexpr double kCase = 78.0, kBar = 20.0, kBarTop = 24.0;
// What there is reaches so far across; what is needed may go beyond.
constexpr double kHasShare = 0.5;

std::vector<const StartCase*> casesShown(const StartAnswer& answer, std::size_t unit) {
  std::vector<const StartCase*> cases;
  for (const StartCase& one : answer.cases)
    if (one.unit == unit && one.asFitted)
      cases.push_back(&one);
  return cases;
}

std::string amountsText(const StartCase& one) {
  const StartElement& element = one.test.limiting();
  return fmt::format("{} of {}: {}", elementAmount(element.needed, element.limit),
                     elementAmount(element.available, element.limit), startWords(one.level));
}

std::string whichText(const StartCase& one) {
  return fmt::format("{}, {}, {} start", startSourceText(one.source),
                     one.soft ? "soft starter" : "stock", startWhenText(one.when));
}

std::string caseSvg(const StartCase& one, const BarShape& shape, double y) {
  const StartElement& element = one.test.limiting();
  const double share =
      element.available > 0.0 ? std::min(2.0, element.needed / element.available) : 2.0;
  const double has = kHasShare * shape.width;
  return fmt::format(
      "<text x=\"0\" y=\"{0:.0f}\">{1}</text>\n"
      "<rect class=\"f-unit\" x=\"1\" y=\"{2:.0f}\" width=\"{3:.1f}\" height=\"{4:.0f}\"/>\n"
      "<rect class=\"f-has\" x=\"1\" y=\"{5:.0f}\" width=\"{6:.1f}\" height=\"{7:.0f}\"/>\n"
      "<text x=\"0\" y=\"{8:.0f}\">{9}</text>\n",
      y + 16.0, escaped(whichText(one)), y + kBarTop, share * has - 2.0, kBar, y + kBarTop - 2.0,
      has, kBar + 4.0, y + kBarTop + kBar + 18.0, escaped(amountsText(one)));
}

std::string barsOf(const std::vector<const StartCase*>& cases, std::string_view title,
                   std::string_view id, const BarShape& shape) {
  std::string described;
  for (const StartCase* one : cases)
    described += fmt::format("{}: needs {}. ", whichText(*one), amountsText(*one));
  std::string text = fmt::format(
      "<svg class=\"{0}\" viewBox=\"0 0 {1:.0f} {2:.0f}\" role=\"img\" aria-labelledby=\"{3}-{0}-t "
      "{3}-{0}-d\">\n<title id=\"{3}-{0}-t\">{4}</title>\n<desc id=\"{3}-{0}-d\">{5}</desc>\n",
      shape.name, shape.width, kCase * static_cast<double>(cases.size()), id, escaped(title),
      escaped(described));
  for (std::size_t i = 0; i < cases.size(); ++i)
    text += caseSvg(*cases[i], shape, kCase * static_cast<double>(i));
  return text + "</svg>\n";
}

std::string unitHtml(const StartAnswer& answer, std::size_t unit) {
  const std::vector<const StartCase*> cases = casesShown(answer, unit);
  const Section card = startSection(answer, unit);
  if (card.grid.rows.empty())
    return "";
  std::string text = fmt::format("<figure id=\"start-{}\">\n<h3>{}</h3>\n", unit,
                                 escaped(answer.plant.airConditioners[unit].name));
  text += "<ul class=\"legend\">\n" + legendItem("unit", "what the start as fitted needs", false) +
          legendItem("has", "what there is", false) + "</ul>\n<div class=\"drawn\">\n";
  const std::string title = "Start of " + answer.plant.airConditioners[unit].name;
  const std::string id = fmt::format("start-{}", unit);
  text += barsOf(cases, title, id, kWideBars) + barsOf(cases, title, id, kNarrowBars);
  return text + fmt::format("</div>\n<figcaption>{}</figcaption>\n", escaped(card.heading)) +
         tableHtml(card.grid, title) + "</figure>\n";
}

}  // namespace

std::string startFigures(const StartAnswer& answer) {
  std::string text;
  for (std::size_t unit = 0; unit < answer.plant.start.units.size(); ++unit)
    text += unitHtml(answer, unit);
  return text + paragraph(startCardNote());
}

std::string startHtml(const StartAnswer* start) {
  if (start == nullptr)
    return "";
  std::string text = "<section>\n<h2>Will it start?</h2>\n";
  text += paragraph(startSentence(*start)) + startFigures(*start);
  if (!start->remedies.empty())
    text += "<h3>What would make it start, each tried</h3>\n" + listHtml(startRemedyTexts(*start));
  return text + "</section>\n";
}

}  // namespace nightbank::report
