#include <algorithm>
#include <cmath>

#include "../plan_parts.h"
#include "frame.h"
#include "html.h"
#include "parts.h"
#include <fmt/format.h>

#include "nightbank/report/cautions.h"
#include "nightbank/report/figures.h"
#include "nightbank/report/pages.h"
#include "nightbank/report/plan.h"
#include "nightbank/report/words.h"

namespace nightbank::report {
namespace {

PageHead planHead(const PlanAnswer& answer, const Answer& night, UnitSystem units) {
  PageHead head;
  head.title = night.night.plant.title;
  head.question = "When must the generator run?";
  head.when = whenText(night.night.plant, night.resolved, units);
  head.mark = answer.plan.fits ? Level::holds : Level::fails;
  head.word = answer.plan.fits ? "plan" : "no plan";
  head.sentence = planSentence(answer, units);
  head.sleepers = sleepersSentence(night);
  return head;
}

// The plan's own pictures; with its charge what the bank does by the file's rule and without
// engine.
std::vector<Picture> planPictures(const PlanAnswer& answer, const Answer& night, UnitSystem units) {
  std::vector<Picture> pictures = picturesOf(night, units);
  if (pictures.empty())
    return pictures;
  Picture& charge = pictures.front();
  charge.layers.front().name = "this plan";
  const auto add = [&](const Night& other, std::string word, const std::string& name) {
    charge.layers.push_back(chargeLayer(other, std::move(word), name, charge.edges));
    charge.description +=
        fmt::format(" {}: lowest {}, {} at the end.", name, socText(other.outcome.bank.lowestSoc),
                    socText(other.outcome.bank.endSoc));
  };
  if (answer.rule)
    add(*answer.rule, "rule", "The rule in the file");
  if (answer.settings && !answer.settings->reproduces)
    add(answer.settings->night, "second", "The plan as a rule");
  if (answer.resolved.generator)
    add(answer.without, "without", "No generator");
  if (answer.keepSoc > night.night.plant.floorSoc + 1e-9)
    charge.levels.push_back(
        {"floor and reserve " + socText(answer.keepSoc), 100.0 * answer.keepSoc});
  return pictures;
}

// The rule and the runs of the file are set aside.
Section planSettings(const PlanAnswer& answer, std::span<const scenario::EchoRow> inputs) {
  const bool turnsDown = std::isfinite(answer.inputLimit_VA);
  std::vector<scenario::EchoRow> kept(inputs.begin(), inputs.end());
  std::erase_if(kept, [&](const scenario::EchoRow& row) {
    return row.path.starts_with("generator.rule.") || row.path == "generator.run" ||
           (turnsDown && row.path == "charger.input_limit");
  });
  Section section = settingsSection(kept);
  if (!turnsDown)
    return section;
  if (section.heading.empty())
    section = settingsSection(
        std::vector<scenario::EchoRow>{{false, "charger.input_limit", "input_limit", "", ""}});
  else
    section.grid.rows.push_back({"charger, input limit", "", ""});
  const double mains_V = answer.resolved.mains_V.value;
  section.grid.rows.back()[1] =
      fmt::format("{:.1f} A at {:.0f} V", answer.inputLimit_VA / mains_V, mains_V);
  section.grid.rows.back()[2] = "this plan";
  return section;
}

std::string pocketHtml(const PlanAnswer& answer, const Answer& night, const PlanSections& told,
                       const PageSource& source) {
  std::string text =
      "<div class=\"pocket\">\n<h2>Pocket card</h2>\n" +
      paragraph(
          fmt::format("{}, {}. It prints on a sheet of its own.",
                      night.night.plant.title.empty() ? "Without a title" : night.night.plant.title,
                      periodText(night.night.plant)));
  const std::vector<std::string> all = cautions(night);
  text += all.empty() ? "" : paragraph(all.front());
  Section runs = told.runs;
  runs.tail.clear();  // how good the plan is stands with the tables
  if (runs.grid.rows.empty())
    runs = {};
  return text +
         sectionsHtml({told.thermostat, runs, told.fuel, told.rule, told.without,
                       planSettings(answer, source.inputs)}) +
         "</div>\n";
}

}  // namespace

std::string planPage(const PlanAnswer& answer, const PageSource& source) {
  const Answer night = asAnswer(answer);
  const PlanSections told = planSections(answer, source.units);
  std::vector<Warning> limits = warnings(night);
  std::erase_if(limits, [](const Warning& warning) { return warning.about != "model"; });
  return pageOf(planHead(answer, night, source.units),
                {planPictures(answer, night, source.units), {}},
                {{"cards", "Pocket card", pocketHtml(answer, night, told, source)},
                 {"tables", "Tables",
                  paragraph(told.runs.tail) +
                      sectionsHtml({told.comparison, told.forecast, told.changes,
                                    shoppingSection(night, nullptr, source.units),
                                    generatorSection(night, night.night, source.units),
                                    eventSection(night.night)})},
                 inputsPart(source.inputs),
                 cautionsPart(source.ofReader, limits, cautions(night))});
}

}  // namespace nightbank::report
