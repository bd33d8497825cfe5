#include <cmath>

#include "rules.h"
#include <fmt/format.h>

#include "nightbank/scenario/chemistry.h"
#include "nightbank/units/constants.h"
#include "nightbank/units/quantity.h"

namespace nightbank::scenario {
namespace {

// Charging above this gasses lead dry and trips the protection of LFP.
constexpr double kHighestPerUnit_V = 16.5;
constexpr double kLowestPerUnit_V = 8.0;

// `verb`: is, or makes.
void noSuchVoltage(const Rules& rules, const std::string& path, std::string_view verb,
                   double voltage_V) {
  const bool isLfp = rules.given.bank.chemistry.value == Chemistry::lfp;
  rules.error(path, "",
              fmt::format("{} {} {}; {}", path, verb, format(voltage_V, Dim::voltage),
                          isLfp ? "an LFP bank has 12.8 V, 25.6 V, 38.4 V or 51.2 V (printed also "
                                  "12 V, 24 V, 36 V or 48 V; single cells 3.2 V)"
                                : "a lead bank has 12 V, 24 V, 36 V or 48 V (single batteries "
                                  "also 2 V, 6 V or 8 V)"));
}

void checkPrintedVoltages(const Rules& rules) {
  const Bank& bank = rules.given.bank;
  const Chemistry chemistry = bank.chemistry.value;
  const double whole_V = rules.resolved.bank.voltage_V.value;
  if (!bank.batteries) {
    if (seriesCells(chemistry, whole_V) == 0)
      noSuchVoltage(rules, "bank.voltage", "is", whole_V);
    return;
  }
  const double each_V = bank.batteries->each.voltage_V.value;
  if (seriesCells(chemistry, each_V) == 0)
    noSuchVoltage(rules, "bank.batteries.each.voltage", "is", each_V);
  else if (seriesCells(chemistry, whole_V) == 0)
    noSuchVoltage(rules, "bank.batteries.in_series", "makes", whole_V);
}

// What two capacities say of the exponent. Valid: 1 to 2.
double exponentOf(const Rate& slow, const Rate& fast) {
  const double slowCurrent_A = slow.capacity_Ah.value / (slow.over_s.value / kHour_s);
  const double fastCurrent_A = fast.capacity_Ah.value / (fast.over_s.value / kHour_s);
  return std::log(slow.over_s.value / fast.over_s.value) / std::log(fastCurrent_A / slowCurrent_A);
}

void checkPair(const Rules& rules, std::size_t i, std::size_t j) {
  const Rate& a = rules.given.bank.rates[i];
  const Rate& b = rules.given.bank.rates[j];
  const std::string pathA = fmt::format("bank.rates[{}]", i);
  const std::string pathB = fmt::format("bank.rates[{}]", j);
  if (a.over_s.value == b.over_s.value)
    return rules.error(pathA + ".over", pathB + ".over",
                       fmt::format("{}.over is that of another rate; hours must differ", pathA));
  const bool isSlower = a.over_s.value > b.over_s.value;
  const double exponent = isSlower ? exponentOf(a, b) : exponentOf(b, a);
  if (std::isnan(exponent))  // a figure that could not be read
    return;
  if (!(exponent >= 1.0 && exponent <= 2.0))
    rules.error(pathA + ".capacity", pathB + ".capacity",
                fmt::format("{} and {} do not fit: over fewer hours a bank gives fewer "
                            "ampere-hours, but not far fewer (exponent {:.3g}, expected 1 to 2)",
                            pathB, pathA, exponent));
  if (a.downTo_V.given && b.downTo_V.given && a.downTo_V.value != b.downTo_V.value)
    rules.warning(pathA + ".down_to", pathB + ".down_to",
                  fmt::format("{}.down_to differs from another rate's: the exponent comes out too "
                              "small; take both to one end voltage",
                              pathA));
}

// Of the rates only the exponent is used: their capacities must be the bank's own.
void checkRatedCapacity(const Rules& rules, std::size_t i) {
  const Rate& rate = rules.given.bank.rates[i];
  const Bank& bank = rules.resolved.bank;
  constexpr double kSlack = 0.05;
  const bool isRated = std::abs(rate.over_s.value - bank.ratedOver_s.value) < 1.0;
  if (isRated && std::abs(rate.capacity_Ah.value / bank.capacity_Ah.value - 1.0) > kSlack)
    rules.warning(
        fmt::format("bank.rates[{}].capacity", i), "bank.capacity",
        fmt::format("bank.rates[{}].capacity is {} over {}, but the bank has {}; of the rates "
                    "only how they shrink is used",
                    i, format(rate.capacity_Ah.value, Dim::charge),
                    format(rate.over_s.value, Dim::duration),
                    format(bank.capacity_Ah.value, Dim::charge)));
}

void checkRates(const Rules& rules) {
  const std::size_t count = rules.given.bank.rates.size();
  constexpr std::size_t kMost = 16;
  if (count == 1)
    rules.error("bank.rates", "", "bank.rates has one rate; an exponent takes two or more");
  if (count > kMost)
    return rules.error("bank.rates", "", fmt::format("bank.rates has over {} rates", kMost));
  for (std::size_t i = 0; i < count; ++i) {
    checkRatedCapacity(rules, i);
    for (std::size_t j = 0; j < i; ++j)
      checkPair(rules, i, j);
  }
}

void checkStrings(const Rules& rules) {
  const Batteries& batteries = *rules.resolved.bank.batteries;
  if (batteries.stringsLost.value >= batteries.inParallel.value)
    rules.error("bank.batteries.strings_lost",
                batteries.inParallel.given ? "bank.batteries.in_parallel" : "",
                fmt::format("bank.batteries.strings_lost is {:g}; expected below in_parallel, {:g}",
                            batteries.stringsLost.value, batteries.inParallel.value));
}

// A monitor that cannot do what it is set to do.
void checkMonitor(const Rules& rules, double units) {
  const Bank& bank = rules.resolved.bank;
  const Monitor& monitor = *bank.monitor;
  const double full_V = units * fullPerUnit_V(bank.chemistry.value);
  if (monitor.reset_V.value > bank.absorption_V.value)
    rules.warning("bank.monitor.reset_voltage", "bank.absorption",
                  fmt::format("bank.monitor.reset_voltage is {}, above what the bank is charged "
                              "to, {}: it never goes to 100 %",
                              format(monitor.reset_V.value, Dim::voltage),
                              format(bank.absorption_V.value, Dim::voltage)));
  if (monitor.reset_V.value <= full_V)
    rules.warning(
        "bank.monitor.reset_voltage", "",
        fmt::format("bank.monitor.reset_voltage is {}, no more than a full bank has at "
                    "rest, {}: any weak charge takes it to 100 %",
                    format(monitor.reset_V.value, Dim::voltage), format(full_V, Dim::voltage)));
}

void checkAbsorption(const Rules& rules, double units) {
  const double full_V = units * fullPerUnit_V(rules.given.bank.chemistry.value);
  const double absorption_V = rules.resolved.bank.absorption_V.value;
  if (!(absorption_V > full_V && absorption_V <= units * kHighestPerUnit_V))
    rules.error("bank.absorption", "",
                fmt::format("bank.absorption is {}; expected above {} (the full bank at rest), up "
                            "to {}",
                            format(absorption_V, Dim::voltage), format(full_V, Dim::voltage),
                            format(units * kHighestPerUnit_V, Dim::voltage)));
}

// A full bank is held lower than it was charged to, and no protection trips a full one.
void checkFloatAndTrip(const Rules& rules, double units) {
  const Bank& bank = rules.resolved.bank;
  if (bank.float_V.given && bank.float_V.value > bank.absorption_V.value)
    rules.error("bank.float", "bank.absorption",
                fmt::format("bank.float is {}; expected up to bank.absorption, {}",
                            format(bank.float_V.value, Dim::voltage),
                            format(bank.absorption_V.value, Dim::voltage)));
  const double full_V = units * fullPerUnit_V(rules.given.bank.chemistry.value);
  if (bank.lowTrip_V.value >= full_V)
    rules.error(
        "bank.low_trip", "",
        fmt::format("bank.low_trip is {}; expected below {} (the full bank at rest)",
                    format(bank.lowTrip_V.value, Dim::voltage), format(full_V, Dim::voltage)));
}

void checkCutoff(const Rules& rules, double units) {
  const Inverter& inverter = *rules.resolved.inverter;
  const double full_V = units * fullPerUnit_V(rules.given.bank.chemistry.value);
  const double least_V = units * kLowestPerUnit_V;
  if (!(inverter.cutoff_V.value >= least_V && inverter.cutoff_V.value < full_V))
    return rules.error("inverter.cutoff", "bank",
                       fmt::format("inverter.cutoff is {}; expected {} to below {} for this bank",
                                   format(inverter.cutoff_V.value, Dim::voltage),
                                   format(least_V, Dim::voltage), format(full_V, Dim::voltage)));
  if (!(inverter.cutoff_V.value < inverter.reconnect_V.value))
    return rules.error("inverter.reconnect", "inverter.cutoff",
                       fmt::format("inverter.reconnect is {}; expected above inverter.cutoff, {}",
                                   format(inverter.reconnect_V.value, Dim::voltage),
                                   format(inverter.cutoff_V.value, Dim::voltage)));
  const double absorption_V = rules.resolved.bank.absorption_V.value;
  if (absorption_V > full_V && inverter.reconnect_V.value > absorption_V)
    rules.error("inverter.reconnect", "bank.absorption",
                fmt::format("inverter.reconnect is {}, above what the bank is charged to, {}: it "
                            "would stay off",
                            format(inverter.reconnect_V.value, Dim::voltage),
                            format(absorption_V, Dim::voltage)));
}

}  // namespace

void checkBank(const Rules& rules) {
  const Bank& bank = rules.given.bank;
  if (!bank.chemistry.given)
    return;
  checkPrintedVoltages(rules);
  checkRates(rules);
  const Bank& resolved = rules.resolved.bank;
  if (resolved.batteries)
    checkStrings(rules);
  const double units = twelveVoltUnits(bank.chemistry.value, resolved.voltage_V.value);
  if (units > 0.0) {
    checkAbsorption(rules, units);
    checkFloatAndTrip(rules, units);
  }
  if (units > 0.0 && resolved.monitor)
    checkMonitor(rules, units);
  const double floor = 1.0 - resolved.maxDepthOfDischarge.value;
  if (bank.startAt.given && bank.startAt.value < floor)
    rules.warning(
        "bank.start_at", "",
        fmt::format("bank.start_at is {}, below the floor of {}",
                    format(bank.startAt.value, Dim::fraction), format(floor, Dim::fraction)));
}

void checkInverter(const Rules& rules) {
  if (!rules.given.inverter)
    return;
  const Bank& bank = rules.resolved.bank;
  const double units = twelveVoltUnits(bank.chemistry.value, bank.voltage_V.value);
  if (units > 0.0 && rules.given.bank.chemistry.given)
    checkCutoff(rules, units);
  const Inverter& inverter = *rules.given.inverter;
  if (inverter.idle_W.given && inverter.idle_W.value >= inverter.continuous_W.value)
    rules.error("inverter.idle", "inverter.continuous",
                fmt::format("inverter.idle is {}; expected below inverter.continuous, {}",
                            format(inverter.idle_W.value, Dim::power),
                            format(inverter.continuous_W.value, Dim::power)));
  const std::vector<EfficiencyPoint>& points = inverter.efficiency;
  for (std::size_t i = 0; i < points.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      if (points[i].load == points[j].load)
        rules.error(fmt::format("inverter.efficiency[{}]", i),
                    fmt::format("inverter.efficiency[{}]", j),
                    fmt::format("inverter.efficiency[{}] is at the load of another point; loads "
                                "must differ",
                                i));
}

}  // namespace nightbank::scenario
