#include "nightbank/report/report.h"

#include <string_view>

#include <fmt/format.h>

#include "nightbank/report/cautions.h"
#include "nightbank/report/money.h"
#include "nightbank/report/strip.h"
#include "nightbank/report/tables.h"
#include "nightbank/report/trip.h"
#include "nightbank/report/warnings.h"
#include "nightbank/report/weather_line.h"
#include "nightbank/report/words.h"

namespace nightbank::report {
namespace {

void addPart(std::string& text, std::string_view part) {
  if (!part.empty())
    text.append("\n").append(part);
}

std::string warningLines(const Answer& answer) {
  std::string text;
  for (const Warning& warning : warnings(answer)) {
    const bool ofModel = warning.about == "model";
    const std::string about = ofModel ? "" : warning.about + ": ";
    text += wrapped(about + warning.text, "  - ", "    ");
  }
  return text.empty() ? text : "Look at this again\n" + text;
}

std::string cautionLines(const Answer& answer) {
  std::string text = "Cautions\n";
  for (const std::string& caution : cautions(answer))
    text += wrapped(caution, "  - ", "    ");
  return text;
}

void addTables(std::string& text, const Answer& answer, const TextStyle& style) {
  const Night& night = answer.night;
  addPart(text, hourTable(night, style, isWeatherGiven(answer.resolved)));
  addPart(text, tripTable(answer, night, style.units));
  addPart(text, generatorTable(answer, night, style.units));
  addPart(text, compressorTable(night));
  addPart(text, cabinTable(night, style.units));
  addPart(text, inverterLines(night));
  addPart(text, energyTable(night));
  addPart(text, moneyTable(answer, night, style.units));
  addPart(text, monitorTable(night));
  addPart(text, eventTable(night));
}

}  // namespace

std::string textReport(const Answer& answer, const TextStyle& style) {
  std::string text = verdictBlock(answer, style);
  addPart(text, weatherLine(answer.resolved, answer.weatherDay));
  if (answer.restingEnd) {
    addPart(text, "The compressor rests 60 % of the time\n");
    addPart(text, chargeStrip(*answer.restingEnd, style));
    addPart(text, "The compressor never rests (all that follows)\n");
  }
  addPart(text, chargeStrip(answer.night, style));
  addTables(text, answer, style);
  addPart(text, warningLines(answer));
  addPart(text, cautionLines(answer));
  return text;
}

}  // namespace nightbank::report
