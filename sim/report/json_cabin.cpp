#include "json_parts.h"
#include <nlohmann/json.hpp>

namespace nightbank::report {

int startsOfAllUnits(const Night& night) {
  int starts = 0;
  for (const AirConditionerOutcome& unit : night.recorder.airConditioners)
    starts += unit.starts;
  return starts;
}

Json cabinOf(const Night& night) {
  double compressor_s = 0.0;
  for (const AirConditionerOutcome& unit : night.recorder.airConditioners)
    compressor_s += unit.compressor_s;
  const CabinOutcome& cabin = night.outcome.cabin;
  const Coast& coast = night.coast;
  const auto known = [&](double value, int digits) {
    return maybe(cabin.isSimulated ? value : kNever_s, digits, "cabin");
  };
  return {{"highest_degC", known(cabin.highest_degC, 3)},
          {"highest_occupied_degC", known(cabin.highestOccupied_degC, 3)},
          {"lowest_degC", known(cabin.lowest_degC, 3)},
          {"too_warm_minutes", known(cabin.tooWarm_s / kMinute_s, 3)},
          {"too_warm_kelvin_hours", known(cabin.tooWarm_K_s / kHour_s, 4)},
          {"ventilated_minutes", known(cabin.ventilated_s / kMinute_s, 3)},
          {"highest_humidity", known(cabin.wettest, 4)},
          {"start_degC", known(cabin.start.temperatures.air_degC, 3)},
          {"start_walls_degC", known(cabin.start.temperatures.mass_degC, 3)},
          {"if_cooling_stops",
           {{"at", moment(night.plant, coast.from_s)},
            {"minutes_to_32_degC", known(coast.toHot_s / kMinute_s, 2)},
            {"minutes_to_40_degC", known(coast.toDangerous_s / kMinute_s, 2)}}},
          {"heat_Wh",
           {{"outdoors", known(cabin.outdoors_J / kWattHour_J, 3)},
            {"sun_and_sky", known(cabin.weather_J / kWattHour_J, 3)},
            {"people_and_machines", known(cabin.given_J / kWattHour_J, 3)},
            {"cooling", known(cabin.cooling_J / kWattHour_J, 3)},
            {"drying", known(cabin.latent_J / kWattHour_J, 3)},
            {"dried_off_coils", known(cabin.wetCoils.evaporated_J / kWattHour_J, 3)},
            {"stored", known(cabin.stored_J / kWattHour_J, 3)},
            {"closure_error", known(cabin.closureError, 15)}}},
          {"compressor_hours", decimals(compressor_s / kHour_s, 6, "cabin.compressor_hours")},
          {"compressor_starts", startsOfAllUnits(night)}};
}

}  // namespace nightbank::report
