#include <algorithm>
#include <array>

#include "build.h"
#include "cabin_lines.h"

#include "nightbank/units/constants.h"

namespace nightbank::scenario {
namespace {

using namespace build;

/// Whether a fan goes on while its compressor rests: only then a coil dries into the cabin.
bool fanGoesOn(const Scenario& scenario) {
  return std::ranges::any_of(scenario.airConditioners, [](const AirConditioner& unit) {
    return unit.fan && unit.fan->mode.value == FanMode::on;
  });
}

// The latent degradation model of the US DOE's building energy program: 1000 to 2000 s, and 1.5.
Typical coilHolds(const Scenario& soFar, const CoolingUnit&) {
  return fanGoesOn(soFar) ? Typical{1000, 1000, 2000} : Typical{1000, 1000, 1000};
}

constexpr std::array<std::string_view, 4> kCurves = {"window", "packaged", "split", "flat"};

}  // namespace

template <>
const Spec& specOf<CoolingUnit>() {
  static const Spec spec{
      "the details of a cooling unit",
      {
          word<&CoolingUnit::curves>(
              "curves", kCurves,
              "whose cooling and draw follow the weather the same way; flat: "
              "neither follows it (kind of the unit)")
              .typically(1, 0, 2, "packaged, other ends window and split"),
          // Rated sensible heat ratios: 0.75 to 0.80 in building-energy example data.
          share<&CoolingUnit::sensibleShare>(
              "sensible_share", between(0.5, 1),
              "of its rated cooling, what cools and does not dry (data sheet)")
              .typically(0.77, 0.70, 0.82, "77 %, range 70 % to 82 %"),
          // Electronic thermostats +-0.5 K, mechanical ones of rooftop units 1 to 2 K; from memory.
          quantity<&CoolingUnit::band_K>("band", Dim::difference, between(0.2, 6),
                                         "from where it starts to where it stops (watch it)")
              .typically(1.0, 0.6, 2.0, "1 K, range 0.6 K to 2 K"),
          quantity<&CoolingUnit::sensorReads_K>(
              "sensor_reads", Dim::difference, between(-5, 5),
              "what the thermostat reads above the air of the cabin (thermometer beside it)")
              .typically(0.0, 0.0, 1.5, "0 K, range 0 K to 1.5 K"),
          quantity<&CoolingUnit::leastOff_s>("least_off", Dim::duration, between(0, 1800),
                                             "rest between two starts (manual)")
              .typically(180, 120, 300, "180 s, range 120 s to 300 s"),
          quantity<&CoolingUnit::leastOn_s>("least_on", Dim::duration, between(0, 1800),
                                            "shortest run (manual)")
              .typically(60, 0, 180, "60 s, range 0 s to 180 s"),
          // Short-circuiting air and ducts under a hot roof take 10 to 15 %; none without ducts.
          share<&CoolingUnit::ductLoss>("duct_loss", between(0, 0.6),
                                        "cooling lost in ducts or blown back into the return "
                                        "(thermometers at vent and return)")
              .typically(0.05, 0.0, 0.15, "5 %, range 0 % to 15 %"),
          // A dirty coil, or a shroud in the sun, works as if it were 5 to 11 K hotter outside.
          quantity<&CoolingUnit::fouling_K>("fouling", Dim::difference, between(0, 25),
                                            "what dirt or a hot shroud adds to the outdoor air at "
                                            "its coil (thermometer there)")
              .typically(0.0, 0.0, 5.0, "0 K, range 0 K to 5 K"),
          quantity<&CoolingUnit::coilHolds_s>(
              "coil_holds", Dim::duration, between(0, kHour_s),
              "water on its coil, as the time in which it condenses at the rating; a fan that is "
              "on dries it into the cabin (catch what drains)")
              .from<&coilHolds>("1000 s; range to 2000 s with a fan that is on")
              .seldom(),
          quantity<&CoolingUnit::coilDries>(
              "coil_dries", Dim::number, between(0, 10),
              "how fast that fan dries a full coil at first, against how fast it condensed "
              "(hygrometer)")
              .byDefault(1.5, "1.5")
              .seldom(),
      },
      ""};
  return spec;
}

}  // namespace nightbank::scenario
