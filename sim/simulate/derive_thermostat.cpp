#include "derive_cabin.h"

#include "nightbank/weather/humid_air.h"

namespace nightbank {
namespace {

/// Indoors at a reading that tells of no more: 24 degC at a wet bulb of 17 degC, a cooled room.
constexpr double kReadingIndoor_degC = 24.0, kReadingWetBulb_degC = 17.0;

}  // namespace

void deriveThermostat(const scenario::AirConditioner& unit, const AcPower& fan, const Plant& plant,
                      AirConditionerPlant& derived) {
  derived.compressor = {derived.running.real_W - fan.real_W,
                        derived.running.reactive_VA - fan.reactive_VA};
  derived.fanHeat_W = unit.fan->heatInside.value * derived.fanOnly.real_W;
  ThermostatPlant& own = derived.thermostat;
  for (const scenario::ThermostatSpan& span : unit.thermostat)
    own.coolTo_degC.push_back(span.coolTo_degC.value);
  const scenario::CoolingUnit details = unit.coolingUnit.value_or(scenario::CoolingUnit{});
  own.band_K = details.band_K.value;
  own.sensorOffset_K = details.sensorReads_K.value;
  own.leastOn_s = details.leastOn_s.value;
  own.leastOff_s = details.leastOff_s.value;
  own.delivered = 1.0 - details.ductLoss.value;
  own.cooling =
      coolingParams(static_cast<CurveSet>(details.curves.value), unit.cooling_W.value,
                    details.sensibleShare.value, details.fouling_K.value, plant.cabin.pressure_Pa);
  derived.readingRatio =
      coolingAt(own.cooling, kReadingIndoor_degC,
                wetBulbRatio(kReadingIndoor_degC, kReadingWetBulb_degC, plant.cabin.pressure_Pa),
                unit.running.outdoor_degC.value)
          .powerRatio;
}

}  // namespace nightbank
