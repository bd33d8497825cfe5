#include <algorithm>
#include <cmath>
#include <iterator>

#include "bank_lines.h"

#include "nightbank/units/constants.h"

namespace nightbank::scenario {
namespace build {
namespace {

// A bank is heavy: it sits at the day's mean, between its ends.
Typical temperature(const Scenario& soFar, const Bank&) {
  if (!soFar.weather)
    return {25.0, 15.0, 35.0};
  if (soFar.weather->file && !std::isnan(soFar.weather->file->low_degC)) {
    const WeatherFile& file = *soFar.weather->file;
    return {0.5 * (file.low_degC + file.high_degC), file.low_degC, file.high_degC};
  }
  if (soFar.weather->designDay) {
    const DesignDay& day = *soFar.weather->designDay;
    return {0.5 * (day.high_degC.value + day.low_degC.value), day.low_degC.value,
            day.high_degC.value};
  }
  if (soFar.weather->constant)
    return exactly(soFar.weather->constant->temperature_degC.value);
  return {25.0, 15.0, 35.0};
}

// Common practice, no source: tens of kilograms in a box.
Typical warmsIn(const Scenario&, const Bank&) {
  return exactly(6.0 * kHour_s);
}

// LFP: 0 to 45 degC (data sheet, firmware of battery management systems). AGM: 0 to 40 degC on its
// data sheet, which no charger enforces; lead is held back only by ice and by heat that dries it
// out (from memory).
Typical coldestCharge(const Scenario&, const Bank& bank) {
  return exactly(isLfp(bank) ? 0.0 : -20.0);
}

Typical hottestCharge(const Scenario&, const Bank& bank) {
  return exactly(isLfp(bank) ? 45.0 : 55.0);
}

// LFP: 2.5 V a cell (firmware of battery management systems, seen). Lead has none.
Typical lowTrip(const Scenario&, const Bank& bank) {
  return exactly(isLfp(bank) ? 10.0 * units(bank) : 0.0);
}

// LFP: 3.65 V a cell, free again at 3.35 V (firmware of battery management systems, from memory).
// Lead has none.
Typical highTrip(const Scenario&, const Bank& bank) {
  return isLfp(bank) ? exactly(14.6 * units(bank)) : Typical{};
}

// The same cells; always some way below a trip that was given.
Typical highReconnect(const Scenario&, const Bank& bank) {
  if (!bank.highTrip_V.known())
    return {};
  return exactly(std::min(13.4 * units(bank), bank.highTrip_V.value - 0.2 * units(bank)));
}

// Firmware of battery management systems: 30 to 60 s (from memory).
Typical protectionReset(const Scenario&, const Bank& bank) {
  return orDefault(!bank.currentLimits.empty() || !bank.chargeCurrentLimits.empty(), {60, 30, 120});
}

std::vector<Field> tripLines() {
  return {
      quantity<&Bank::lowTrip_V>("low_trip", Dim::voltage, between(0, 1000),
                                 "of the whole bank: the protection takes it off below (manual)")
          .from<&lowTrip>("lfp 10 V per 12.8 V; lead none")
          .seldom(),
      quantity<&Bank::highTrip_V>("high_trip", Dim::voltage, above(0, 1000),
                                  "of the whole bank: above it the protection stops the charge "
                                  "(manual)")
          .from<&highTrip>("14.6 V per 12.8 V where it is lfp; lead none")
          .seldom(),
      quantity<&Bank::highReconnect_V>("high_reconnect", Dim::voltage, above(0, 1000),
                                       "below it a stopped charge goes on (manual)")
          .from<&highReconnect>("13.4 V per 12.8 V where there is a high_trip")
          .seldom(),
      list<&Bank::currentLimits>("current_limit",
                                 "what the protection lets out, and how long; none where left out")
          .seldom(),
      list<&Bank::chargeCurrentLimits>(
          "charge_current_limit",
          "what it lets in, and how long; then it stops the charge; none where left out")
          .seldom(),
      quantity<&Bank::protectionReset_s>("protection_reset", Dim::duration, between(10, kHour_s),
                                         "from a trip until the protection closes again (manual)")
          .from<&protectionReset>("60 s, range 30 s to 120 s")
          .seldom(),
  };
}

}  // namespace

std::vector<Field> protectionLines() {
  std::vector<Field> lines = {
      quantity<&Bank::temperature_degC>("temperature", Dim::temperature, between(-40, 60),
                                        "of the batteries (stick-on thermometer)")
          .from<&temperature>("mean of the day's high and low, range low to high"),
      quantity<&Bank::warmsIn_s>(
          "warms_in", Dim::duration, between(kMinute_s, 48 * kHour_s),
          "two thirds of a change of the air, where no temperature is given (thermometer)")
          .usually("h")
          .from<&warmsIn>("6 h")
          .seldom(),
      quantity<&Bank::coldestCharge_degC>("coldest_charge", Dim::temperature, between(-40, 30),
                                          "below it no charge goes in until 5 K above (manual)")
          .from<&coldestCharge>("lfp 0 degC; lead -20 degC")
          .seldom(),
      quantity<&Bank::hottestCharge_degC>("hottest_charge", Dim::temperature, between(30, 90),
                                          "above it no charge goes in until 5 K below (manual)")
          .from<&hottestCharge>("lfp 45 degC; lead 55 degC")
          .seldom(),
      part<&Bank::heater>("heater", "warms the batteries, from the bank itself").seldom(),
  };
  std::ranges::copy(tripLines(), std::back_inserter(lines));
  return lines;
}

}  // namespace build

using namespace build;

template <>
const Spec& specOf<CurrentLimit>() {
  static const Spec spec{
      "a current limit",
      {
          quantity<&CurrentLimit::current_A>("current", Dim::current, between(1, 20e3),
                                             "of the whole bank, at its voltage (manual)")
              .required(),
          quantity<&CurrentLimit::lasts_s>("lasts", Dim::duration, between(0.001, kHour_s),
                                           "that long before it trips (manual)")
              .required(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<Heater>() {
  static const Spec spec{
      "a battery heater",
      {
          quantity<&Heater::power_W>("power", Dim::power, above(0, 5000), "while on (label)")
              .required(),
          quantity<&Heater::lifts_K>("lifts", Dim::difference, above(0, 80),
                                     "above the air around, once on for long (thermometer)")
              .required(),
          value<&Heater::hours>("hours", Kind::hours, "switched on (your plan)").required(),
      },
      ""};
  return spec;
}

}  // namespace nightbank::scenario
