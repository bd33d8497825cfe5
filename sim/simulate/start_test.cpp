#include "nightbank/simulate/start_test.h"

#include <algorithm>
#include <cmath>

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

/// Other loads, and the units that run already.
Phasor othersOf(const StartPlant& start, const StartTry& attempt) {
  Phasor others = asksEngine(attempt.source) ? start.onGenerator : start.onInverter;
  for (std::size_t i = 0; attempt.onTop && i < start.units.size(); ++i)
    if (i != attempt.unit)
      others += start.units[i].running;
  return others;
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
void testBank(const StartPlant& start, const Plant& plant, const BankState& bank, double carried_W,
              double time_s, StartTest& test) {
  const double dc_W = inverterDcPower_W(plant.inverter, carried_W);
  const double available_A = upToCutoff_A(plant, bank);
  const double cutoff_V = plant.cutoff_V - plant.cutoffCompensation_ohm * available_A;
  const double loads_A = start.batteryLoads_W / std::max(cutoff_V, 1.0);
  const double needed_A = dc_W / std::max(cutoff_V, 1.0) + loads_A;
  addElement(test, {StartLimit::lowVoltage, needed_A, available_A, cutoff_V, time_s});
  double allowed_A = std::numeric_limits<double>::infinity();
  for (const CurrentLimit& limit : plant.currentLimits)
    if (limit.lasts_s <= time_s)
      allowed_A = std::min(allowed_A, limit.limit_A);
  // At the voltage that the start leaves, where the bank bears it.
  const double at_V =
      needed_A < available_A ? std::max(cutoff_V, atInverter_V(plant, bank, needed_A)) : cutoff_V;
  if (std::isfinite(allowed_A))
    addElement(test, {StartLimit::protection, dc_W / std::max(at_V, 1.0) + loads_A, allowed_A, at_V,
                      time_s});
}

/// The voltage at the motor behind a set of a known class, which dips by that share for a step to
/// its rated current. Only of a start across the line.
void testVoltage(const StartPlant& start, const StartUnit& unit, double continuous_A,
                 StartTest& test) {
  const double source_ohm = start.deepestDip * start.mains_V / continuous_A;
  const Phasor along = phasorOf(source_ohm, unit.motor.powerFactor);
  const Dip dipped = dip(unit.motor, start.mains_V, along.real_A, along.reactive_A);
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

}  // namespace

std::vector<Surge> givenBy(const StartPlant& start, StartSource source) {
  if (source == StartSource::inverter)
    return start.inverter;
  std::vector<Surge> list = start.generator;
  if (source == StartSource::oneSet)
    for (Surge& surge : list)
      surge.current_A /= start.sets;
  if (source != StartSource::together)
    return list;
  list.insert(list.end(), start.inverter.begin(), start.inverter.end());
  std::ranges::sort(list, {}, &Surge::lasts_s);
  for (Surge& surge : list)
    surge.current_A =
        givenFor_A(start.generator, surge.lasts_s) + givenFor_A(start.inverter, surge.lasts_s);
  const auto same = std::unique(list.begin(), list.end(), [](const Surge& a, const Surge& b) {
    return a.lasts_s == b.lasts_s;
  });
  list.erase(same, list.end());
  return list;
}

bool mayCarry(const StartPlant& start, const Plant& plant, StartSource source, std::size_t unit) {
  const Feeds& feeds = start.units[unit].feeds;
  const bool byEngine = feeds.generator && !start.generator.empty();
  switch (source) {
    case StartSource::inverter:
      return feeds.inverter && !start.inverter.empty();
    case StartSource::generator:
      return byEngine;
    case StartSource::oneSet:
      return byEngine && start.sets > 1;
    case StartSource::together:
      return byEngine && !start.inverter.empty() && plant.inverterHelps;
  }
  return false;
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

StartTest testStart(const StartPlant& start, const Plant& plant, const BankState& bank,
                    const StartTry& attempt) {
  const StartUnit& unit = start.units[attempt.unit];
  const std::vector<Surge> given = givenBy(start, attempt.source);
  const Phasor others = othersOf(start, attempt);
  StartTest test;
  test.start_s = startTime_s(unit.motor, attempt.soft, attempt.hot);
  Phasor atStart = startCurrent(unit.motor, attempt.soft, start.mains_V);
  atStart += unit.fan;
  atStart += others;
  test.start_A = atStart.magnitude_A();
  Phasor running = unit.running;
  running += others;
  test.running_A = running.magnitude_A();
  test.running_W = running.real_A * start.mains_V;
  test.continuous_A = given.back().current_A;
  test.overloadAfter_s = givenTime_s(given, test.running_A);
  const double given_A = givenFor_A(given, test.start_s);
  addElement(test, {StartLimit::shortTime, test.start_A, given_A, start.mains_V, test.start_s});
  addElement(test, {StartLimit::running, test.running_A, test.continuous_A, start.mains_V,
                    test.overloadAfter_s});
  if (asksBank(attempt.source)) {
    const double own = attempt.source == StartSource::inverter
                           ? 1.0
                           : givenFor_A(start.inverter, test.start_s) / given_A;
    testBank(start, plant, bank, own * atStart.real_A * start.mains_V, test.start_s, test);
  }
  const bool alone =
      attempt.source == StartSource::generator || attempt.source == StartSource::oneSet;
  if (alone && start.deepestDip > 0.0 && !attempt.soft)
    testVoltage(start, unit, test.continuous_A, test);
  judgeStart(test);
  if (alone && start.idlesLow && test.level == StartLevel::starts) {
    test.level = StartLevel::doubtful;
    addElement(test, {StartLimit::lowIdle, test.start_A, given_A, start.mains_V, test.start_s});
    test.worst = test.count - 1;
  }
  return test;
}

}  // namespace nightbank
