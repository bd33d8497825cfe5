#pragma once

#include <cmath>
#include <string_view>

#include <nlohmann/json_fwd.hpp>

#include "nightbank/report/report.h"
#include "nightbank/study/answer.h"
#include "nightbank/units/constants.h"

/// What the parts of the JSON share, and the parts that have a file of their own.
namespace nightbank::report {

using Json = nlohmann::ordered_json;

/// The number, never "-0.0". @throws InternalError naming `what` where it is not finite
double finite(double value, std::string_view what);

/// To decimals that mean something; the shortest text that reads back as the number is printed.
double decimals(double value, int count, std::string_view what);

/// The same; null for NaN.
Json maybe(double value, int count, std::string_view what);

/// Local ISO 8601; null for what did not happen.
Json moment(const Plant& plant, double at_s);

/// Energies rounded so finely that the printed ones still balance to some 1e-8 of what came in.
struct Wh {
  double scale = 1e6;

  explicit Wh(const EnergyOutcome& energy) {
    const double throughput_Wh = (energy.solar + energy.generator + energy.shore +
                                  energy.alternator + std::abs(energy.bankChange)) /
                                 kWattHour_J;
    if (std::isfinite(throughput_Wh) && throughput_Wh > 0.0)
      scale = std::pow(10.0, 9.0 - std::floor(std::log10(throughput_Wh)));
  }

  double operator()(double energy_J, std::string_view what) const {
    return finite(std::round(finite(energy_J, what) / kWattHour_J * scale) / scale, what);
  }
};

/// Compressor starts of all units, those that failed left out.
int startsOfAllUnits(const Night& night);
/// How they were tested, and what came of it.
Json startsOf(const Night& night);
Json cabinOf(const Night& night);
Json inverterOf(const Night& night);
/// `days` and `trip`, null for a single night.
void addTrip(Json& object, const Answer& answer, const Night& night);
/// Null where the scenario has no prices.
Json costOfNight(const Answer& answer, const Night& night);
/// The change that turns the answer; null where none was looked for.
Json turnOf(const Answer& answer, const Wh& wh);
Json generatorOf(const Answer& answer, const Night& night, const Wh& wh);

}  // namespace nightbank::report
