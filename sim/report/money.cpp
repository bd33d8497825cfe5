#include "nightbank/report/money.h"

#include <cmath>
#include <vector>

#include <fmt/format.h>

#include "nightbank/report/text.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

constexpr int kLongestPurchase = 30;

std::string moneyText(double money) {
  return fmt::format("{:.2f}", money);
}

/// What was used up of what.
std::string usedText(const Answer& answer, const Night& night, const CostLine& line,
                     UnitSystem units) {
  const GeneratorOutcome& engine = night.outcome.generator;
  switch (line.item) {
    case CostItem::fuel:
      return format(engine.fuel_m3, Dim::volume, units);
    case CostItem::oil:
      return fmt::format("{:.1f} h of {:.0f} h", engine.engine_s / kHour_s,
                         answer.resolved.generator->oilEvery_s.value / kHour_s);
    case CostItem::bank:
    case CostItem::purchase:
      return fmt::format("{:.3f} % of its life", 100.0 * line.share);
  }
  return "";
}

std::string wearText(const Cost& cost) {
  const BankWear& wear = cost.wear;
  std::string text = fmt::format(
      "The bank: {:.1f} cycles, the deepest of {:.0f} %, taken as charged again to where it began",
      wear.cycles, 100.0 * wear.deepest);
  if (wear.byCycles > 0.0 && wear.byCalendar > 0.0)
    text += fmt::format(
        "; {:.3f} % of its life by cycles, {:.3f} % by the calendar: the larger "
        "counts",
        100.0 * wear.byCycles, 100.0 * wear.byCalendar);
  else
    text += wear.byCalendar > 0.0 ? "; its years alone count" : "; its cycles alone count";
  if (wear.used() > 0.0)
    text += fmt::format(". At this use it lasts {:.0f} nights", cost.nights / wear.used());
  return text + '.';
}

std::string notPricedText(const Cost& cost) {
  std::vector<std::string_view> words;
  for (const CostItem item : cost.notPriced)
    words.push_back(costWord(item));
  return fmt::format("Not counted, since no price is given: {}.", fmt::join(words, ", "));
}

}  // namespace

std::string_view costWord(CostItem item) {
  switch (item) {
    case CostItem::fuel:
      return "fuel";
    case CostItem::oil:
      return "oil";
    case CostItem::bank:
      return "bank";
    case CostItem::purchase:
      return "purchase";
  }
  return "";
}

std::string moneyTable(const Answer& answer, const Night& night, UnitSystem units) {
  if (!answer.resolved.prices)
    return "";
  const Cost cost = costOf(answer, night);
  const std::string& currency = answer.resolved.prices->currency;
  std::vector<Cells> rows;
  for (const CostLine& line : cost.lines)
    rows.push_back({line.name.empty() ? std::string(costWord(line.item))
                                      : cut(printable(line.name), kLongestPurchase),
                    usedText(answer, night, line, units), moneyText(line.cost)});
  rows.push_back({"in all", fmt::format("{} night{}", cost.nights, cost.nights == 1 ? "" : "s"),
                  moneyText(cost.total)});
  if (cost.coolNights > 0)
    rows.push_back({"per cool night", fmt::format("{} of them", cost.coolNights),
                    moneyText(cost.total / cost.coolNights)});
  std::string text =
      cutLines(fmt::format("Money{}, by the prices given\n",
                           currency.empty() ? "" : fmt::format(" ({})", printable(currency))));
  text += table({{"", false}, {"used", false}, {"cost"}}, rows);
  if (cost.hasWear)
    text += wrapped(wearText(cost), "  ", "  ");
  if (!cost.notPriced.empty())
    text += wrapped(notPricedText(cost), "  ", "  ");
  return text;
}

}  // namespace nightbank::report
