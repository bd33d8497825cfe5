#include "nightbank/study/compare.h"

#include <algorithm>
#include <cmath>

#include "night.h"

#include "nightbank/study/parallel.h"

namespace nightbank {
namespace {

using Answered = std::variant<Answer, std::vector<scenario::Problem>>;

NightNumbers decidingNumbersOf(const Answer& answer) {
  const bool restsDecides =
      answer.restingEnd && answer.restingEnd->judgement.level > answer.night.judgement.level;
  NightNumbers numbers =
      numbersOf(answer.resolved, restsDecides ? *answer.restingEnd : answer.night);
  numbers.level = answer.level;
  return numbers;
}

void markNonDominated(std::vector<Compared>& all) {
  const bool withCost = std::all_of(
      all.begin(), all.end(), [](const Compared& one) { return std::isfinite(one.numbers.cost); });
  std::vector<std::vector<double>> rows;
  for (const Compared& one : all) {
    rows.push_back(objectives(one.numbers, withCost));
    rows.back().push_back(static_cast<double>(bestStart(one.starts).value_or(StartLevel::starts)));
  }
  const std::vector<bool> kept = nonDominated(rows);
  for (std::size_t i = 0; i < all.size(); ++i)
    all[i].isNonDominated = kept[i];
}

}  // namespace

std::variant<std::vector<Compared>, CompareFault> compare(std::span<const CompareItem> items,
                                                          int threads) {
  std::vector<Answered> answers(items.size());
  std::vector<std::vector<SourceStart>> starts(items.size());
  CabinDays days;
  inParallel(items.size(), threads, [&](std::size_t i) {
    answers[i] = answerNight(items[i].given, items[i].series, 1, days);
    starts[i] = startLevels(items[i].given, items[i].series);
  });
  std::vector<Compared> all;
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (const auto* problems = std::get_if<std::vector<scenario::Problem>>(&answers[i]))
      return CompareFault{i, *problems};
    Compared one{items[i].name, std::move(std::get<Answer>(answers[i])), {}, starts[i], false};
    one.numbers = decidingNumbersOf(one.answer);
    all.push_back(std::move(one));
  }
  markNonDominated(all);
  return all;
}

}  // namespace nightbank
