#include "derive_array.h"

#include <algorithm>

namespace nightbank {
namespace {

/// A controller that steps the voltage down needs this much more than it gives.
/// `common practice, no source`
constexpr double kStepDownHeadroom_V = 1.0;

/// Module rise over air per irradiance. [K m2/W] After the mounting classes of Skoplaki and Palyvos
/// (2009): free-standing 0.021, ventilated flat roof 0.026, poorly ventilated 0.034, none 0.056.
double rossOf(scenario::Mounting mounting) {
  switch (mounting) {
    case scenario::Mounting::rack:
      return 0.021;
    case scenario::Mounting::raised:
      return 0.030;
    case scenario::Mounting::close:
      return 0.040;
    case scenario::Mounting::glued:
      return 0.056;
  }
  return 0.030;
}

StringVoltage stringOf(const scenario::Array& array) {
  if (!array.maximumPower_V.known())
    return {};
  const double count = array.inSeries.value;
  return {.maximumPower_V = count * array.maximumPower_V.value,
          .openCircuit_V = count * array.openCircuit_V.value,
          .maximumPower_1_K = array.temperatureCoefficient_1_K.value - kCurrentCoefficient_1_K,
          .openCircuit_1_K = array.openCircuitCoefficient_1_K.value};
}

std::vector<ShadeWindow> shadesOf(const scenario::Array& array, const Plant& plant) {
  const auto intervalsOf = [&](const scenario::Hours& hours) {
    return hours ? occurrences(*hours, plant.start_s, plant.span_s)
                 : std::vector<Interval>{{0.0, plant.span_s}};
  };
  std::vector<ShadeWindow> shades;
  for (const scenario::Shade& shade : array.shade)
    shades.push_back({intervalsOf(shade.hours), shade.share.value});
  // Stowed is as good as shaded.
  shades.push_back({complement(intervalsOf(array.hours), plant.span_s), 1.0});
  return shades;
}

}  // namespace

std::vector<ArrayOnRoof> arraysOf(const scenario::Scenario& scenario, const Plant& plant) {
  std::vector<ArrayOnRoof> arrays;
  for (const scenario::Array& array : scenario.solar) {
    const double clean = array.soiling.known() ? 1.0 - array.soiling.value : 1.0;
    ArrayOnRoof made;
    made.params = {array.rated_W.value, array.derate.value * clean, array.conversion.value,
                   array.temperatureCoefficient_1_K.value, rossOf(array.mounting.value)};
    made.string = stringOf(array);
    made.isTied = array.controller.value == scenario::Controller::pwm;
    made.needed_V = plant.bank.absorption_V + (made.isTied ? 0.0 : kStepDownHeadroom_V);
    made.tilt_deg = array.tilt_deg.value;
    made.facing_deg = array.facing_deg.value;
    made.shades = shadesOf(array, plant);
    arrays.push_back(std::move(made));
  }
  return arrays;
}

double unshadedAt(const ArrayOnRoof& array, double t_s) {
  double lost = 0.0;
  for (const ShadeWindow& shade : array.shades)
    if (covering(shade.hours, t_s) != nullptr)
      lost = std::max(lost, shade.share);
  return 1.0 - lost;
}

ArrayOutput outputOf(const ArrayOnRoof& array, double irradiance_W_m2, double air_degC) {
  const double most = array.isTied
                          ? tiedCurrent_A(array.params, array.string, irradiance_W_m2, air_degC)
                          : arrayPower_W(array.params, irradiance_W_m2, air_degC);
  const double cell_degC =
      moduleTemperature_degC(air_degC, irradiance_W_m2, array.params.ross_K_m2_W);
  const double share = currentShareAt(array.string, array.needed_V, cell_degC);
  return {most * share, most > 0.0 && share < 1.0};
}

}  // namespace nightbank
