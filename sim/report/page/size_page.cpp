#include <algorithm>
#include <cmath>
#include <limits>

#include "../size_parts.h"
#include "frame.h"
#include "html.h"
#include "parts.h"
#include <fmt/format.h>

#include "nightbank/report/pages.h"
#include "nightbank/report/words.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

// Every set that is told, once, by its price.
std::vector<const SizeRun*> runsShown(const SizeAnswer& answer) {
  std::vector<const SizeRun*> runs;
  const auto add = [&](const SizeRun& run) {
    const bool isKnown = std::ranges::any_of(
        runs, [&](const SizeRun* known) { return known->set.items == run.set.items; });
    if (run.why.empty() && !isKnown)
      runs.push_back(&run);
  };
  if (answer.best)
    add(*answer.best);
  if (answer.nearest)
    add(*answer.nearest);
  for (std::size_t i = 0; i < std::min(answer.tradeOff.size(), kMostTradeOff); ++i)
    add(answer.tradeOff[i]);
  for (const SizeStep& step : answer.steps)
    add(step.run);
  std::ranges::stable_sort(
      runs, [](const SizeRun* a, const SizeRun* b) { return a->set.price < b->set.price; });
  return runs;
}

using OfRun = double (*)(const SizeRun& run, UnitSystem units);

struct SizeAxis {
  std::string id, name, unit;
  bool isMoreBetter = false;
  OfRun value = nullptr;
};

double marginOfRun(const SizeRun& run, UnitSystem) {
  return run.numbers.margin_J / kKilowattHour_J;
}

double fuelOfRun(const SizeRun& run, UnitSystem units) {
  return inUnit(run.numbers.fuel_m3, Dim::volume, units == UnitSystem::us ? "gal" : "L");
}

double massOfRun(const SizeRun& run, UnitSystem units) {
  return inUnit(run.set.mass_kg, Dim::mass, units == UnitSystem::us ? "lb" : "kg");
}

// Through the sets that hold and of which no cheaper one is better.
void joinFront(const std::vector<const SizeRun*>& runs, const SizeAxis& axis, UnitSystem units,
               Picture& picture) {
  Layer front{"front", "of those that hold, no cheaper one is better", {}};
  double best = std::numeric_limits<double>::quiet_NaN();
  for (const SizeRun* run : runs) {
    const double value = axis.value(*run, units);
    if (!run->holds || (axis.isMoreBetter ? value <= best : value >= best))
      continue;
    best = value;
    picture.edges.push_back(run->set.price);
    front.values.push_back(value);
  }
  if (front.values.size() > 1)
    picture.layers.push_back(std::move(front));
}

Picture tradeOffPicture(const SizeAnswer& answer, const SizeQuestion& question,
                        const std::vector<const SizeRun*>& runs, const SizeAxis& axis,
                        UnitSystem units) {
  Picture picture;
  picture.id = axis.id;
  picture.title = "Price against " + axis.name;
  picture.unit = axis.unit;
  picture.kind = PictureKind::points;
  picture.across = Across::amount;
  picture.nameAcross = "price";
  const auto& prices = question.given.prices;
  picture.unitAcross = prices ? prices->currency : "";
  double low = 0.0, high = 0.0;
  for (std::size_t i = 0; i < runs.size(); ++i) {
    const SizeRun& run = *runs[i];
    const bool isBest = answer.best && run.set.items == answer.best->set.items;
    const double value = axis.value(run, units);
    picture.marks.push_back({run.set.price, value, setText(answer, run.set),
                             fmt::format("{}", i + 1),
                             isBest      ? "best"
                             : run.holds ? "held"
                                         : "lost"});
    low = std::min(low, value);
    high = std::max(high, value);
  }
  const std::vector<double> steps = roundSteps(low, std::max(high, low + 0.1), 4);
  picture.low = steps.front();
  picture.high = steps.back();
  const double from = runs.front()->set.price, to = runs.back()->set.price;
  const double edge = std::max(0.08 * (to - from), 0.01 * std::max(1.0, to));
  picture.left = from - edge;
  picture.right = to + edge;
  joinFront(runs, axis, units, picture);
  picture.signs = {{"best", "the cheapest that holds"}, {"held", "holds"}, {"lost", "does not"}};
  std::erase_if(picture.signs, [&](const SignKey& key) {
    return std::ranges::none_of(picture.marks,
                                [&](const Mark& mark) { return mark.word == key.word; });
  });
  if (low < 0.0)
    picture.levels.push_back({"floor", 0.0});
  picture.description = fmt::format("{} sets from {} to {}, numbered by their price.", runs.size(),
                                    sizeMoneyText(question, from), sizeMoneyText(question, to));
  return picture;
}

std::vector<Picture> sizePictures(const SizeAnswer& answer, const SizeQuestion& question,
                                  UnitSystem units) {
  const std::vector<const SizeRun*> runs = runsShown(answer);
  if (runs.empty())
    return {};
  const bool isUs = units == UnitSystem::us;
  const SizeAxis axes[] = {{"margin", "what is left above the floor", "kWh", true, marginOfRun},
                           {"fuel", "fuel", isUs ? "gal" : "L", false, fuelOfRun},
                           {"mass", "mass", isUs ? "lb" : "kg", false, massOfRun}};
  std::vector<Picture> pictures;
  for (const SizeAxis& axis : axes)
    if (std::ranges::any_of(runs,
                            [&](const SizeRun* run) { return axis.value(*run, units) != 0.0; }))
      pictures.push_back(tradeOffPicture(answer, question, runs, axis, units));
  if (!pictures.empty())
    pictures.front().isKey = true;
  return pictures;
}

}  // namespace

std::string sizePage(const SizeAnswer& answer, const SizeQuestion& question,
                     const PageSource& source) {
  PageHead head;
  head.title = question.given.title;
  head.question = "What is the least to buy?";
  head.mark = answer.best ? Level::holds : Level::fails;
  head.word = answer.best ? sizeMoneyText(question, answer.best->set.price) : "no set";
  head.sentence = sizeSentence(answer, question);
  head.notes = {effortText(answer)};
  return pageOf(
      head, {sizePictures(answer, question, source.units), {}},
      {{"cards", "Shopping list",
        answer.best ? sectionHtml(boughtSection(answer, question, source.units)) : ""},
       {"tables", "Trade-off", sectionsHtml(sizeSections(answer, question, source.units))},
       inputsPart(source.inputs),
       cautionsPart(source.ofReader, {}, {std::string(sizeNote())})});
}

}  // namespace nightbank::report
