#include "nightbank/report/page.h"

#include "../start_parts.h"
#include "frame.h"
#include "html.h"
#include "parts.h"

#include "nightbank/report/cautions.h"
#include "nightbank/report/weather_line.h"
#include "nightbank/report/words.h"

namespace nightbank::report {
namespace {

PageHead nightHead(const PageContent& content) {
  const Answer& answer = content.answer;
  PageHead head;
  head.title = answer.night.plant.title;
  head.when = whenText(answer.night.plant, answer.resolved, content.units);
  head.weather = oneLine(weatherLine(answer.resolved, answer.weatherDay));
  head.mark = answer.level;
  head.word = levelWord(answer.level);
  head.sentence = verdictSentence(answer, content.units);
  head.sleepers = sleepersSentence(answer);
  head.turn = turnSentence(answer);
  head.notes = {guessSentence(answer)};
  return head;
}

std::string tablesHtml(const PageContent& content) {
  const Answer& answer = content.answer;
  const Night& night = answer.night;
  std::string text;
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
  return text;
}

std::vector<std::string> nightCautions(const PageContent& content) {
  std::vector<std::string> all = cautions(content.answer);
  if (content.start != nullptr)
    for (const std::string_view caution : startCautions())
      all.emplace_back(caution);
  return all;
}

}  // namespace

std::string page(const PageContent& content) {
  return pageOf(nightHead(content), {picturesOf(content.answer, content.units), {}},
                {{"start", "Start", startHtml(content.start)},
                 {"tables", "Tables", tablesHtml(content)},
                 {"cards", "Settings and fuel",
                  sectionsHtml({settingsSection(content.inputs),
                                shoppingSection(content.answer, content.start, content.units)})},
                 inputsPart(content.inputs),
                 cautionsPart(content.ofReader, warnings(content.answer), nightCautions(content))});
}

}  // namespace nightbank::report
