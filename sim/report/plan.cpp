#include "nightbank/report/plan.h"

#include <cmath>
#include <vector>

#include "plan_parts.h"
#include <fmt/format.h>

#include "nightbank/report/cautions.h"
#include "nightbank/report/figures.h"
#include "nightbank/report/fuel.h"
#include "nightbank/report/strip.h"
#include "nightbank/report/words.h"
#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

constexpr std::size_t kMostRows = 40;

std::string volumeUnitOf(UnitSystem units) {
  return units == UnitSystem::us ? "gal" : "L";
}

std::string planTitle(const PlanAnswer& answer) {
  const Plant& plant = answer.plan.night.plant;
  const std::string right = periodText(plant);
  const std::string title = printable(plant.title.empty() ? "Without a title" : plant.title);
  if (displayWidth(title) + displayWidth(right) + 2 <= kTextWidth)
    return padRight(title, kTextWidth - displayWidth(right)) + right + '\n';
  return wrapped(title, "", "") + padLeft(right, kTextWidth) + '\n';
}

/// The plan by the measure of its bound, which counts the starts too; empty where it is told as it
/// is.
std::string countedText(const PlanAnswer& answer, UnitSystem units) {
  const double starts_m3 = answer.resolved.plan->startWorth_m3.value * answer.cost.starts;
  if (answer.aim == scenario::Aim::fuel)
    return format(answer.cost.fuel_m3 + starts_m3, Dim::volume, units);
  if (answer.aim != scenario::Aim::money)
    return "";
  const auto& generator = answer.resolved.generator;
  const double price_1_m3 = generator ? generator->fuel->price_per_m3.value : 0.0;
  return pricedText(answer, answer.money->total + price_1_m3 * starts_m3);
}

std::string boundLine(const PlanAnswer& answer, UnitSystem units) {
  if (std::isnan(answer.gap) || answer.aim == scenario::Aim::lateStart)
    return "";
  const std::string aStart = format(answer.resolved.plan->startWorth_m3.value, Dim::volume, units);
  std::string least;
  switch (answer.aim) {
    case scenario::Aim::fuel:
      least = fmt::format("comes to less than {}, a start counted as {}",
                          format(answer.bound, Dim::volume, units), aStart);
      break;
    case scenario::Aim::hours:
      least = "runs less than " + durationText(answer.bound);
      break;
    case scenario::Aim::money:
      least = fmt::format("costs less than {}, a start counted as {} of fuel",
                          pricedText(answer, answer.bound), aStart);
      break;
    default:
      least = fmt::format("has less than {:.0f} starts", std::ceil(answer.bound - 1e-3));
      break;
  }
  const std::string counted = countedText(answer, units);
  return fmt::format(
      "No plan on the same minutes {}{}, by a relaxation that gives the bank as much more as any "
      "run of about this cost showed: this one{} is at most {:.1f} % above. {} runs of the "
      "simulator are behind it.",
      std::string(answer.setpoints ? "and with the same settings to choose " : "") +
          (std::isnan(answer.inputLimit_VA) ? "" : "with the charger so set "),
      least, counted.empty() ? "" : fmt::format(", so counted {},", counted),
      100.0 * answer.gap / std::max(1e-9, 1.0 - answer.gap), answer.verified);
}

Section runSection(const PlanAnswer& answer, UnitSystem units) {
  const Night& night = answer.plan.night;
  const std::string unit = volumeUnitOf(units);
  Section section{
      "Runs, crank to off",
      "",
      {{{"start by", false}, {"until", false}, {"min"}, {unit}, {"bank from"}, {"to"}}, {}},
      boundLine(answer, units)};
  for (const GeneratorRun& run : night.recorder.runs) {
    if (section.grid.rows.size() == kMostRows)
      break;
    section.grid.rows.push_back({momentText(night.plant, run.from_s),
                                 clockText(night.plant.start_s + run.to_s),
                                 fmt::format("{:.0f}", (run.to_s - run.from_s) / kMinute_s),
                                 fmt::format("{:.2f}", inUnit(run.fuel_m3, Dim::volume, unit)),
                                 socText(socAt(night.plant, night.recorder.samples, run.from_s)),
                                 socText(socAt(night.plant, night.recorder.samples, run.to_s))});
  }
  if (section.grid.rows.empty() && section.tail.empty())
    return {};
  for (const LoggedEvent& event : night.recorder.events)
    if (event.kind == EventKind::tankFilled)
      section.points.push_back(fmt::format("Fill the tank at {}, the engine off and cool.",
                                           momentText(night.plant, event.at_s)));
  return section;
}

/// A night beside the plan's. Where money or warmth counts, they stand in columns of their own.
Cells comparedRow(const PlanAnswer& answer, const std::string& name, const Night& night,
                  UnitSystem units) {
  const GeneratorOutcome& generator = night.outcome.generator;
  Cells cells{name, fmt::format("{:.1f}", generator.engine_s / kHour_s),
              fmt::format("{:.2f}", inUnit(generator.fuel_m3, Dim::volume, volumeUnitOf(units)))};
  if (answer.money)
    cells.push_back(fmt::format("{:.2f}", costOf(answer.resolved, night).total));
  cells.push_back(fmt::format("{}", generator.starts));
  cells.push_back(fmt::format("{:.0f}", generator.quiet_s / kMinute_s));
  if (std::isfinite(answer.mostWarm_s))
    cells.push_back(fmt::format("{:.0f}", night.outcome.cabin.tooWarm_s / kMinute_s));
  cells.push_back(socText(night.outcome.bank.lowestSoc));
  cells.push_back(socText(night.outcome.bank.endSoc));
  return cells;
}

/// The fuel list: what to bring, and what it costs.
Section fuelSection(const PlanAnswer& answer, UnitSystem units) {
  const FuelList fuel = fuelListOf(answer.plan.night);
  if (!(fuel.used_m3 > 0.0))
    return {};
  std::string text = fuelListText(fuel, units) + ", without a reserve";
  const double cost = fuelPlan(asAnswer(answer), answer.plan.night).cost;
  if (std::isfinite(cost))
    text += fmt::format("; {:.2f}{} at the price given", cost, currencyText(answer.resolved));
  return {"Fuel to bring", text + '.', {}, ""};
}

Section comparison(const PlanAnswer& answer, UnitSystem units) {
  const bool warms = std::isfinite(answer.mostWarm_s);
  const bool isWide = warms || answer.money;
  std::vector<Column> columns{{"", false}, {"hours"}, {volumeUnitOf(units)}};
  if (answer.money)
    columns.push_back({"money"});
  columns.push_back({"starts"});
  columns.push_back({isWide ? "quiet" : "quiet min"});
  if (warms)
    columns.push_back({"warm"});
  columns.push_back({"lowest"});
  columns.push_back({isWide ? "end" : "at the end"});
  std::vector<Cells> rows;
  const auto add = [&](const std::string& name, const Night& night) {
    rows.push_back(comparedRow(answer, name, night, units));
  };
  add("this plan", answer.plan.night);
  if (answer.asInFile)
    add(answer.asInFile->fits ? "thermostat as it is" : "as it is: no plan fits",
        answer.asInFile->night);
  if (answer.settings)
    add("the plan as a rule", answer.settings->night);
  if (answer.rule)
    add("the rule in the file", *answer.rule);
  if (answer.resolved.generator)
    add("no generator", answer.without);
  std::string columnsMean;
  if (isWide)
    columnsMean = warms ? "Quiet: minutes of the engine outside its hours; warm: minutes too warm "
                          "inside."
                        : "Quiet: minutes of the engine outside its hours.";
  return {"Beside each other", "", {std::move(columns), std::move(rows)}, columnsMean};
}

/// As points of a scenario's keys.
void addEdits(const std::vector<scenario::Edit>& edits, Section& section) {
  for (const scenario::Edit& edit : edits)
    if (edit.value != "none")
      section.points.push_back(edit.path + ": " + edit.value);
}

/// Without a rule: the thermostats' keys alone, and whether an engine is to be run by the clock.
Section byClockSection(const PlanAnswer& answer) {
  Section section;
  if (answer.setpoints) {
    section.heading = "As keys of a scenario";
    addEdits(answer.setpoints->edits, section);
  }
  if (!answer.plan.fits || answer.plan.runs.empty())
    return section;
  const std::string byClock =
      "No pair of thresholds in whole percent keeps the bank: go by the clock.";
  if (section.heading.empty()) {
    section.heading = "For a controller";
    section.lead = byClock;
  } else {
    section.heading = "For a controller, as keys of a scenario";
    section.tail = byClock;
  }
  return section;
}

Section ruleSection(const PlanAnswer& answer) {
  if (!answer.settings)
    return byClockSection(answer);
  const RuleSettings& settings = *answer.settings;
  Section section{
      "For a controller, as keys of a scenario",
      "",
      {},
      settings.reproduces
          ? "Run so, the rule does what the plan does."
          : "Run so, the rule keeps the bank, but not as the plan does: see 'Beside each other'."};
  addEdits(settings.edits, section);
  return section;
}

Section withoutSection(const PlanAnswer& answer) {
  if (!answer.resolved.generator)
    return {};
  const Outcome& outcome = answer.without.outcome;
  const Plant& plant = answer.without.plant;
  Section section{"If the engine does not start", "", {}, ""};
  if (std::isnan(outcome.bank.floorReachedAt_s) && std::isnan(outcome.bank.spentAt_s))
    section.lead =
        fmt::format("The bank alone carries the period: no lower than {} at {}.",
                    socText(outcome.bank.lowestSoc), momentText(plant, outcome.bank.lowestAt_s));
  const double floorAt_s = outcome.bank.floorReachedAt_s;
  if (!std::isnan(floorAt_s))
    section.lead =
        fmt::format("The bank alone is down to its floor ({}) at {}, after {}.",
                    socText(plant.floorSoc), momentText(plant, floorAt_s), durationText(floorAt_s));
  if (!std::isnan(outcome.bank.spentAt_s))
    section.tail =
        fmt::format("At {} it gives no more.", momentText(plant, outcome.bank.spentAt_s));
  return section;
}

Section forecastSection(const PlanAnswer& answer) {
  if (!answer.forecast)
    return {};
  const PlanForecast& forecast = *answer.forecast;
  const Plant& plant = answer.plan.night.plant;
  const std::string start =
      std::isnan(forecast.startBy_s)
          ? fmt::format("No start in its hours holds in {:.0f} % of them.", 100.0 * forecast.share)
          : fmt::format("A start by {} holds in {:.0f} % of them, all else as planned.",
                        momentText(plant, forecast.startBy_s), 100.0 * forecast.share);
  return {"Where the forecast errs",
          fmt::format("Of {} draws (2 K and 20 % of the sky as one sigma; a duty moves by 5 % a "
                      "kelvin) the plan as it is holds in {:.0f} %. {}",
                      forecast.draws, 100.0 * forecast.holdsAsPlanned, start),
          {},
          ""};
}

Section changeSection(const PlanAnswer& answer, UnitSystem units) {
  if (answer.changes.empty())
    return {};
  Section section{"What makes it fit, each tried", "", {}, ""};
  for (const PlanChange& change : answer.changes)
    section.points.push_back(
        change.runs.empty() ? change.words
                            : fmt::format("{}: {}, {} start{}", change.words,
                                          format(change.cost.fuel_m3, Dim::volume, units),
                                          change.cost.starts, change.cost.starts == 1 ? "" : "s"));
  return section;
}

}  // namespace

PlanSections planSections(const PlanAnswer& answer, UnitSystem units) {
  return {thermostatSection(answer, units), runSection(answer, units),   fuelSection(answer, units),
          comparison(answer, units),        ruleSection(answer),         withoutSection(answer),
          forecastSection(answer),          changeSection(answer, units)};
}

std::string planVerdict(const PlanAnswer& answer, const TextStyle& style) {
  constexpr std::string_view kIndent = "          ";
  std::string text = planTitle(answer) + '\n';
  text += wrapped(sleepersSentence(asAnswer(answer)), kIndent, kIndent);
  const std::string word = answer.plan.fits ? "PLAN      " : "NO PLAN   ";
  return text + wrapped(planSentence(answer, style.units), word, kIndent);
}

std::string planText(const PlanAnswer& answer, const TextStyle& style) {
  std::string text = planVerdict(answer, style);
  if (const std::string strip = chargeStrip(answer.plan.night, style); !strip.empty())
    text += '\n' + strip;
  const PlanSections told = planSections(answer, style.units);
  text += sectionsText({told.thermostat, told.runs, told.fuel, told.comparison, told.rule,
                        told.without, told.forecast, told.changes});
  text += "\nCautions\n";
  for (const std::string& caution : cautions(asAnswer(answer)))
    text += wrapped(caution, "  - ", "    ");
  return text;
}

}  // namespace nightbank::report
