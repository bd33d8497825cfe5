#pragma once

#include <vector>

#include "build.h"

#include "nightbank/scenario/chemistry.h"

/// The bank's field list in parts, and what their typical values share.
namespace nightbank::scenario::build {

std::vector<Field> voltageLines();     ///< voltage under load
std::vector<Field> chargeLines();      ///< charging, self-discharge, temperature
std::vector<Field> protectionLines();  ///< temperature, heater, low trip
std::vector<Field> rateLines();        ///< how capacity shrinks with current

/// One value per chemistry.
struct ByChemistry {
  Typical flooded, agm, gel, lfp;

  const Typical& operator()(const Bank& bank) const {
    switch (bank.chemistry.value) {
      case Chemistry::flooded:
        return flooded;
      case Chemistry::agm:
        return agm;
      case Chemistry::gel:
        return gel;
      case Chemistry::lfp:
        return lfp;
    }
    return lfp;
  }
};

inline bool isLfp(const Bank& bank) {
  return bank.chemistry.value == Chemistry::lfp;
}

inline Typical scaled(const Typical& typical, double factor) {
  return {typical.value * factor, typical.low * factor, typical.high * factor};
}

inline Typical exactly(double value, Grade grade = Grade::typical) {
  return {value, value, value, grade};
}

/// What is of no weight is no guess.
inline Typical orDefault(bool isGuess, const Typical& typical) {
  return isGuess ? typical : exactly(typical.value);
}

inline double units(const Bank& bank) {
  return twelveVoltUnits(bank.chemistry.value, bank.voltage_V.value);
}

inline bool isCharged(const Scenario& scenario) {
  return scenario.charger || scenario.alternator || !scenario.solar.empty();
}

}  // namespace nightbank::scenario::build
