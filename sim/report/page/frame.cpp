#include "frame.h"

#include "html.h"
#include "parts.h"
#include <fmt/format.h>

#include "nightbank/report/figures.h"
#include "nightbank/report/sha256.h"
#include "nightbank/report/words.h"

namespace nightbank::report {
namespace {

struct Script {
  std::string style, code;  // code "": none
};

// Without the library the drawings stay as they are, and no script is needed.
Script scriptOf() {
  Script script{std::string(embedded::pageStyle()), ""};
  if (embedded::plotScript().empty())
    return script;
  script.style = std::string(embedded::plotStyle()) + script.style;
  script.code = fmt::format("/*\n{}*/\n{}\n{}", embedded::plotLicence(), embedded::plotScript(),
                            embedded::pageScript());
  return script;
}

std::string headHtml(const PageHead& head, const Script& script) {
  const std::string scriptSource =
      script.code.empty() ? "'none'" : fmt::format("'{}'", policyHash(script.code));
  return fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src '{}'; "
      "script-src {}; base-uri 'none'; form-action 'none'\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
      "<meta name=\"referrer\" content=\"no-referrer\">\n<title>{}: {}</title>\n"
      "<style>{}</style>\n</head>\n",
      policyHash(script.style), scriptSource, escaped(head.title), escaped(head.word),
      script.style);
}

std::string verdictHtml(const PageHead& head) {
  std::string text =
      fmt::format("<h1>{}</h1>\n", escaped(head.title.empty() ? "Without a title" : head.title));
  if (!head.question.empty())
    text += fmt::format("<p class=\"question\">{}</p>\n", escaped(head.question));
  text += paragraph(head.when);
  text += fmt::format(
      "<div class=\"verdict {}\">\n<p class=\"level\">{}</p>\n<p id=\"sentence\">{}</p>\n",
      levelWord(head.mark), escaped(head.word), escaped(head.sentence));
  text += paragraph(head.turn);
  if (!head.sleepers.empty())
    text += fmt::format("<p class=\"sleepers\">{}</p>\n", escaped(head.sleepers));
  for (const std::string& note : head.notes)
    text += paragraph(note);
  return text + "</div>\n" + paragraph(head.weather);
}

std::string navigation(const PagePictures& pictures, const std::vector<PagePart>& parts) {
  std::string text = "<nav aria-label=\"On this page\"><ul>\n";
  if (!pictures.empty())
    text += "<li><a href=\"#pictures\">Pictures</a></li>\n";
  for (const PagePart& part : parts)
    if (!part.html.empty())
      text += fmt::format("<li><a href=\"#{}\">{}</a></li>\n", part.id, escaped(part.link));
  return text + "</ul></nav>\n";
}

std::string picturesHtml(const PagePictures& pictures) {
  if (pictures.empty())
    return "";
  std::string text = "<section id=\"pictures\">\n<h2>Pictures</h2>\n";
  for (const Picture& picture : pictures.drawn)
    text += figureHtml(picture);
  for (const RowPicture& rows : pictures.rows)
    text += rowsHtml(rows);
  return text + "</section>\n";
}

}  // namespace

std::string pageOf(const PageHead& head, const PagePictures& pictures,
                   const std::vector<PagePart>& parts) {
  const Script script = scriptOf();
  std::string text = headHtml(head, script) + "<body>\n<main>\n" + patternsSvg();
  text += verdictHtml(head) + navigation(pictures, parts) + picturesHtml(pictures);
  for (const PagePart& part : parts)
    if (!part.html.empty())
      text += fmt::format("<div id=\"{}\">\n{}</div>\n", part.id, part.html);
  text += fmt::format("</main>\n<script type=\"application/json\" id=\"data\">{}</script>\n",
                      pictureData(pictures));
  if (!script.code.empty())
    text += fmt::format("<script>{}</script>\n", script.code);
  return text + "</body>\n</html>\n";
}

std::string sectionsHtml(const std::vector<Section>& sections) {
  std::string text;
  for (const Section& section : sections)
    text += sectionHtml(section);
  return text;
}

PagePart inputsPart(std::span<const scenario::EchoRow> inputs) {
  return {"inputs", "Inputs", sectionHtml(inputSection(inputs))};
}

std::string warningsHtml(std::span<const Warning> ofReader, const std::vector<Warning>& ofAnswer) {
  std::vector<std::string> again, limits;
  const auto sort = [&](const Warning& warning) {
    if (warning.about == "model")
      limits.push_back(warning.text);
    else
      again.push_back(warning.about + ": " + warning.text);
  };
  for (const Warning& warning : ofReader)
    sort(warning);
  for (const Warning& warning : ofAnswer)
    sort(warning);
  std::string text;
  if (!again.empty())
    text += "<section>\n<h2>Look at this again</h2>\n" + listHtml(again) + "</section>\n";
  if (!limits.empty())
    text += "<section>\n<h2>Limits of the model</h2>\n" + listHtml(limits) + "</section>\n";
  return text;
}

PagePart cautionsPart(std::span<const Warning> ofReader, const std::vector<Warning>& ofAnswer,
                      const std::vector<std::string>& cautions) {
  return {"cautions", "Cautions",
          warningsHtml(ofReader, ofAnswer) + "<section>\n<h2>Cautions</h2>\n" + listHtml(cautions) +
              "</section>\n"};
}

std::string whenText(const Plant& plant, const scenario::Scenario& resolved, UnitSystem units) {
  std::string text = periodText(plant);
  if (const auto& site = resolved.site)
    text += ", " + heightText(site->elevation_m.value, units);
  return text + "; times on the clock of the place";
}

std::string oneLine(std::string text) {
  for (std::size_t at = 0; (at = text.find('\n', at)) != std::string::npos;) {
    const std::size_t next = std::min(text.find_first_not_of(" \n", at), text.size());
    text.replace(at, next - at, next == text.size() ? "" : " ");
  }
  return text;
}

}  // namespace nightbank::report
