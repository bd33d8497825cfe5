#include "nightbank/report/cautions.h"

#include <string_view>

namespace nightbank::report {
namespace {

// Sources, as read or quoted in agency texts: US Consumer Product Safety Commission, releases of 24
// July 2020 and 14 December 2021 (distance, enclosures, alarms); Florida Department of Health 2024
// (6 m); US OSHA Quick Card 3277 (2005) (backfeed, fuel); US Fire Administration and NFPA (lithium
// batteries); US NHTSA (heat in vehicles); US CDC (heat and fans).
constexpr std::string_view kMonoxideEngine =
    "Carbon monoxide: engine outdoors, at least 6 m (20 ft) from where people are, exhaust away "
    "from every opening, never under an awning or in an enclosure; open windows do not help (US "
    "CPSC). A tested alarm with a battery where people sleep; when it sounds, everybody out and "
    "call for help. No engine while people sleep; a portable set never starts by itself.";
constexpr std::string_view kMonoxideNeighbours =
    "Carbon monoxide: the neighbours' engines count too. A tested alarm with a battery where "
    "people "
    "sleep; when it sounds, everybody out and call for help (US CPSC).";
constexpr std::string_view kShock =
    "Shock: no source may feed a wired system except through a transfer switch (US OSHA); grounded "
    "cords, kept dry; bonding as the manuals say. Fuse the bank near its posts: it drives "
    "thousands "
    "of amperes. Local codes and licensed practice decide.";
constexpr std::string_view kFuel =
    "Fuel: stop the engine before refuelling, store no fuel indoors (US OSHA); let the engine cool "
    "a quarter of an hour at least (municipal fire guidance); approved cans, filled on the ground.";
constexpr std::string_view kHeat =
    "Heat: a closed vehicle gains about 11 K (20 degF) in ten minutes (US NHTSA). Nobody who "
    "cannot "
    "leave alone, and no animal, may depend on this air conditioner; above 35 degC a fan does not "
    "prevent heat illness (US CDC). How fast it gets hot inside once cooling stops is at best an "
    "estimate: have a cool place to go to.";
constexpr std::string_view kLithium =
    "Battery: stop using it on smell, swelling, heat, leak or noise; charge only from 0 to 40 degC "
    "unless the maker says otherwise (US Fire Administration). Never bypass its protection or a "
    "fuse to get through a start.";
constexpr std::string_view kLead =
    "Battery: charging lead gives off hydrogen: vent it, no sparks, eyes covered. Never bypass a "
    "fuse to get through a start.";
constexpr std::string_view kSite =
    "Fire, noise, site: hot muffler off dry grass, no engine against a fire ban; posted quiet and "
    "generator hours win over this plan.";
constexpr std::string_view kPlan =
    "This plan: an estimate from the numbers given, no assurance. Oxygen, medicine that must be "
    "cooled and the like need a second source of their own.";

std::vector<std::string> cautionsOf(bool engine, const scenario::Bank& bank) {
  const bool lithium = bank.chemistry.value == scenario::Chemistry::lfp;
  std::vector<std::string> list;
  const auto add = [&](std::string_view text) { list.emplace_back(text); };
  add(engine ? kMonoxideEngine : kMonoxideNeighbours);
  add(kShock);
  if (engine)
    add(kFuel);
  add(kHeat);
  add(lithium ? kLithium : kLead);
  add(kSite);
  add(kPlan);
  return list;
}

}  // namespace

std::vector<std::string> cautions(const Answer& answer) {
  return cautionsOf(answer.night.plant.hasGenerator, answer.resolved.bank);
}

std::vector<std::string> cautions(const scenario::Scenario& resolved) {
  return cautionsOf(resolved.generator.has_value(), resolved.bank);
}

}  // namespace nightbank::report
