#include "nightbank/simulate/start_test.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "nightbank/numerics/root.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

bool asksBank(StartSource source) {
  return source == StartSource::inverter || source == StartSource::together;
}

bool asksEngine(StartSource source) {
  return source != StartSource::inverter;
}

void addElement(StartTest& test, const StartElement& element) {
  test.elements[test.count++] = element;
}

/// Volts at the inverter for a current out of the bank.
double atInverter_V(const Plant& plant, const BankState& bank, double current_A) {
  return meanVoltage(plant.bank, bank, current_A, 0.0).voltage_V - current_A * plant.cableLoop_ohm;
}

/// The most direct current before the inverter's cut-off, which may fall with it. [A]
double upToCutoff_A(const Plant& plant, const BankState& bank) {
  const auto above_V = [&](double current_A) {
    return atInverter_V(plant, bank, current_A) -
           (plant.cutoff_V - plant.cutoffCompensation_ohm * current_A);
  };
  const double rest_V = above_V(0.0);
  if (!(rest_V > 0.0))
    return 0.0;
  double most_A = 10.0 * plant.bank.capacity_Ah;  // no bank is asked for more
  const double beyond_V = above_V(most_A);
  return beyond_V >= 0.0 ? most_A
                         : bracketedRoot(above_V, 0.0, rest_V, most_A, beyond_V, 1e-6 * most_A);
}

/// The bank's side, once what the inverter carries is known. [W] alternating current
void testBank(const Plant& plant, const BankState& bank, double carried_W, double batteryLoads_W,
              double time_s, StartTest& test) {
  const double dc_W = inverterDcPower_W(plant.inverter, carried_W);
  const double available_A = upToCutoff_A(plant, bank);
  const double cutoff_V = plant.cutoff_V - plant.cutoffCompensation_ohm * available_A;
  const double loads_A = batteryLoads_W / std::max(cutoff_V, 1.0);
  const double needed_A = dc_W / std::max(cutoff_V, 1.0) + loads_A;
  if (!(needed_A > 0.0))
    return;  // what charges carries it
  addElement(test, {StartLimit::lowVoltage, needed_A, available_A, cutoff_V, time_s});
  double allowed_A = std::numeric_limits<double>::infinity();
  for (const CurrentLimit& limit : plant.currentLimits)
    if (limit.limit_A > 0.0 && limit.lasts_s <= time_s)
      allowed_A = std::min(allowed_A, limit.limit_A);
  // At the voltage that the start leaves, where the bank bears it.
  const double at_V =
      needed_A < available_A ? std::max(cutoff_V, atInverter_V(plant, bank, needed_A)) : cutoff_V;
  if (std::isfinite(allowed_A))
    addElement(test, {StartLimit::protection, dc_W / std::max(at_V, 1.0) + loads_A, allowed_A, at_V,
                      time_s});
}

/// The voltage at the motor behind a set's transient reactance; or behind the impedance of its
/// class, which dips by that share for a step to its rated current, in phase with the motor's. Only
/// of a start across the line.
void testVoltage(const Plant& plant, const StartUnit& unit, double rated_A, StartTest& test) {
  const StartPlant& start = plant.start;
  const double rated_ohm = start.mains_V / rated_A;
  const Phasor source_ohm = start.reactance > 0.0
                                ? phasorOf(start.reactance * rated_ohm, 0.0)
                                : phasorOf(start.deepestDip * rated_ohm, unit.motor.powerFactor);
  const Dip dipped = dip(unit.motor, start.mains_V, source_ohm.real_A, source_ohm.reactive_A);
  addElement(test, {StartLimit::voltage, kStalls * unit.motor.nameplate_V, dipped.voltage_V,
                    start.mains_V, test.start_s});
}

StartLevel elementLevel(const StartElement& element) {
  const double doubtful =
      element.limit == StartLimit::voltage ? kMayStall / kStalls - 1.0 : kDoubtfulShare;
  const double margin = element.margin();
  return margin < 0.0        ? StartLevel::trips
         : margin < doubtful ? StartLevel::doubtful
                             : StartLevel::starts;
}

void judgeStart(StartTest& test) {
  for (std::size_t i = 0; i < test.count; ++i) {
    const StartElement &one = test.elements[i], &worst = test.elements[test.worst];
    const StartLevel level = elementLevel(one);
    if (level > elementLevel(worst) ||
        (level == elementLevel(worst) && one.margin() < worst.margin()))
      test.worst = i;
    test.level = std::max(test.level, level);
  }
}

/// Shorter ratings are magnetic and electronic, not the engine's breath: height and heat spare
/// them.
constexpr double kDeratedFrom_s = 1.0;

/// A source's list as it is where `share` of its ratings is left: never rising, and an overload
/// trips from the continuous current's time on.
SurgeList listOf(const SourceRatings& ratings, double share) {
  SurgeList list;
  const double end_A = share * ratings.continuous_A;
  const double longShare = share / ratings.ratingLeft;
  for (const Surge& surge : ratings.surges.all()) {
    const double current_A = surge.current_A * (surge.lasts_s >= kDeratedFrom_s ? longShare : 1.0);
    if (current_A <= end_A)
      continue;
    for (Surge& shorter : list.all())
      shorter.current_A = std::max(shorter.current_A, current_A);
    if (list.count == 0 || list.longest().lasts_s < surge.lasts_s)
      list.add({current_A, surge.lasts_s});
  }
  const double from_s = list.count == 0 ? 0.0 : list.longest().lasts_s * 1.001;
  list.add({end_A, std::max(from_s, ratings.overloadTrip_s)});
  return list;
}

/// What two sources give side by side.
SurgeList sumOf(const SurgeList& one, const SurgeList& other) {
  SurgeList times;
  for (const SurgeList* list : {&one, &other})
    for (const Surge& surge : list->all())
      times.add(surge);
  std::ranges::sort(times.all(), {}, &Surge::lasts_s);
  SurgeList sum;
  for (const Surge& at : times.all())
    if (sum.count == 0 || sum.longest().lasts_s < at.lasts_s)
      sum.add(
          {givenFor_A(one.all(), at.lasts_s) + givenFor_A(other.all(), at.lasts_s), at.lasts_s});
  return sum;
}

}  // namespace

SurgeList givenBy(const StartPlant& start, StartSource source, const StartMoment& moment) {
  if (source == StartSource::inverter)
    return listOf(start.inverter, moment.inverterShare);
  SurgeList list = listOf(start.generator, moment.generatorShare);
  if (source == StartSource::oneSet)
    for (Surge& surge : list.all())
      surge.current_A /= start.sets;
  return source == StartSource::together ? sumOf(list, listOf(start.inverter, moment.inverterShare))
                                         : list;
}

bool mayCarry(const Plant& plant, StartSource source, std::size_t unit) {
  const Feeds& feeds = plant.airConditioners[unit].feeds;
  const StartPlant& start = plant.start;
  const bool byEngine = feeds.generator && start.generator.exists();
  switch (source) {
    case StartSource::inverter:
      return feeds.inverter && start.inverter.exists();
    case StartSource::generator:
      return byEngine;
    case StartSource::oneSet:
      return byEngine && start.sets > 1;
    case StartSource::together:
      return byEngine && start.inverter.exists() && plant.inverterHelps;
  }
  return false;
}

StartMoment worstMoment(const Plant& plant, const StartTry& attempt, bool onTop) {
  const StartPlant& start = plant.start;
  StartMoment moment;
  moment.others = asksEngine(attempt.source) ? start.onGenerator : start.onInverter;
  for (std::size_t i = 0; onTop && i < start.units.size(); ++i)
    if (i != attempt.unit)
      moment.others += start.units[i].running;
  moment.running = start.units[attempt.unit].running;
  moment.batteryLoads_W = start.batteryLoads_W;
  moment.inverterShare = start.inverterShare;
  moment.generatorShare = start.generatorShare;
  return moment;
}

BankState bankBefore(const Plant& plant, double soc, double load_W) {
  const double dc_W = load_W > 0.0 ? inverterDcPower_W(plant.inverter, load_W) : 0.0;
  const double current_A = dc_W / plant.nominal_V;
  const double moved = current_A / plant.bank.capacity_Ah;  // in the hour before
  BankState bank =
      advanced(plant.bank, restedBank(plant.bank, std::min(1.0, soc + moved)), current_A, kHour_s);
  bank.soc = soc;
  return bank;
}

StartTest testStart(const Plant& plant, const BankState& bank, const StartTry& attempt,
                    const StartMoment& moment) {
  const StartPlant& start = plant.start;
  const StartUnit& unit = start.units[attempt.unit];
  const SurgeList given = givenBy(start, attempt.source, moment);
  StartTest test;
  test.start_s = startTime_s(unit.motor, attempt.soft, attempt.hot);
  Phasor atStart = startCurrent(unit.motor, attempt.soft, start.mains_V);
  atStart += unit.fan;
  atStart += moment.others;
  test.start_A = atStart.magnitude_A();
  Phasor running = moment.running;
  running += moment.others;
  test.running_A = running.magnitude_A();
  test.running_W = running.real_A * start.mains_V;
  test.continuous_A = given.longest().current_A;
  test.overloadAfter_s = givenTime_s(given.all(), test.running_A);
  const double given_A = givenFor_A(given.all(), test.start_s);
  addElement(test, {StartLimit::shortTime, test.start_A, given_A, start.mains_V, test.start_s});
  if (!attempt.startOnly)
    addElement(test, {StartLimit::running, test.running_A, test.continuous_A, start.mains_V,
                      test.overloadAfter_s});
  if (asksBank(attempt.source)) {
    const SurgeList own = givenBy(start, StartSource::inverter, moment);
    const double share = givenFor_A(own.all(), test.start_s) / given_A;
    testBank(plant, bank, share * atStart.real_A * start.mains_V, moment.batteryLoads_W,
             test.start_s, test);
  }
  const bool alone =
      attempt.source == StartSource::generator || attempt.source == StartSource::oneSet;
  if (alone && (start.reactance > 0.0 || start.deepestDip > 0.0) && !attempt.soft)
    testVoltage(
        plant, unit,
        start.generator.continuous_A / (attempt.source == StartSource::oneSet ? start.sets : 1),
        test);
  judgeStart(test);
  if (alone && start.idlesLow && test.level == StartLevel::starts) {
    test.level = StartLevel::doubtful;
    addElement(test, {StartLimit::lowIdle, test.start_A, given_A, start.mains_V, test.start_s});
    test.worst = test.count - 1;
  }
  return test;
}

}  // namespace nightbank
