#include <algorithm>

#include "build.h"
#include "cabin_lines.h"
#include "feeds.h"

#include "nightbank/scenario/chemistry.h"
#include "nightbank/units/constants.h"

namespace nightbank::scenario {
namespace {

using namespace build;

double units(const Bank& bank) {
  return twelveVoltUnits(bank.chemistry.value, bank.voltage_V.value);
}

Typical scaled(const Typical& typical, double factor) {
  return {typical.value * factor, typical.low * factor, typical.high * factor};
}

// Trade practice: 0.85 to 0.93 over most of the load range.
Typical efficiency(const Scenario&, const Inverter& inverter) {
  return inverter.losses ? Typical{} : Typical{0.90, 0.85, 0.93};
}

// 0.5 to 1.5 % of continuous power: 15 to 40 W of a 2 to 3 kW set (from memory; manuals of 1.5 kW
// sets print about 25 W). Three efficiency points fix it by themselves, and so do losses.
Typical idle(const Scenario&, const Inverter& inverter) {
  if (inverter.losses)
    return {};
  if (inverter.efficiencyGrade.given && inverter.efficiency.size() > 2)
    return {};
  return scaled({0.010, 0.005, 0.015}, inverter.continuous_W.value);
}

// Per 12 V: manuals print 10.0 to 11.0 V; people with lithium set 11.5 to 12.0 V (from memory).
Typical cutoff(const Scenario& soFar, const Inverter&) {
  const bool isLfp = soFar.bank.chemistry.value == Chemistry::lfp;
  return scaled(isLfp ? Typical{11.5, 11.0, 12.0} : Typical{10.5, 10.0, 11.0}, units(soFar.bank));
}

// Per 12 V, common practice, no source: above what an emptied bank recovers to at rest (lead at
// 50 % 12.24 V, LFP at 10 % 12.80 V), below what it rests at when charged.
Typical reconnect(const Scenario& soFar, const Inverter& inverter) {
  const bool isLfp = soFar.bank.chemistry.value == Chemistry::lfp;
  const Typical usual =
      scaled(isLfp ? Typical{12.8, 12.6, 13.2} : Typical{12.4, 12.2, 12.6}, units(soFar.bank));
  // Always some way above the cut-off that was given.
  const double least_V = inverter.cutoff_V.value + 0.2 * units(soFar.bank);
  return {std::max(usual.value, least_V), std::max(usual.low, least_V),
          std::max(usual.high, least_V)};
}

// A camping inlet of 30 A at 120 V, or 16 A at 230 V (common practice, no source).
Typical shoreLimit(const Scenario& soFar, const Shore&) {
  return soFar.mains_V.value < 180.0 ? Typical{30, 15, 50} : Typical{16, 6, 16};
}

// Twice for tens of milliseconds to seconds, three times of heavy ones (from memory).
Typical shortTime(const Scenario& soFar, const Inverter& inverter) {
  if (!inverter.surge.empty())
    return {};
  return scaled({2.0, 1.5, 3.0}, inverter.continuous_W.value / soFar.mains_V.value);
}

std::vector<Field> ratingLines() {
  return {
      quantity<&Inverter::continuous_W>("continuous", Dim::power, between(10, 50e3),
                                        "what it gives for hours (label, manual)")
          .required(),
      pair<&Inverter::efficiency, &Inverter::efficiencyGrade>(
          "efficiency", Kind::efficiency,
          "output / input: one share, or points [load, efficiency] (data sheet)")
          .within(between(0.05, 0.999))
          .oneOf(1, 'a')
          .from<&efficiency>("90 %, range 85 % to 93 %"),
      quantity<&Inverter::idle_W>("idle", Dim::power, between(0, 1000),
                                  "drawn while on, with nothing to feed (battery monitor, manual)")
          .oneOf(1, 'a')
          .from<&idle>("1 % of continuous, range 0.5 % to 1.5 %"),
      quantity<&Inverter::cutoff_V>("cutoff", Dim::voltage, above(0, 1000),
                                    "switches off below this, under load (settings, manual)")
          .from<&cutoff>("per 12 V 10.5 V, range 10 V to 11 V; lfp 11.5 V, 11 V to 12 V"),
      quantity<&Inverter::reconnect_V>("reconnect", Dim::voltage, above(0, 1000),
                                       "switches on again above this (settings, manual)")
          .from<&reconnect>("per 12 V 12.4 V, range 12.2 V to 12.6 V; lfp 12.8 V"),
      part<&Inverter::losses>("losses", "instead of efficiency and idle: its loss term by term")
          .oneOf(1, 'b'),
      part<&Inverter::search>("search", "its power-saving mode, if that is switched on"),
  };
}

}  // namespace

template <>
const Spec& specOf<Inverter>() {
  static const Spec spec = [] {
    Spec made{"an inverter", ratingLines(), ""};
    const std::vector<Field> others = {
        part<&Inverter::cable>("cable", "between bank and inverter"),
        value<&Inverter::hours>("hours", Kind::hours, "when it is switched on (your plan)")
            .filledBy<&fillAllDay<Inverter>>("always"),
        word<&Inverter::helpsGenerator>("helps_generator", kNoYes,
                                        "adds to a generator at its limit (manual, settings)")
            .byDefault(0, "no")
            .seldom(),
        share<&Inverter::heatInside>("heat_inside", between(0, 1),
                                     "of its losses, what warms the cabin (where it sits)")
            .from<&halfHeatInside<Inverter>>("with a thermostat: 50 %, range 0 % to 100 %")
            .seldom(),
        // Common practice, no source.
        quantity<&Inverter::reconnectDelay_s>("reconnect_delay", Dim::duration, between(1, kHour_s),
                                              "wait before it switches on again (manual)")
            .typically(60, 10, 180, "60 s, range 10 s to 180 s")
            .seldom(),
        quantity<&Inverter::overloadTrip_s>("overload_trip", Dim::duration, between(0.1, kHour_s),
                                            "how long it carries an overload (manual)")
            .typically(10, 1, 30, "10 s, range 1 s to 30 s")
            .seldom(),
        quantity<&Inverter::cutoffCompensation_ohm>(
            "cutoff_compensation", Dim::resistance, between(0, 1),
            "the cut-off falls by this times the amperes, at none where left out (settings)")
            .seldom(),
        slope<&Inverter::heatDerating>(
            "heat_derating", Dim::temperature,
            "continuous power lost in the heat, by the outdoor temperature: its own compartment is "
            "hotter; none where left out (manual)")
            .seldom(),
        list<&Inverter::surge>("surge", "short-time ratings, each with its time (manual)").seldom(),
        current<&Inverter::shortTime_A>("short_time_current", above(0, 2000),
                                        "most that it gives for half a second (manual)")
            .from<&shortTime>("twice its continuous current where there is no surge list, range "
                              "1.5 to 3 times")
            .seldom(),
    };
    made.fields.insert(made.fields.end(), others.begin(), others.end());
    return made;
  }();
  return spec;
}

template <>
const Spec& specOf<Surge>() {
  static const Spec spec{
      "a surge rating",
      {
          quantity<&Surge::power_W>("power", Dim::power, above(0, 100e3),
                                    "watts for a short time (manual)")
              .required()
              .oneOf(1, 'a'),
          current<&Surge::current_A>("current", above(0, 1000), "or in amperes (manual)")
              .required()
              .oneOf(1, 'b'),
          quantity<&Surge::lasts_s>("lasts", Dim::duration, above(0, kHour_s),
                                    "for how long (manual)")
              .required(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<Charger>() {
  static const Spec spec{
      "a charger",
      {
          quantity<&Charger::outputCurrent_A>("output_current", Dim::current, above(0, 2000),
                                              "into the bank, at its voltage (label, settings)")
              .required(),
          // From memory: 0.85 to 0.93.
          share<&Charger::efficiency>("efficiency", between(0.5, 1), "output / input (data sheet)")
              .typically(0.88, 0.85, 0.93, "88 %, range 85 % to 93 %"),
          current<&Charger::inputLimit_A>("input_limit", above(0, 500),
                                          "most it takes from generator or shore (settings)"),
          word<&Charger::makesRoom>("makes_room", kNoYes,
                                    "takes only what the generator has left (settings)")
              .byDefault(0, "no"),
          share<&Charger::heatInside>("heat_inside", between(0, 1),
                                      "of its losses, what warms the cabin (where it sits)")
              .from<&halfHeatInside<Charger>>("with a thermostat: 50 %, range 0 % to 100 %")
              .seldom(),
          // Corrected chargers reach 0.95 and more, plain ones 0.6 to 0.7 (from memory).
          share<&Charger::powerFactor>("power_factor", between(0.3, 1),
                                       "loads the generator's volt-amperes (data sheet)")
              .typically(0.95, 0.60, 1.0, "95 %, range 60 % to 100 %")
              .seldom(),
          // Common practice, no source: charge current ramps in, so that a small set does not
          // stall.
          quantity<&Charger::ramp_s>("ramp", Dim::duration, between(0, kHour_s),
                                     "from its connection to full output (manual, or time it)")
              .typically(60, 30, 120, "60 s, range 30 s to 2 min")
              .seldom(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<Alternator>() {
  static const Spec spec{
      "an alternator",
      {
          quantity<&Alternator::outputCurrent_A>("output_current", Dim::current, above(0, 1000),
                                                 "into the bank, at its voltage (charger's label)")
              .required(),
          value<&Alternator::hours>("hours", Kind::hours, "when you drive (your plan)").required(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<Shore>() {
  static const Spec spec{
      "shore power",
      {
          value<&Shore::hours>("hours", Kind::hours, "when it is plugged in (your plan)")
              .required(),
          current<&Shore::limit_A>("limit", above(0, 500), "of the socket (its breaker)")
              .from<&shoreLimit>("30 A at 120 V, range 15 A to 50 A; 16 A at 230 V"),
      },
      ""};
  return spec;
}

}  // namespace nightbank::scenario
