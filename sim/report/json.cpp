#include "nightbank/report/json.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "json_parts.h"
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "nightbank/report/cautions.h"
#include "nightbank/report/figures.h"
#include "nightbank/report/fuel.h"
#include "nightbank/report/reasons.h"
#include "nightbank/report/words.h"
#include "nightbank/simulate/simulate.h"
#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

Json verdictOf(const Answer& answer) {
  return {{"level", levelWord(answer.level)},
          {"sentence", verdictSentence(answer)},
          {"limited_by", limitedBy(answer)},
          {"grade", gradeWord(answer.grade)}};
}

Json subjectsOf(const Judgement& judged) {
  return {{"bank", levelWord(judged.bank)},     {"rating", levelWord(judged.rating)},
          {"starts", levelWord(judged.starts)}, {"service", levelWord(judged.service)},
          {"rules", levelWord(judged.rules)},   {"comfort", levelWord(judged.comfort)}};
}

Json readingOf(const Night& night, const MonitorReading& reading) {
  return {{"at", moment(night.plant, reading.at_s)},
          {"shown", decimals(reading.shown, 6, "bank.monitor.shown")},
          {"soc", decimals(reading.soc, 6, "bank.monitor.soc")}};
}

Json monitorOf(const Night& night) {
  if (!night.monitor)
    return nullptr;
  Json resets = Json::array();
  for (const MonitorReading& reset : night.monitor->resets)
    resets.push_back(readingOf(night, reset));
  return {{"lowest", readingOf(night, night.monitor->lowest)},
          {"farthest", readingOf(night, night.monitor->farthest)},
          {"end", readingOf(night, night.monitor->end)},
          {"resets", resets}};
}

Json bankOf(const Night& night, const Wh& wh) {
  const BankOutcome& bank = night.outcome.bank;
  return {{"start", decimals(bank.startSoc, 6, "bank.start")},
          {"lowest", decimals(bank.lowestSoc, 6, "bank.lowest")},
          {"lowest_at", moment(night.plant, bank.lowestAt_s)},
          {"end", decimals(bank.endSoc, 6, "bank.end")},
          {"floor", decimals(bank.floorSoc, 6, "bank.floor")},
          {"floor_reached_at", moment(night.plant, bank.floorReachedAt_s)},
          {"spent_at", moment(night.plant, bank.spentAt_s)},
          {"usable_Wh", wh(bank.usable_J, "bank.usable_Wh")},
          {"margin_Wh", wh(bank.margin_J, "bank.margin_Wh")},
          {"monitor", monitorOf(night)}};
}

// A number, or null where there is none.
Json unitsOf(const Night& night, const Wh& wh) {
  Json units = Json::array();
  for (std::size_t i = 0; i < night.recorder.airConditioners.size(); ++i) {
    const AirConditionerOutcome& unit = night.recorder.airConditioners[i];
    units.push_back(
        {{"name", night.plant.airConditioners[i].name},
         {"wanted_hours", decimals(unit.wanted_s / kHour_s, 6, "wanted_hours")},
         {"compressor_hours", decimals(unit.compressor_s / kHour_s, 6, "compressor_hours")},
         {"compressor_starts", unit.starts},
         {"failed_starts", unit.failedStarts},
         {"unserved_Wh", wh(unit.unserved_J, "unserved_Wh")}});
  }
  return units;
}

// A name taken twice would hide an energy: the second gets a number.
void addLoad(Json& loads, const std::string& name, double energy_Wh) {
  std::string key = name;
  for (int i = 2; loads.contains(key); ++i)
    key = fmt::format("{} ({})", name, i);
  loads[key] = energy_Wh;
}

// Energies under the names of the parts that they belong to.
template <class Part>
Json byName(const std::vector<Part>& parts, const std::vector<double>& energies_J, const Wh& wh,
            std::string_view what) {
  Json object = Json::object();
  for (std::size_t i = 0; i < energies_J.size(); ++i)
    addLoad(object, parts[i].name, wh(energies_J[i], what));
  return object;
}

Json energyOf(const Night& night, const Wh& wh) {
  const EnergyOutcome& energy = night.outcome.energy_J;
  Json loads = Json::object();
  for (std::size_t i = 0; i < night.recorder.airConditioners.size(); ++i)
    addLoad(loads, night.plant.airConditioners[i].name,
            wh(night.recorder.airConditioners[i].energy_J, "loads"));
  for (std::size_t i = 0; i < night.recorder.loads_J.size(); ++i)
    addLoad(loads, night.plant.loads[i].name, wh(night.recorder.loads_J[i], "loads"));
  return {{"solar", wh(energy.solar, "solar")},
          {"arrays", byName(night.plant.arrays, night.recorder.arrays_J, wh, "arrays")},
          {"solar_curtailed", wh(energy.solarCurtailed, "solar_curtailed")},
          {"generator", wh(energy.generator, "generator")},
          {"shore", wh(energy.shore, "shore")},
          {"alternator", wh(energy.alternator, "alternator")},
          {"loads", loads},
          {"losses",
           {{"inverter", wh(energy.inverterLoss, "losses.inverter")},
            {"charger", wh(energy.chargerLoss, "losses.charger")},
            {"controller", wh(energy.controllerLoss, "losses.controller")},
            {"bank", wh(energy.bankLoss, "losses.bank")},
            {"self_discharge", wh(energy.selfDischarge, "losses.self_discharge")},
            {"wiring", wh(energy.wiringLoss, "losses.wiring")}}},
          {"unserved", wh(energy.unserved, "unserved")},
          {"bank_change", wh(energy.bankChange, "bank_change")},
          {"closure_error", finite(energy.closureError, "closure_error")},
          {"bank_closure_error", finite(energy.bankClosureError, "bank_closure_error")}};
}

Json tripsOf(const Night& night) {
  Json trips = Json::array();
  for (int i = 0; i < kSources; ++i) {
    const auto source = static_cast<Source>(i);
    const SourceOutcome& outcome = night.outcome.sources[static_cast<std::size_t>(source)];
    if (outcome.trips == 0)
      continue;
    Json trip = {{"source", sourceWord(source)},
                 {"trips", outcome.trips},
                 {"first_at", moment(night.plant, outcome.firstTripAt_s)},
                 {"shut_off", outcome.shutOff}};
    if (source == Source::bank || source == Source::charge) {
      trip["load_A"] = decimals(outcome.firstTripLoad_A, 1, "load_A");
      trip["limit_A"] = decimals(outcome.firstTripLimit_A, 1, "limit_A");
    } else {
      trip["load_VA"] = decimals(outcome.firstTripLoad_VA, 1, "load_VA");
      trip["limit_VA"] = decimals(outcome.firstTripLimit_VA, 1, "limit_VA");
    }
    trips.push_back(std::move(trip));
  }
  return trips;
}

Json eventsOf(const Night& night) {
  Json events = Json::array();
  for (const LoggedEvent& event : night.recorder.events) {
    events.push_back({{"at", moment(night.plant, event.at_s)},
                      {"event", eventWord(event.kind)},
                      {"reason", eventReasonWord(event)},
                      {"text", eventText(event)},
                      {"soc", decimals(event.soc, 6, "events.soc")}});
  }
  return events;
}

Json hoursOf(const Night& night, const Wh& wh) {
  Json hours = Json::array();
  for (const ClockRow& row : clockRows(night.plant, night.recorder.samples, kHour_s)) {
    const Sample& total = row.total;
    hours.push_back(
        {{"from", moment(night.plant, total.start_s)},
         {"minutes", decimals(total.span_s / kMinute_s, 4, "hours.minutes")},
         {"outdoor_degC", decimals(total.outdoor_degC, 2, "hours.outdoor_degC")},
         {"indoor_degC", maybe(total.indoor_degC, 3, "hours.indoor_degC")},
         {"duty", total.wanted_s > 0.0
                      ? Json(decimals(total.compressor_s / total.wanted_s, 6, "hours.duty"))
                      : Json()},
         {"air_conditioners_Wh", wh(total.airConditioners_J, "hours")},
         {"loads_Wh", wh(total.loads_J, "hours")},
         {"solar_Wh", wh(total.solar_J, "hours")},
         {"generator_Wh", wh(total.generator_J, "hours")},
         {"shore_Wh", wh(total.shore_J, "hours")},
         {"alternator_Wh", wh(total.alternator_J, "hours")},
         {"losses_Wh", wh(total.losses_J, "hours")},
         {"unserved_Wh", wh(total.unserved_J, "hours")},
         {"bank_Ah", decimals(total.bankCharge_As / kHour_s, 6, "hours.bank_Ah")},
         {"bank_V", decimals(total.bankVoltage_V, 4, "hours.bank_V")},
         {"soc", decimals(total.socEnd, 6, "hours.soc")},
         {"engine_minutes", decimals(total.engine_s / kMinute_s, 4, "hours.engine_minutes")},
         {"loaded_minutes", decimals(total.connected_s / kMinute_s, 4, "hours.loaded_minutes")},
         {"quiet_minutes", decimals(row.quiet_s / kMinute_s, 4, "hours.quiet_minutes")}});
  }
  return hours;
}

// What one run says, the verdict apart.
void addNight(Json& object, const Answer& answer, const Night& night) {
  const Wh wh(night.outcome.energy_J);
  object["subjects"] = subjectsOf(night.judgement);
  object["bank"] = bankOf(night, wh);
  object["generator"] = generatorOf(answer, night, wh);
  object["inverter"] = inverterOf(night);
  object["cabin"] = cabinOf(night);
  object["air_conditioners"] = unitsOf(night, wh);
  object["energy_Wh"] = energyOf(night, wh);
  object["starts"] = startsOf(night);
  object["overloads"] = tripsOf(night);
}

Json otherEndOf(const Answer& answer) {
  if (!answer.restingEnd)
    return nullptr;
  const Night& night = *answer.restingEnd;
  Json other = {{"compressor_rests", 0.6},
                {"verdict",
                 {{"level", levelWord(night.judgement.level)},
                  {"sentence", nightSentence(answer, night)},
                  {"limited_by", limitWord(night.judgement.limit)}}}};
  addNight(other, answer, night);
  return other;
}

Json weatherOf(const Answer& answer) {
  if (!answer.weatherDay)
    return nullptr;
  const WeatherDay& day = *answer.weatherDay;
  const std::string date = iso8601(static_cast<double>(daysSince1970(day.date)) * kDay_s, 0.0);
  constexpr std::size_t kYear = 5, kDate = 10;  // "2026-", "2026-07-14"
  const std::size_t from = day.isOfAnyYear ? kYear : 0;
  return {{"file", answer.resolved.weather->file->path},
          {"from_date", date.substr(from, kDate - from)},
          {"rank", day.rank > 0 ? Json(day.rank) : Json()},
          {"nights", day.rank > 0 ? Json(day.nights) : Json()}};
}

Json guessOf(const Guess& guess, const Wh& wh) {
  return {{"path", guess.path},
          {"typical", guess.typical},
          {"bad_end", guess.badEnd},
          {"level", levelWord(guess.level)},
          {"margin_moved_Wh", wh(guess.marginMoved_J, "guesses.margin_moved_Wh")}};
}

Json guessesOf(const Answer& answer) {
  const Wh wh(answer.night.outcome.energy_J);
  Json list = Json::array();
  for (const Guess& guess : answer.guesses)
    list.push_back(guessOf(guess, wh));
  return {{"deciding", answer.deciding ? guessOf(*answer.deciding, wh) : Json()},
          {"all_bad_ends", levelWord(answer.allBadEnds)},
          {"values", list}};
}

Json warningsOf(const Answer& answer, std::span<const Warning> ofReader) {
  std::vector<Warning> all(ofReader.begin(), ofReader.end());
  const std::vector<Warning> ofAnswer = warnings(answer);
  all.insert(all.end(), ofAnswer.begin(), ofAnswer.end());
  Json list = Json::array();
  for (const Warning& warning : all)
    list.push_back({{"about", warning.about}, {"text", warning.text}});
  return list;
}

}  // namespace

std::string json(const Answer& answer, std::span<const Warning> ofReader) {
  const Plant& plant = answer.night.plant;
  Json object;
  object["title"] = plant.title;
  object["verdict"] = verdictOf(answer);
  object["smallest_change"] = turnOf(answer, Wh(answer.night.outcome.energy_J));
  object["period"] = {{"from", moment(plant, 0.0)}, {"to", moment(plant, plant.span_s)}};
  object["weather"] = weatherOf(answer);
  object["duty_known"] = !answer.restingEnd.has_value();
  addNight(object, answer, answer.night);
  object["cost"] = costOfNight(answer, answer.night);
  addTrip(object, answer, answer.night);
  object["other_end"] = otherEndOf(answer);
  object["guesses"] = guessesOf(answer);
  object["warnings"] = warningsOf(answer, ofReader);
  object["cautions"] = cautions(answer);
  object["events"] = eventsOf(answer.night);
  object["hours"] = hoursOf(answer.night, Wh(answer.night.outcome.energy_J));
  return object.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace nightbank::report
