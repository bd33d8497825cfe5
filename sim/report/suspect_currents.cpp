#include <cmath>

#include <fmt/format.h>

#include "nightbank/report/text.h"
#include "nightbank/report/warnings.h"

namespace nightbank::report {
namespace {

// What such a part draws, wide enough to catch only a mistaken voltage. `common practice, no
// source`
struct Plausible {
  double least_W, most_W;
};

constexpr Plausible kAirConditioner{250.0, 5000.0};
constexpr Plausible kLoad{0.0, 4000.0};
// An input limit against the charger's own output; a feeder may well allow far more.
constexpr double kLeastChargerShare = 0.2, kMostChargerShare = 20.0;

bool isWithin(const Plausible& range, double power_W) {
  return power_W >= range.least_W && power_W <= range.most_W;
}

struct Voltages {
  double mains_V, bank_V;
};

// The warning, where the power is implausible as given and plausible at the other voltage.
void check(std::vector<Warning>& found, const Voltages& voltages, std::string path,
           const scenario::CurrentAt& current_A, const Plausible& range) {
  if (!current_A.given || !current_A.known())
    return;
  const double at_V = std::isnan(current_A.at_V) ? voltages.mains_V : current_A.at_V;
  const double other_V = at_V > 0.5 * voltages.mains_V ? voltages.bank_V : voltages.mains_V;
  const double power_W = current_A.value * at_V, other_W = current_A.value * other_V;
  if (isWithin(range, power_W) || !isWithin(range, other_W))
    return;
  found.push_back(
      {std::move(path), fmt::format("{} at {} is {}: did you mean {}, where it is {}?",
                                    format(current_A.value, Dim::current),
                                    format(at_V, Dim::voltage), format(power_W, Dim::power),
                                    format(other_V, Dim::voltage), format(other_W, Dim::power))});
}

}  // namespace

std::vector<Warning> suspectCurrents(const scenario::Scenario& resolved, double bank_V) {
  const Voltages voltages{resolved.mains_V.value, bank_V};
  std::vector<Warning> found;
  for (const auto& unit : resolved.airConditioners)
    check(found, voltages, fmt::format("air_conditioners.{}.running.current", printable(unit.name)),
          unit.running.current_A, kAirConditioner);
  for (const auto& load : resolved.loads)
    check(found, voltages, fmt::format("loads.{}.current", printable(load.name)), load.current_A,
          kLoad);
  if (resolved.charger) {
    const double output_W = resolved.charger->outputCurrent_A.value * bank_V;
    check(found, voltages, "charger.input_limit", resolved.charger->inputLimit_A,
          {kLeastChargerShare * output_W, kMostChargerShare * output_W});
  }
  return found;
}

}  // namespace nightbank::report
