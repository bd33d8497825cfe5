#include <cmath>

#include "json_parts.h"
#include <nlohmann/json.hpp>

#include "nightbank/report/money.h"
#include "nightbank/study/trip.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

Json litres(double volume_m3, std::string_view what) {
  return decimals(volume_m3 / kLitre_m3, 4, what);
}

Json dayOf(const Night& night, const TripDay& day) {
  Json runs = Json::array(), refuelled = Json::array();
  for (const GeneratorRun& run : day.runs)
    runs.push_back({{"from", moment(night.plant, run.from_s)},
                    {"to", moment(night.plant, run.to_s)},
                    {"fuel_L", litres(run.fuel_m3, "days.fuel_L")}});
  for (const double at_s : day.refuelledAt_s)
    refuelled.push_back(moment(night.plant, at_s));
  return {{"from", moment(night.plant, day.from_s)},
          {"to", moment(night.plant, day.to_s)},
          {"dawn", moment(night.plant, day.dawnAt_s)},
          {"dawn_soc", maybe(day.dawnSoc, 6, "days.dawn_soc")},
          {"dusk", moment(night.plant, day.duskAt_s)},
          {"dusk_soc", maybe(day.duskSoc, 6, "days.dusk_soc")},
          {"lowest_soc", decimals(day.lowestSoc, 6, "days.lowest_soc")},
          {"engine_hours", decimals(day.engine_s / kHour_s, 6, "days.engine_hours")},
          {"fuel_L", litres(day.fuel_m3, "days.fuel_L")},
          {"solar_Wh", decimals(day.solar_J / kWattHour_J, 3, "days.solar_Wh")},
          {"unserved_Wh", decimals(day.missing_J / kWattHour_J, 3, "days.unserved_Wh")},
          {"runs", runs},
          {"refuelled_at", refuelled}};
}

Json aheadOf(const Night& night, const Trip& trip) {
  if (!trip.hasAhead)
    return nullptr;
  const TripAhead& ahead = trip.ahead;
  return {{"days", decimals(ahead.days, 4, "ahead.days")},
          {"floor_reached_at", moment(night.plant, ahead.floorReachedAt_s)},
          {"engine_hours_a_day", decimals(ahead.enginePerDay_s / kHour_s, 4, "ahead.engine")},
          {"fuel_L_a_day", litres(ahead.fuelPerDay_m3, "ahead.fuel")},
          {"soc_drift", decimals(ahead.drift, 6, "ahead.drift")}};
}

}  // namespace

void addTrip(Json& object, const Answer& answer, const Night& night) {
  if (!isTrip(night.plant)) {
    object["days"] = nullptr;
    object["trip"] = nullptr;
    return;
  }
  const Trip trip = tripOf(answer, night);
  Json days = Json::array();
  for (const TripDay& day : trip.days)
    days.push_back(dayOf(night, day));
  object["days"] = days;
  object["trip"] = {{"fuel_L", litres(trip.fuel.used_m3, "trip.fuel_L")},
                    {"carried_L", litres(trip.fuel.carried_m3, "trip.carried_L")},
                    {"cans", trip.fuel.cans},
                    {"can_L", litres(kCan_m3, "trip.can_L")},
                    {"ahead", aheadOf(night, trip)}};
}

Json costOfNight(const Answer& answer, const Night& night) {
  if (!answer.resolved.prices)
    return nullptr;
  const Cost cost = costOf(answer, night);
  Json lines = Json::array(), notPriced = Json::array();
  for (const CostLine& line : cost.lines)
    lines.push_back({{"item", costWord(line.item)},
                     {"name", line.name.empty() ? Json() : Json(line.name)},
                     {"cost", decimals(line.cost, 4, "cost")}});
  for (const CostItem item : cost.notPriced)
    notPriced.push_back(costWord(item));
  return {{"currency", answer.resolved.prices->currency},
          {"lines", lines},
          {"total", decimals(cost.total, 4, "cost.total")},
          {"nights", cost.nights},
          {"cool_nights", cost.coolNights},
          {"per_cool_night", cost.coolNights > 0
                                 ? Json(decimals(cost.total / cost.coolNights, 4, "per_cool_night"))
                                 : Json()},
          {"bank_wear_by_cycles",
           cost.hasWear ? Json(decimals(cost.wear.byCycles, 9, "wear")) : Json()},
          {"bank_wear_by_calendar",
           cost.hasWear ? Json(decimals(cost.wear.byCalendar, 9, "wear")) : Json()},
          {"not_priced", notPriced}};
}

}  // namespace nightbank::report
