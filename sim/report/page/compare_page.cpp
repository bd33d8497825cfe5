#include <algorithm>
#include <cmath>

#include "../compare_parts.h"
#include "../number_columns.h"
#include "frame.h"
#include "html.h"
#include "parts.h"
#include <fmt/format.h>

#include "nightbank/report/cautions.h"
#include "nightbank/report/compare.h"
#include "nightbank/report/figures.h"
#include "nightbank/report/pages.h"
#include "nightbank/report/words.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

constexpr std::size_t kMostCurves = 6, kMostRows = 24, kMostInputs = 12;

using Numbered = std::vector<std::size_t>;

// The first, then those that no other beats, then the others, as many as can be told apart.
Numbered curvesShown(std::span<const Compared> all) {
  Numbered shown{0};
  for (const bool isWanted : {true, false})
    for (std::size_t i = 1; i < all.size() && shown.size() < kMostCurves; ++i)
      if (all[i].isNonDominated == isWanted)
        shown.push_back(i);
  std::ranges::sort(shown);
  return shown;
}

std::string numberedName(std::span<const Compared> all, std::size_t i) {
  return fmt::format("{}{} {}", i + 1, all[i].isNonDominated ? "*" : "", printable(all[i].name));
}

void addFloors(std::span<const Compared> all, const Numbered& shown, Picture& picture) {
  std::vector<std::pair<double, std::string>> floors;
  for (const std::size_t i : shown) {
    const double floorSoc = decidingNight(all[i].answer).plant.floorSoc;
    const auto known = std::ranges::find(floors, floorSoc, &std::pair<double, std::string>::first);
    if (known == floors.end())
      floors.emplace_back(floorSoc, fmt::format("{}", i + 1));
    else
      known->second += fmt::format(", {}", i + 1);
  }
  for (const auto& [soc, which] : floors)
    picture.levels.push_back({floors.size() == 1
                                  ? "floor " + socText(soc)
                                  : fmt::format("floor {} of {}", socText(soc), which),
                              100.0 * soc});
}

// The state of charge of all on one clock, or counted from where each begins.
Picture overlayPicture(std::span<const Compared> all) {
  const Numbered shown = curvesShown(all);
  const Plant& first = decidingNight(all.front().answer).plant;
  Picture picture;
  picture.id = "charges";
  picture.title = "State of charge";
  picture.unit = "%";
  picture.high = 100.0;
  picture.start_s = first.start_s;
  double span_s = 0.0;
  for (const std::size_t i : shown) {
    const Plant& plant = decidingNight(all[i].answer).plant;
    span_s = std::max(span_s, plant.span_s);
    if (plant.start_s != first.start_s)
      picture.across = Across::elapsed;
  }
  const double step_s = pictureStep_s(span_s);
  for (double edge_s = 0.0; edge_s < span_s - 1.0; edge_s += step_s)
    picture.edges.push_back(edge_s);
  picture.edges.push_back(span_s);
  for (std::size_t n = 0; n < shown.size(); ++n) {
    const std::size_t i = shown[n];
    const Night& night = decidingNight(all[i].answer);
    Layer layer = chargeLayer(night, std::string(1, static_cast<char>('a' + n)),
                              numberedName(all, i), picture.edges);
    // Each number at a moment of its own, so that they do not lie on each other.
    const double at_s =
        night.plant.span_s * static_cast<double>(n + 1) / static_cast<double>(shown.size() + 1);
    picture.marks.push_back({at_s, 100.0 * socAt(night.plant, night.recorder.samples, at_s),
                             numberedName(all, i), fmt::format("{}", i + 1), "held"});
    picture.description +=
        fmt::format("{}: lowest {}, {} at the end. ", numberedName(all, i),
                    socText(night.outcome.bank.lowestSoc), socText(night.outcome.bank.endSoc));
    picture.layers.push_back(std::move(layer));
  }
  if (shown.size() < all.size())
    picture.description += fmt::format("{} more are in the table.", all.size() - shown.size());
  addFloors(all, shown, picture);
  return picture;
}

using OfNumbers = double (*)(const NightNumbers& numbers, UnitSystem units);

struct CompareQuantity {
  std::string id, title, unit, description;
  OfNumbers value = nullptr;
};

RowPicture quantityPicture(std::span<const Compared> all, const CompareQuantity& quantity,
                           UnitSystem units) {
  RowPicture picture;
  picture.id = quantity.id;
  picture.title = quantity.title;
  picture.unit = quantity.unit;
  picture.description =
      quantity.description + " *: no other is as good in everything and better in something.";
  double low = 0.0, high = 0.0;
  for (std::size_t i = 0; i < std::min(all.size(), kMostRows); ++i) {
    const double value = quantity.value(all[i].numbers, units);
    const double shown = std::round(100.0 * value) / 100.0 + 0.0;
    picture.rows.push_back(
        {numberedName(all, i),
         fmt::format("{:.2f} {}; {}", shown, quantity.unit, levelWord(all[i].numbers.level)), 0.0,
         value, value < 0.0 ? "generator" : "bank"});
    low = std::min(low, value);
    high = std::max(high, value);
  }
  const double edge = 0.01 * std::max(1e-3, high - low);
  picture.low = low - edge;
  picture.high = high + edge;
  if (low < 0.0) {
    picture.uprights.push_back({"0", 0.0});
    picture.patterns = {{"generator", "short"}};
    if (high > 0.0)
      picture.patterns.push_back({"bank", "to spare"});
  }
  return picture;
}

std::vector<RowPicture> quantityPictures(std::span<const Compared> all, UnitSystem units) {
  const std::string volume = units == UnitSystem::us ? "gal" : "L";
  const CompareQuantity quantities[] = {
      {"spare", "To spare above the floor", "kWh", "At the lowest, less what was not served.",
       [](const NightNumbers& n, UnitSystem) { return n.margin_J / kKilowattHour_J; }},
      {"carried", "Carried to the floor", "h", "The whole period where it is not reached.",
       [](const NightNumbers& n, UnitSystem) { return n.toFloor_s / kHour_s; }},
      {"fuel", "Fuel", volume, "What the engine burns.",
       [](const NightNumbers& n, UnitSystem system) {
         return inUnit(n.fuel_m3, Dim::volume, system == UnitSystem::us ? "gal" : "L");
       }},
      {"cost", "Cost", "in money", "By the prices given.",
       [](const NightNumbers& n, UnitSystem) { return std::isfinite(n.cost) ? n.cost : 0.0; }}};
  std::vector<RowPicture> pictures;
  for (const CompareQuantity& quantity : quantities)
    if (std::ranges::any_of(
            all, [&](const Compared& one) { return quantity.value(one.numbers, units) != 0.0; }))
      pictures.push_back(quantityPicture(all, quantity, units));
  return pictures;
}

std::string valueOf(std::span<const scenario::EchoRow> inputs, std::string_view path) {
  for (const scenario::EchoRow& row : inputs)
    if (!row.isHeading && row.path == path)
      return row.value;
  return "-";
}

// The inputs that are not the same in all.
Section differenceSection(std::span<const std::vector<scenario::EchoRow>> inputs) {
  const std::size_t count = std::min(inputs.size(), kMostInputs);
  Section section{"Inputs that differ", "", {{{"value of", false}}, {}}, ""};
  std::vector<std::string> paths;
  for (std::size_t i = 0; i < count; ++i) {
    section.grid.columns.push_back({fmt::format("{}", i + 1), false});
    for (const scenario::EchoRow& row : inputs[i])
      if (!row.isHeading && row.path != "title" &&
          std::ranges::find(paths, row.path) == paths.end())
        paths.push_back(row.path);
  }
  for (const std::string& path : paths) {
    Cells cells{path};
    for (std::size_t i = 0; i < count; ++i)
      cells.push_back(valueOf(inputs[i], path));
    if (std::any_of(cells.begin() + 2, cells.end(),
                    [&](const std::string& cell) { return cell != cells[1]; }))
      section.grid.rows.push_back(std::move(cells));
  }
  if (inputs.size() > count)
    section.tail = fmt::format("Of the first {}.", count);
  return section.grid.rows.empty() ? Section{} : section;
}

// Those of all, each once.
template <class T, class OfAnswer>
std::vector<T> unionOf(std::span<const Compared> all, OfAnswer of,
                       bool (*same)(const T&, const T&)) {
  std::vector<T> result;
  for (const Compared& one : all)
    for (const T& item : of(one.answer))
      if (std::none_of(result.begin(), result.end(),
                       [&](const T& known) { return same(known, item); }))
        result.push_back(item);
  return result;
}

PagePart compareCautions(std::span<const Compared> all, std::span<const Warning> ofReader) {
  const auto limits = unionOf<Warning>(
      all, [](const Answer& answer) { return modelLimits(answer); },
      [](const Warning& a, const Warning& b) { return a.text == b.text; });
  const auto told = unionOf<std::string>(
      all, [](const Answer& answer) { return cautions(answer); },
      [](const std::string& a, const std::string& b) { return a == b; });
  return cautionsPart(ofReader, limits, told);
}

}  // namespace

std::string comparePage(std::span<const Compared> all,
                        std::span<const std::vector<scenario::EchoRow>> inputs,
                        const PageSource& ofFirst) {
  const auto holds = std::ranges::count_if(
      all, [](const Compared& one) { return one.numbers.level == Level::holds; });
  PageHead head;
  head.title = decidingNight(all.front().answer).plant.title;
  head.question = "Side by side";
  head.mark = std::ranges::min_element(all, {}, [](const Compared& one) {
                return one.numbers.level;
              })->numbers.level;
  head.word = fmt::format("{} of {} hold{}", holds, all.size(), holds == 1 ? "s" : "");
  head.sentence = compareSentence(all);
  head.notes = compareNotes(all);
  Section first = inputSection(ofFirst.inputs);
  first.heading = fmt::format("Inputs of 1, '{}'", printable(all.front().name));
  return pageOf(
      head, {{overlayPicture(all)}, quantityPictures(all, ofFirst.units)},
      {{"tables", "Tables",
        sectionsHtml({compareSection(all, ofFirst.units), compareChanges(all, ofFirst.units)})},
       {"inputs", "Inputs", sectionsHtml({differenceSection(inputs), first})},
       compareCautions(all, ofFirst.ofReader)});
}

}  // namespace nightbank::report
