#include "nightbank/study/judgement.h"

#include <algorithm>

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// Less than this not served is rounding of the switch times.
constexpr double kServed_J = 1.0 * kWattHour_J;

/// Less than this outside the allowed hours is rounding.
constexpr double kQuiet_s = 1.0;

Level bankLevel(const BankOutcome& bank, double marginShare) {
  if (bank.spentBy != SpentBy::nothing || bank.margin_J < 0.0)
    return Level::fails;
  return marginShare < kMarginalShare ? Level::marginal : Level::holds;
}

/// What stopped the bank first: the floor, or the end of what it can give.
Limit bankLimit(const BankOutcome& bank) {
  const bool spentFirst =
      bank.spentBy != SpentBy::nothing && !(bank.floorReachedAt_s <= bank.spentAt_s);
  if (!spentFirst)
    return Limit::floor;
  switch (bank.spentBy) {
    case SpentBy::cutoff:
      return Limit::cutoff;
    case SpentBy::unitCutoff:
      return Limit::unitCutoff;
    default:
      return Limit::availability;
  }
}

/// A charge that is stopped interrupts nobody: what it costs shows in the bank.
Limit ratingLimit(const Outcome& outcome) {
  constexpr Limit kLimits[kSources] = {Limit::inverterRating, Limit::generatorRating,
                                       Limit::shoreRating, Limit::bankCurrent, Limit::nothing};
  for (std::size_t i = 0; i < kSources; ++i)
    if (outcome.sources[i].trips > 0)
      return kLimits[i];
  return Limit::nothing;
}

Level startsLevel(const StartsOutcome& starts) {
  if (starts.failed > 0)
    return Level::fails;
  return starts.doubtful > 0 ? Level::marginal : Level::holds;
}

Limit startLimit(const StartsOutcome& starts) {
  const StartRecord& worst = starts.failed > 0 ? starts.firstFailed : starts.closest;
  return worst.source == StartSource::inverter ? Limit::inverterStart : Limit::generatorStart;
}

/// The bank was not yet at its floor, nor spent, when the first start failed.
bool startCameFirst(const Outcome& outcome) {
  const double at_s = outcome.starts.firstFailed.at_s;
  return !(outcome.bank.floorReachedAt_s < at_s) && !(outcome.bank.spentAt_s < at_s);
}

Level comfortLevel(const CabinOutcome& cabin) {
  if (cabin.tooWarm_s > kWarmFails_s)
    return Level::fails;
  return cabin.tooWarm_s > kWarmTolerated_s ? Level::marginal : Level::holds;
}

}  // namespace

Judgement judge(const Outcome& outcome) {
  Judgement j;
  const BankOutcome& bank = outcome.bank;
  j.marginShare = bank.usable_J > 0.0 ? bank.margin_J / bank.usable_J : -1.0;
  j.bank = bankLevel(bank, j.marginShare);
  const Limit rating = ratingLimit(outcome);
  j.rating = rating == Limit::nothing ? Level::holds : Level::fails;
  j.starts = startsLevel(outcome.starts);
  j.service = outcome.energy_J.unserved > kServed_J ? Level::fails : Level::holds;
  j.rules = outcome.generator.quiet_s > kQuiet_s ? Level::fails : Level::holds;
  j.comfort = comfortLevel(outcome.cabin);
  j.level = std::max({j.bank, j.rating, j.starts, j.service, j.rules, j.comfort});
  if (j.level == Level::holds)
    return j;
  // A start or an overload comes before what follows from it; the bank before what it leaves
  // unserved.
  if (j.starts == j.level && (j.bank != j.level || startCameFirst(outcome)))
    j.limit = startLimit(outcome.starts);
  else if (j.rating == j.level)
    j.limit = rating;
  else if (j.bank == j.level)
    j.limit = bankLimit(bank);
  else if (j.service == j.level)
    j.limit = Limit::noSource;
  else
    j.limit = j.rules == j.level ? Limit::quietHours : Limit::tooWarm;
  return j;
}

}  // namespace nightbank
