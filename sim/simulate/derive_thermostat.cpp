#include <stdexcept>

#include "derive_cabin.h"

#include "nightbank/simulate/derive.h"
#include "nightbank/simulate/wet_coil.h"
#include "nightbank/weather/humid_air.h"

namespace nightbank {
namespace {

/// Indoors at a reading that tells of no more: 24 degC at a wet bulb of 17 degC, a cooled room.
constexpr double kReadingIndoor_degC = 24.0, kReadingWetBulb_degC = 17.0;

CoolingParams coolingOf(const scenario::AirConditioner& unit, const scenario::CoolingUnit& details,
                        const AirConditionerPlant& derived, const Plant& plant) {
  CoolingRating rating;
  rating.set = static_cast<CurveSet>(details.curves.value);
  rating.rated_W = unit.cooling_W.value;
  rating.sensibleShare = details.sensibleShare.value;
  rating.fouling_K = details.fouling_K.value;
  rating.pressure_Pa = plant.cabin.pressure_Pa;
  // Of compressor and fan together, and the fan does not feel the heat.
  rating.flatPower_1_K =
      unit.running.powerPerKelvin.value * derived.running.real_W / derived.compressor.real_W;
  rating.flatAt_degC = unit.running.outdoor_degC.value;
  try {
    return coolingParams(rating);
  } catch (const std::invalid_argument& why) {
    throw Underivable("air_conditioners." + unit.name + ".details.sensible_share", why.what());
  }
}

WetCoilPlant wetCoilOf(const scenario::CoolingUnit& details, const ThermostatPlant& unit,
                       double pressure_Pa) {
  const Cooling rated = coolingAt(unit.cooling, kRatedIndoor_degC,
                                  wetBulbRatio(kRatedIndoor_degC, kRatedWetBulb_degC, pressure_Pa),
                                  kRatedOutdoor_degC);
  return wetCoil(unit.delivered * (rated.total_W - rated.sensible_W), details.coilHolds_s.value,
                 details.coilDries.value, kRatedIndoor_degC - kRatedWetBulb_degC);
}

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
  own.cooling = coolingOf(unit, details, derived, plant);
  if (unit.fan->mode.value == scenario::FanMode::on)
    own.wetCoil = wetCoilOf(details, own, plant.cabin.pressure_Pa);
  derived.readingRatio =
      coolingAt(own.cooling, kReadingIndoor_degC,
                wetBulbRatio(kReadingIndoor_degC, kReadingWetBulb_degC, plant.cabin.pressure_Pa),
                unit.running.outdoor_degC.value)
          .powerRatio;
}

}  // namespace nightbank
