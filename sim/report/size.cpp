#include "nightbank/report/size.h"

#include <algorithm>
#include <cmath>

#include "number_columns.h"
#include "size_parts.h"
#include "start_parts.h"
#include <fmt/format.h>

#include "nightbank/devices/motor_start.h"
#include "nightbank/report/figures.h"
#include "nightbank/report/start.h"
#include "nightbank/report/words.h"

namespace nightbank::report {

std::string sizeMoneyText(const SizeQuestion& question, double money) {
  const auto& prices = question.given.prices;
  const std::string currency = prices ? prices->currency : "";
  return fmt::format("{:.10g} {}", std::round(money * 100.0) / 100.0,
                     currency.empty() ? "in money" : printable(currency));
}

std::string massText(double mass_kg, UnitSystem units) {
  return mass_kg > 0.0 ? format(mass_kg, Dim::mass, units) : "no mass given";
}

std::string itemName(const SizeAnswer& answer, const SizeSet& set, std::size_t choice) {
  return printable(answer.choices[choice].items[set.items[choice]].label);
}

// "bank 3 x block, inverter small"
std::string setText(const SizeAnswer& answer, const SizeSet& set) {
  std::string text;
  for (std::size_t i = 0; i < answer.choices.size(); ++i)
    text += fmt::format("{}{} {}", i == 0 ? "" : ", ", printable(answer.choices[i].name),
                        itemName(answer, set, i));
  return text;
}

namespace {

constexpr double kSizeHeadroom = 1.2;
constexpr int kShoppingWidth = 24;

std::string noiseText(double noise_dBA) {
  return std::isfinite(noise_dBA) ? fmt::format("{:.0f} dBA at 7 m", noise_dBA) : "silent";
}

// What a set is asked for: "holds the night", "holds 90 % of the nights".
std::string aimText(const SizeQuestion& question) {
  const scenario::Graded& nights = question.given.sizing->nights;
  const std::string level =
      question.asked.worst == Level::holds ? "holds" : "holds, if marginally,";
  return nights.known() ? fmt::format("{} {} of the nights", level, shareText(nights.value))
                        : level + " the night";
}

std::string marginOf(const SizeRun& run, const SizeQuestion& question) {
  if (!question.given.sizing->nights.known())
    return levelAndMargin(run.numbers);
  return fmt::format("holds {} of {} nights", run.nightsHeld, run.nights);
}

// Why a step is no answer, or what it changes.
std::string stepText(const SizeAnswer& answer, const SizeStep& step, const SizeQuestion& question,
                     UnitSystem units) {
  const SizeRun& best = *answer.best;
  const double more = step.run.set.price - best.set.price;
  const std::string cost =
      fmt::format("{}{}", more < 0.0 ? "-" : "+", sizeMoneyText(question, std::abs(more)));
  const std::string head = fmt::format(
      "{} {} instead of {} ({})", printable(answer.choices[step.choice].name),
      itemName(answer, step.run.set, step.choice), itemName(answer, best.set, step.choice), cost);
  if (!step.run.why.empty())
    return fmt::format("{}: cannot be run: {}", head, printable(step.run.why));
  std::string text = fmt::format("{}: {}", head, changeText(best.numbers, step.run.numbers, units));
  if (question.given.sizing->nights.known())
    text += fmt::format(", {} of {} nights", step.run.nightsHeld, step.run.nights);
  if (!step.run.holds)
    text += step.run.starts.empty() ? "; does not hold" : "; does not start the compressor";
  else
    text += "; holds";
  return text;
}

Section stepSection(const SizeAnswer& answer, const SizeQuestion& question, UnitSystem units) {
  if (answer.steps.empty())
    return {};
  Section section{"One more or one less of each, run as a set of its own", "", {}, ""};
  for (const SizeStep& step : answer.steps)
    section.points.push_back(stepText(answer, step, question, units));
  return section;
}

Section tradeOffSection(const SizeAnswer& answer, const SizeQuestion& question, UnitSystem units) {
  if (answer.tradeOff.size() < 2)
    return {"No set that holds is lighter or quieter than that one.", "", {}, ""};
  Section section{"Trade-off: these hold, and none is cheaper, lighter and quieter", "", {}, ""};
  const std::size_t shown = std::min(answer.tradeOff.size(), kMostTradeOff);
  for (std::size_t i = 0; i < shown; ++i) {
    const SizeRun& run = answer.tradeOff[i];
    section.points.push_back(
        fmt::format("{}, {}, {}: {}; {}", sizeMoneyText(question, run.set.price),
                    massText(run.set.mass_kg, units), noiseText(run.set.noise_dBA),
                    setText(answer, run.set), marginOf(run, question)));
  }
  if (answer.tradeOff.size() > shown)
    section.tail = fmt::format("({} more in --json)", answer.tradeOff.size() - shown);
  return section;
}

// Ratings for what runs on the best set, as such things are sold.
Section standardSizes(const SizeAnswer& answer) {
  const SizeRun& best = *answer.best;
  Section section{"Sizes with headroom", "", {}, ""};
  for (const SourceStart& start : best.starts) {
    if (start.source != StartSource::inverter && start.source != StartSource::generator)
      continue;
    const double size_W = nextSize_W(kSizeHeadroom * start.running_VA);
    section.points.push_back(
        fmt::format("{}: {:.0f} VA once everything runs, of {:.0f} VA that it gives{}",
                    startSourceText(start.source), start.running_VA, start.continuous_VA,
                    std::isnan(size_W)
                        ? ""
                        : fmt::format("; with 20 % to spare the usual size is {:.0f} W", size_W)));
  }
  const NightNumbers& numbers = best.numbers;
  if (numbers.marginShare < 1.0) {
    const double usable_J = numbers.margin_J / numbers.marginShare;
    section.points.push_back(
        fmt::format("bank: {} of the {} that it may give are drawn; with a tenth to "
                    "spare that takes {}",
                    format(usable_J - numbers.margin_J, Dim::energy), format(usable_J, Dim::energy),
                    format((usable_J - numbers.margin_J) / 0.9, Dim::energy)));
  }
  return section.points.empty() ? Section{} : section;
}

}  // namespace

std::string effortText(const SizeAnswer& answer) {
  return fmt::format(
      "{} runs; the full grid has {} sets, {} of them within the limits. {} more for one more and "
      "one less of each.",
      answer.runs, answer.sets, answer.withinLimits, answer.steps.size());
}

std::string bestLine(const SizeAnswer& answer, UnitSystem units) {
  return fmt::format("Mass {}; {}.", massText(answer.best->set.mass_kg, units),
                     noiseText(answer.best->set.noise_dBA));
}

Section boughtSection(const SizeAnswer& answer, const SizeQuestion& question, UnitSystem units) {
  const SizeSet& set = answer.best->set;
  const auto money = [](double amount) { return fmt::format("{:.2f}", amount); };
  const auto mass = [&](double mass_kg) {
    return mass_kg > 0.0 ? format(mass_kg, Dim::mass, units) : std::string("-");
  };
  const auto& prices = question.given.prices;
  const bool isNamed = prices && !prices->currency.empty();
  Section section{
      isNamed ? fmt::format("Shopping list ({})", printable(prices->currency)) : "Shopping list",
      "",
      {{{"for", false}, {"take", false}, {"pieces"}, {"each"}, {"price"}, {"mass"}}, {}},
      bestLine(answer, units)};
  std::vector<Cells>& rows = section.grid.rows;
  for (const ShoppingLine& line : shoppingList(*question.given.sizing, answer.choices, set))
    rows.push_back({cut(printable(line.choice), kShoppingWidth),
                    cut(printable(line.option), kShoppingWidth), fmt::format("{}", line.pieces),
                    money(line.each), money(line.price), mass(line.mass_kg)});
  rows.push_back({"in all", "", "", "", money(set.price), mass(set.mass_kg)});
  return section;
}

std::vector<Section> sizeSections(const SizeAnswer& answer, const SizeQuestion& question,
                                  UnitSystem units) {
  if (!answer.best)
    return {};
  return {stepSection(answer, question, units), tradeOffSection(answer, question, units),
          standardSizes(answer)};
}

std::string_view sizeNote() {
  return "Run as they are named, never added up from parts. Typical values count as they are: put "
         "the set into the scenario and ask 'nightbank run' and 'nightbank start' before buying. "
         "Wiring and fuses by local codes and licensed practice.";
}

std::string sizeSentence(const SizeAnswer& answer, const SizeQuestion& question) {
  if (answer.best)
    return fmt::format("On these numbers the cheapest set that {} costs {}: {}; {}.",
                       aimText(question), sizeMoneyText(question, answer.best->set.price),
                       setText(answer, answer.best->set), marginOf(*answer.best, question));
  const std::string none =
      fmt::format("On these numbers no set within the limits {}", aimText(question));
  if (!answer.nearest)
    return none + '.';
  return fmt::format("{}; of those that were run, the nearest for {}: {}; {}.", none,
                     sizeMoneyText(question, answer.nearest->set.price),
                     setText(answer, answer.nearest->set), marginOf(*answer.nearest, question));
}

std::string sizeVerdict(const SizeAnswer& answer, const SizeQuestion& question) {
  return wrapped(sizeSentence(answer, question), "", "");
}

std::string sizeText(const SizeAnswer& answer, const SizeQuestion& question,
                     const TextStyle& style) {
  std::string text = sizeVerdict(answer, question) + wrapped(effortText(answer), "", "");
  if (!answer.best)
    return text;
  text += sectionsText({boughtSection(answer, question, style.units)});
  return text + sectionsText(sizeSections(answer, question, style.units)) + '\n' +
         wrapped(sizeNote(), "", "");
}

}  // namespace nightbank::report
