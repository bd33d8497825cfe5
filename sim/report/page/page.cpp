#include "nightbank/report/page.h"

#include "../start_parts.h"
#include "html.h"
#include "parts.h"
#include "picture.h"
#include <fmt/format.h>

#include "nightbank/report/cautions.h"
#include "nightbank/report/figures.h"
#include "nightbank/report/sha256.h"
#include "nightbank/report/weather_line.h"
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

std::string headHtml(const Answer& answer, const Script& script) {
  const std::string scriptSource =
      script.code.empty() ? "'none'" : fmt::format("'{}'", policyHash(script.code));
  return fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src '{}'; "
      "script-src {}; base-uri 'none'; form-action 'none'\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
      "<meta name=\"referrer\" content=\"no-referrer\">\n<title>{}: {}</title>\n"
      "<style>{}</style>\n</head>\n",
      policyHash(script.style), scriptSource, escaped(answer.night.plant.title),
      levelWord(answer.level), script.style);
}

std::string whenText(const PageContent& content) {
  const Plant& plant = content.answer.night.plant;
  std::string text = periodText(plant);
  if (const auto& site = content.answer.resolved.site)
    text += ", " + heightText(site->elevation_m.value, content.units);
  return text + "; times on the clock of the place";
}

// One line of what weatherLine() wraps for a terminal.
std::string oneLine(std::string text) {
  for (std::size_t at = 0; (at = text.find('\n', at)) != std::string::npos;) {
    const std::size_t next = std::min(text.find_first_not_of(" \n", at), text.size());
    text.replace(at, next - at, next == text.size() ? "" : " ");
  }
  return text;
}

std::string verdictHtml(const PageContent& content) {
  const Answer& answer = content.answer;
  std::string text = fmt::format(
      "<h1>{}</h1>\n",
      escaped(answer.night.plant.title.empty() ? "Without a title" : answer.night.plant.title));
  text += paragraph(whenText(content));
  text += fmt::format(
      "<div class=\"verdict {0}\">\n<p class=\"level\">{0}</p>\n<p "
      "id=\"sentence\">{1}</p>\n",
      levelWord(answer.level), escaped(verdictSentence(answer, content.units)));
  text += paragraph(turnSentence(answer));
  if (const std::string sleepers = sleepersSentence(answer); !sleepers.empty())
    text += fmt::format("<p class=\"sleepers\">{}</p>\n", escaped(sleepers));
  text += paragraph(guessSentence(answer)) + "</div>\n";
  return text + paragraph(oneLine(weatherLine(answer.resolved, answer.weatherDay)));
}

std::string navigation(bool hasStart) {
  return fmt::format(
      "<nav aria-label=\"On this page\"><ul>\n<li><a href=\"#pictures\">Pictures</a></li>\n{}"
      "<li><a href=\"#tables\">Tables</a></li>\n<li><a href=\"#cards\">Settings and fuel</a></li>\n"
      "<li><a href=\"#inputs\">Inputs</a></li>\n<li><a href=\"#cautions\">Cautions</a></li>\n"
      "</ul></nav>\n",
      hasStart ? "<li><a href=\"#start\">Start</a></li>\n" : "");
}

std::string picturesHtml(const std::vector<Picture>& pictures) {
  if (pictures.empty())
    return "";
  std::string text = "<section id=\"pictures\">\n<h2>Pictures</h2>\n";
  for (const Picture& picture : pictures)
    text += figureHtml(picture);
  return text + "</section>\n";
}

std::string tablesHtml(const PageContent& content) {
  const Answer& answer = content.answer;
  const Night& night = answer.night;
  std::string text = "<div id=\"tables\">\n";
  if (answer.restingEnd)
    text += paragraph("The tables are of the end where the compressor never rests.");
  text += "<div class=\"hours\">\n" +
          sectionHtml(hourSection(night, content.units, isWeatherGiven(answer.resolved))) +
          "</div>\n";
  for (const Section& section :
       {energySection(night), generatorSection(answer, night, content.units),
        compressorSection(night), cabinSection(night, content.units), inverterSection(night),
        monitorSection(night), eventSection(night)})
    text += sectionHtml(section);
  return text + "</div>\n";
}

std::string warningsHtml(const PageContent& content) {
  std::vector<std::string> again, limits;
  const auto sort = [&](const Warning& warning) {
    if (warning.about == "model")
      limits.push_back(warning.text);
    else
      again.push_back(warning.about + ": " + warning.text);
  };
  for (const Warning& warning : content.ofReader)
    sort(warning);
  for (const Warning& warning : warnings(content.answer))
    sort(warning);
  std::string text;
  if (!again.empty())
    text += "<section>\n<h2>Look at this again</h2>\n" + listHtml(again) + "</section>\n";
  if (!limits.empty())
    text += "<section>\n<h2>Limits of the model</h2>\n" + listHtml(limits) + "</section>\n";
  return text;
}

std::string cautionsHtml(const PageContent& content) {
  std::vector<std::string> all = cautions(content.answer);
  if (content.start != nullptr)
    for (const std::string_view caution : startCautions())
      all.emplace_back(caution);
  return "<section id=\"cautions\">\n<h2>Cautions</h2>\n" + listHtml(all) + "</section>\n";
}

}  // namespace

std::string page(const PageContent& content) {
  const Script script = scriptOf();
  const std::vector<Picture> pictures = picturesOf(content.answer, content.units);
  std::string text = headHtml(content.answer, script) + "<body>\n<main>\n";
  text += patternsSvg() + verdictHtml(content) + navigation(content.start != nullptr);
  text += picturesHtml(pictures) + startHtml(content.start) + tablesHtml(content);
  text += "<div id=\"cards\">\n" + sectionHtml(settingsSection(content.inputs)) +
          sectionHtml(shoppingSection(content)) + "</div>\n";
  text += "<div id=\"inputs\">\n" + sectionHtml(inputSection(content.inputs)) + "</div>\n";
  text += warningsHtml(content) + cautionsHtml(content) + "</main>\n";
  text += fmt::format("<script type=\"application/json\" id=\"data\">{}</script>\n",
                      pictureData(pictures));
  if (!script.code.empty())
    text += fmt::format("<script>{}</script>\n", script.code);
  return text + "</body>\n</html>\n";
}

}  // namespace nightbank::report
