#include <string>

#include "../start_parts.h"
#include "frame.h"
#include "parts.h"

#include "nightbank/report/pages.h"
#include "nightbank/report/start.h"

namespace nightbank::report {

std::string startPage(const StartAnswer& answer, const PageSource& source) {
  PageHead head;
  head.title = answer.plant.title;
  head.question = "Will it start?";
  head.when = whenText(answer.plant, answer.resolved, source.units);
  head.mark = static_cast<Level>(answer.level);
  head.word = startWords(answer.level);
  head.sentence = startSentence(answer);
  const std::span<const std::string_view> cautions = startCautions();
  return pageOf(
      head, {},
      {{"start", "Pictures",
        "<section>\n<h2>What each start needs</h2>\n" + startFigures(answer) + "</section>\n"},
       {"tables", "What would help", sectionsHtml(startSections(answer))},
       {"cards", "Settings", sectionsHtml({settingsSection(source.inputs)})},
       inputsPart(source.inputs),
       cautionsPart(source.ofReader, {}, {cautions.begin(), cautions.end()})});
}

}  // namespace nightbank::report
