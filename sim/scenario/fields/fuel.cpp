#include <array>

#include "build.h"
#include <fmt/format.h>

#include "nightbank/units/constants.h"

namespace nightbank::scenario {
namespace {

using namespace build;

constexpr std::array<std::string_view, 2> kFuels = {"petrol", "propane"};

bool isPropane(const Fuel& fuel) {
  return fuel.kind.value == FuelKind::propane;
}

const Generator* ownerOf(const Scenario& scenario, const Fuel& fuel) {
  const bool isOwner =
      scenario.generator && scenario.generator->fuel && &*scenario.generator->fuel == &fuel;
  return isOwner ? &*scenario.generator : nullptr;
}

// One manual of a set for both fuels: 1200 W against 950 W running, 1750 W against 1200 W of surge
// (seen); by rule of thumb propane takes a tenth (from memory).
Typical ratingLeft(const Scenario&, const Fuel& fuel) {
  return isPropane(fuel) ? Typical{0.79, 0.79, 0.90} : Typical{1, 1, 1};
}

Typical surgeLeft(const Scenario&, const Fuel& fuel) {
  return isPropane(fuel) ? Typical{0.69, 0.69, 0.90} : Typical{1, 1, 1};
}

Typical tankOfCylinder(const Scenario&, const Fuel& fuel) {
  if (!fuel.cylinder_kg.given)
    return {};
  const double tank_m3 = fuel.cylinder_kg.value / kPropane_kg_m3;
  return {tank_m3, tank_m3, tank_m3, fuel.cylinder_kg.grade};
}

// A 1.6 kW four-stroke petrol set with throttle by load: 0.117 gal/h at a quarter, 0.297 gal/h at
// rated load (from memory), scaled by rated power; propane by heating value.
// `share`: of the usual rates.
std::vector<BurnRate> typicalBurns(const Fuel& fuel, double continuous_W, double share) {
  const double byHeat = isPropane(fuel) ? kPetrol_kWh_m3 / kPropane_kWh_m3 : 1.0;
  std::vector<BurnRate> burns;
  for (const auto& [load, rate_gal_h] : {std::pair{0.25, 0.117284}, std::pair{1.0, 0.296875}}) {
    BurnRate rate;
    rate.load.value = load;
    rate.rate_m3_s.value =
        share * byHeat * continuous_W / 1600.0 * rate_gal_h * kUsGallon_m3 / kHour_s;
    burns.push_back(rate);
  }
  return burns;
}

void fillBurns(const Scenario& soFar, Fuel& fuel) {
  const Generator* owner = ownerOf(soFar, fuel);
  if (owner != nullptr && fuel.burns.empty() && fuel.tankLasts.empty())
    fuel.burns = typicalBurns(fuel, owner->continuous_W.value, 1.0);
}

// Trade tables disagree by a third: 0.25 or 0.40 gal/h of a 2 kW set at full load (seen). Of weight
// only where a tank can run dry.
std::string otherBurns(const Scenario& soFar, const Fuel& fuel) {
  const Generator* owner = ownerOf(soFar, fuel);
  if (owner == nullptr || !fuel.tank_m3.known())
    return "";
  std::string text;
  for (const BurnRate& burn : typicalBurns(fuel, owner->continuous_W.value, 1.35))
    text +=
        fmt::format("{}{{load: {:.10g} %, rate: {:.10g} L/h typical}}", text.empty() ? "" : ", ",
                    100.0 * burn.load.value, burn.rate_m3_s.value * kHour_s / kLitre_m3);
  return fmt::format("[{}]", text);
}

std::vector<Field> kindLines() {
  return {
      word<&Fuel::kind>("kind", kFuels, "what the engine burns (label)").byDefault(0, "petrol"),
      quantity<&Fuel::tank_m3>("tank", Dim::volume, between(0.1 * kLitre_m3, 1),
                               "what it holds (manual)")
          .oneOf(2, 'a')
          .from<&tankOfCylinder>("that of the cylinder"),
      quantity<&Fuel::cylinder_kg>("cylinder", Dim::mass, between(0.1, 500),
                                   "or what a propane cylinder holds (stamp on it)")
          .oneOf(2, 'b'),
      share<&Fuel::ratingLeft>("rating_left", above(0, 1),
                               "of the running watts on this fuel (manual)")
          .from<&ratingLeft>("petrol 100 %; propane 79 %, range 79 % to 90 %")
          .seldom(),
      share<&Fuel::surgeLeft>("surge_left", above(0, 1), "of the surge on this fuel (manual)")
          .from<&surgeLeft>("petrol 100 %; propane 69 %, range 69 % to 90 %")
          .seldom(),
  };
}

}  // namespace

template <>
const Spec& specOf<Fuel>() {
  static const Spec spec = [] {
    Spec made{"fuel", kindLines(), ""};
    const std::vector<Field> others = {
        list<&Fuel::tankLasts>("tank_lasts", "hours on a full tank at a load, low idle on (manual)")
            .oneOf(1, 'a'),
        list<&Fuel::burns>("burns", "or fuel an hour at a load (manual, refill after a timed run)")
            .oneOf(1, 'b')
            .filledBy<&fillBurns>("per kW 0.28 L/h at 25 %, 0.70 L/h at 100 % load of petrol, up "
                                  "to 35 % more")
            .upTo<&otherBurns>(),
        // Yes by default: who plans for a tank has the can beside it. Filled when less than half is
        // left, the engine cool and somebody awake.
        word<&Fuel::refuel>("refuel", kNoYes, "somebody awake tops up the tank (your plan)")
            .byDefault(1, "yes"),
        // Municipal fire guidance: a quarter of an hour.
        quantity<&Fuel::coolsFor_s>("cools_for", Dim::duration, between(0, kDay_s),
                                    "engine off before it is filled (fire guidance)")
            .usually("min")
            .byDefault(900, "15 min")
            .seldom(),
        value<&Fuel::price_per_m3>("price", Kind::price, "in your currency (pump)").seldom(),
    };
    made.fields.insert(made.fields.end(), others.begin(), others.end());
    return made;
  }();
  return spec;
}

template <>
const Spec& specOf<TankTime>() {
  static const Spec spec{
      "a tank time",
      {
          share<&TankTime::load>("load", between(0, 1), "share of continuous (manual)").required(),
          quantity<&TankTime::for_s>("for", Dim::duration, between(kMinute_s, 30 * kDay_s),
                                     "on a full tank (manual)")
              .usually("h")
              .required(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<BurnRate>() {
  static const Spec spec{
      "a burn rate",
      {
          share<&BurnRate::load>("load", between(0, 1), "share of continuous (manual)").required(),
          quantity<&BurnRate::rate_m3_s>("rate", Dim::volumeRate,
                                         between(1e-3 * kLitre_m3 / kHour_s, 1e-3),
                                         "fuel at that load (manual)")
              .required(),
      },
      ""};
  return spec;
}

}  // namespace nightbank::scenario
