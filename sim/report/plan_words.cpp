#include <cmath>
#include <vector>

#include "plan_parts.h"
#include <fmt/format.h>

#include "nightbank/report/figures.h"
#include "nightbank/report/plan.h"
#include "nightbank/report/words.h"
#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

std::string fuelText(double fuel_m3, UnitSystem units) {
  return format(fuel_m3, Dim::volume, units);
}

/// "2 h 15 min, 2.5 L, 5.61 USD"
std::string takesText(const PlanAnswer& answer, UnitSystem units) {
  std::string text =
      durationText(answer.cost.engine_s) + ", " + fuelText(answer.cost.fuel_m3, units);
  if (answer.money)
    text += ", " + pricedText(answer, answer.money->total);
  return text;
}

/// More runs than this are left to the table.
constexpr std::size_t kRunsInSentence = 3;

std::string whatToDo(const PlanAnswer& answer) {
  const Plant& plant = answer.plan.night.plant;
  const std::vector<Interval>& runs = answer.plan.runs;
  if (runs.size() == 1)
    return fmt::format("Start the generator by {} and run it until {}",
                       momentText(plant, runs[0].from_s), momentText(plant, runs[0].to_s));
  std::string text = fmt::format("Run the generator {} times", runs.size());
  if (runs.size() > kRunsInSentence)
    return text + fmt::format(", first from {} to {}", momentText(plant, runs[0].from_s),
                              clockText(plant.start_s + runs[0].to_s));
  for (std::size_t i = 0; i < runs.size(); ++i)
    text += fmt::format("{} {} to {}",
                        i == 0                 ? ":"
                        : i + 1 == runs.size() ? " and"
                                               : ",",
                        momentText(plant, runs[i].from_s), clockText(plant.start_s + runs[i].to_s));
  return text;
}

std::string turnedDown(const PlanAnswer& answer) {
  if (std::isnan(answer.inputLimit_VA))
    return "";
  const double mains_V = answer.resolved.mains_V.value;
  return fmt::format(
      " Turn the charger down to {:.1f} A of {:.0f} V first, or the loads beside it "
      "are too much for the generator.",
      answer.inputLimit_VA / mains_V, mains_V);
}

/// "11:30 to 14:00 and 17:00 to 19:00"
std::string spansText(const Plant& plant, const std::vector<Interval>& spans) {
  std::string text;
  for (std::size_t i = 0; i < spans.size(); ++i)
    text +=
        fmt::format("{}{} to {}",
                    i == 0                  ? ""
                    : i + 1 == spans.size() ? " and "
                                            : ", ",
                    momentText(plant, spans[i].from_s), clockText(plant.start_s + spans[i].to_s));
  return text;
}

std::string tooMuchText(const PlanAnswer& answer) {
  if (answer.tooMuch.empty())
    return "";
  return fmt::format(
      " From {} the loads alone are more than the generator carries: no plan has it on.",
      spansText(answer.plan.night.plant, answer.tooMuch));
}

std::string keptText(const PlanAnswer& answer) {
  const double reserve = answer.keepSoc - answer.plan.night.plant.floorSoc;
  return reserve > 1e-9 ? fmt::format("{} (floor and reserve)", socText(answer.keepSoc))
                        : fmt::format("{} (its floor)", socText(answer.keepSoc));
}

std::string fittingPlan(const PlanAnswer& answer, UnitSystem units) {
  const Outcome& outcome = answer.plan.night.outcome;
  const Plant& plant = answer.plan.night.plant;
  const std::string left = fmt::format("{} are left at {}", socText(outcome.bank.endSoc),
                                       momentText(plant, plant.span_s));
  const std::string warm = warmText(answer).empty() ? "" : "; " + warmText(answer);
  const std::string money =
      answer.money ? fmt::format(" ({})", pricedText(answer, answer.money->total)) : "";
  const std::string set = setpointSentence(answer, units);
  if (answer.plan.runs.empty())
    return fmt::format(
        "{}On these numbers {}{}: the bank falls no lower than {} at {}, kept are {}; {}{}.", set,
        plant.hasGenerator ? "the generator is not needed" : "the bank alone is enough", money,
        socText(outcome.bank.lowestSoc), momentText(plant, outcome.bank.lowestAt_s),
        keptText(answer), left, warm);
  return fmt::format(
      "{}{} ({}): on these numbers the bank falls no lower than {} at {}, kept "
      "are {}; {}{}.{}",
      set, whatToDo(answer), takesText(answer, units), socText(outcome.bank.lowestSoc),
      momentText(plant, outcome.bank.lowestAt_s), keptText(answer), left, warm,
      tooMuchText(answer) + turnedDown(answer));
}

std::string whatLacks(const PlanAnswer& answer) {
  const Outcome& outcome = answer.plan.night.outcome;
  const Judgement& judged = answer.plan.night.judgement;
  const Plant& plant = answer.plan.night.plant;
  std::string text;
  if (answer.plan.short_J > 0.0)
    text = fmt::format("the bank lacks {:.2f} kWh", answer.plan.short_J / kKilowattHour_J);
  if (!std::isnan(answer.plan.lacksFrom_s))
    text += fmt::format(" and is below {} from {}", keptText(answer),
                        momentText(plant, answer.plan.lacksFrom_s));
  if (judged.rating != Level::holds)
    text += fmt::format("{}a source trips on overload", text.empty() ? "" : "; ");
  if (judged.starts == Level::fails)
    text += fmt::format("{}a compressor's start trips its source", text.empty() ? "" : "; ");
  if (judged.service != Level::holds)
    text += fmt::format("{}{:.2f} kWh are not served", text.empty() ? "" : "; ",
                        outcome.energy_J.unserved / kKilowattHour_J);
  if (answer.plan.tooWarmBy_s > 0.0)
    text += (text.empty() ? "" : "; ") + warmText(answer);
  return text.empty() ? "it does not hold" : text;
}

/// The bank is kept, and yet the cabin is not cool enough.
bool lacksOnlyCool(const PlanAnswer& answer) {
  return answer.plan.tooWarmBy_s > 0.0 && !(answer.plan.short_J > 0.0) &&
         answer.plan.night.judgement.service == Level::holds;
}

std::string noPlanFits(const PlanAnswer& answer, UnitSystem units) {
  std::string text;
  if (lacksOnlyCool(answer))
    text = fmt::format(
        "On these numbers nothing that may be chosen makes it cool enough. Least bad: {}{}Then ",
        setpointSentence(answer, units),
        answer.plan.runs.empty()
            ? std::string("No run of the generator. ")
            : fmt::format("{} ({}). ", whatToDo(answer), takesText(answer, units)));
  else if (!answer.resolved.generator)
    text = "On these numbers none of the settings is enough. Least bad: " +
           setpointSentence(answer, units) + "Then ";
  else if (!answer.hasAllowedHours)
    text = "No hours are left in which the generator may run long enough. Without it ";
  else if (answer.plan.runs.empty())
    text = "On these numbers no run of the generator helps. Without it ";
  else
    text = fmt::format(
        "On these numbers no hours that are allowed are enough. Least bad: {}{} ({}). Then ",
        setpointSentence(answer, units), whatToDo(answer), takesText(answer, units));
  text += whatLacks(answer) + '.' + tooMuchText(answer) + turnedDown(answer);
  if (answer.changes.empty())
    return text + " None of the single changes that were tried makes it fit.";
  const PlanChange& first = answer.changes.front();
  text += " What makes it fit, tried: " + first.words;
  return first.runs.empty() ? text + '.'
                            : text + fmt::format(" ({}).", fuelText(first.cost.fuel_m3, units));
}

}  // namespace

Answer asAnswer(const PlanAnswer& plan) {
  Answer answer;
  answer.resolved = plan.resolved;
  answer.night = plan.plan.night;
  return answer;
}

std::string pricedText(const PlanAnswer& answer, double money) {
  const std::string& currency = answer.resolved.prices->currency;
  return fmt::format("{:.2f}{}{}", money, currency.empty() ? "" : " ", printable(currency));
}

std::string planSentence(const PlanAnswer& answer, UnitSystem units) {
  return answer.plan.fits ? fittingPlan(answer, units) : noPlanFits(answer, units);
}

}  // namespace nightbank::report
