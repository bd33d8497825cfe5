#include <algorithm>
#include <cmath>

#include "../risk_parts.h"
#include "frame.h"
#include "html.h"
#include <fmt/format.h>

#include "nightbank/report/cautions.h"
#include "nightbank/report/figures.h"
#include "nightbank/report/pages.h"
#include "nightbank/report/risk.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

double floorOf(const RiskAnswer& answer) {
  return 1.0 - answer.resolved.bank.maxDepthOfDischarge.value;
}

// How many of the nights end up in each twentieth of the charge.
Picture countsPicture(const RiskAnswer& answer, const ChargeCounts& counts,
                      const Percentiles& percentiles, std::string id, std::string title) {
  Picture picture;
  picture.id = std::move(id);
  picture.title = std::move(title);
  picture.kind = PictureKind::bars;
  picture.unit = "% of the nights";
  picture.across = Across::amount;
  picture.nameAcross = "state of charge";
  picture.unitAcross = "%";
  picture.right = 100.0;
  const auto bins = static_cast<double>(counts.size());
  const auto nights = static_cast<double>(answer.floor.trials);
  Layer layer{"bank", "share of the drawn nights", {}};
  for (std::size_t i = 0; i <= counts.size(); ++i)
    picture.edges.push_back(100.0 * static_cast<double>(i) / bins);
  for (const std::int64_t count : counts)
    layer.values.push_back(100.0 * static_cast<double>(count) / nights);
  const double most = *std::ranges::max_element(layer.values);
  picture.high = roundSteps(0.0, std::max(most, 1.0), 4).back();
  picture.layers.push_back(std::move(layer));
  picture.uprights.push_back({"floor " + socText(floorOf(answer)), 100.0 * floorOf(answer)});
  picture.description =
      fmt::format("Of {} nights 5 % are below {}, half below {}, 95 % below {}; the floor is {}.",
                  answer.floor.trials, socText(percentiles.low), socText(percentiles.middle),
                  socText(percentiles.high), socText(floorOf(answer)));
  return picture;
}

// Bars from the margin with an input at its 5 % to that at its 95 %.
RowPicture weightsPicture(const RiskAnswer& answer) {
  constexpr std::size_t kMostBars = 10;
  constexpr int kBarNameWidth = 29;  // of a narrow drawing
  RowPicture picture;
  picture.id = "weights";
  picture.title = "What one input alone moves, above the floor";
  picture.unit = "kWh";
  const auto shown = [](double energy_J) { return energy_J / kKilowattHour_J; };
  const double usual = shown(answer.usualMargin_J);
  double low = std::min(0.0, usual), high = std::max(0.0, usual);
  for (const InputWeight& weight : answer.weights) {
    if (picture.rows.size() == kMostBars || !(weight.moved_J() >= 0.005 * kKilowattHour_J))
      break;
    const double from = shown(weight.low_J), to = shown(weight.high_J);
    const std::string share =
        weight.hasShares
            ? fmt::format(", share {:.0f} %", 100.0 * std::clamp(weight.shares.first, 0.0, 1.0))
            : "";
    picture.rows.push_back({pathText(answer.inputs[weight.input].path, kBarNameWidth),
                            fmt::format("{:.2f} to {:.2f} kWh{}", from, to, share), from, to,
                            from < to ? "bank" : "generator"});
    low = std::min({low, from, to});
    high = std::max({high, from, to});
  }
  const double edge = 0.02 * std::max(1e-3, high - low);
  picture.low = low - edge;
  picture.high = high + edge;
  picture.patterns = {{"bank", "more of it leaves more"}, {"generator", "more of it leaves less"}};
  std::erase_if(picture.patterns, [&](const SignKey& key) {
    return std::ranges::none_of(picture.rows,
                                [&](const BarRow& row) { return row.word == key.word; });
  });
  picture.uprights = {{fmt::format("as given {:.2f}", usual), usual}};
  picture.description =
      "Each bar goes from the bank's margin with that input at its 5 % to the margin with it at "
      "its "
      "95 %, all others as the scenario has them; below 0 the floor is not kept. Share: of the "
      "variance of the drawn nights that is its alone.";
  return picture;
}

PagePictures riskPictures(const RiskAnswer& answer) {
  PagePictures pictures;
  pictures.drawn.push_back(countsPicture(answer, answer.lowestCounts, answer.lowestSoc, "lowest",
                                         "The bank at its lowest"));
  pictures.drawn.push_back(
      countsPicture(answer, answer.endCounts, answer.endSoc, "morning", "The bank at the end"));
  if (RowPicture weights = weightsPicture(answer); !weights.rows.empty())
    pictures.rows.push_back(std::move(weights));
  return pictures;
}

}  // namespace

std::string riskPage(const RiskAnswer& answer, const PageSource& source) {
  PageHead head;
  head.title = answer.resolved.title;
  head.question = "How likely is it?";
  head.mark = riskLevel(answer);
  head.word = chanceText(answer.floor.share());
  head.sentence = chanceSentence(answer);
  head.notes = {measureSentence(answer)};
  return pageOf(
      head, riskPictures(answer),
      {{"tables", "Tables",
        sectionsHtml(riskSections(answer, source.units)) + paragraph(drawSentence(answer))},
       inputsPart(source.inputs),
       cautionsPart(source.ofReader, {}, cautions(answer.resolved))});
}

}  // namespace nightbank::report
