#pragma once

#include <cstdint>
#include <functional>
#include <limits>
#include <memory>
#include <span>
#include <vector>

#include "plan_cycle.h"

#include "nightbank/study/plan.h"

/// What the planner is made of. Private to the room.
namespace nightbank {

struct Idea;

/// What counts for a plan, as weights on one scale.
struct PlanWeights {
  double fuel_1_m3 = 0.0, engine_1_s = 0.0, start = 0.0;
  double early_1_s = 0.0;  ///< of the first start, before the period's end
  double wear = 0.0;       ///< of the bank's, by its run
};

/// The first counts, the others break its ties: fuel, then hours (the quieter), then starts.
/// @param startWorth_m3  fuel that one start less is worth
PlanWeights weightsFor(scenario::Aim aim, double startWorth_m3);

double weighed(const PlanWeights& weights, const PlanCost& cost, double span_s);

PlanCost costOf(const PlannedNight& planned);

/// What one cell of time does to the bank, by its state of charge. Made of runs whose bank is so
/// large that its charge stands still.
struct PlanTables {
  double cell_s = 60.0;
  std::size_t cells = 0;
  std::vector<double> levels;    ///< states of charge, rising
  std::vector<double> off, on;   ///< [cell * levels + level]: change of the state of charge
  std::vector<double> energy_J;  ///< the same, given by the generator
  std::vector<std::uint8_t> offServes, onServes;  ///< by cell: nothing goes short
  std::vector<double> tripsBelow;                 ///< by cell: an engine on with less trips
  std::vector<std::uint8_t> awake;                ///< by cell: somebody could fill the tank
  std::vector<std::uint32_t> mayRunUntil;         ///< by cell: where the allowed hours end; 0: none
  PlanCycle cycle;                                ///< of the cooling, where it can be followed
  /// Other cooling that pauses when its source changes, by cell: in the mean, and at most.
  std::vector<double> pause_J, mostPause_J;
  std::vector<double> later_J;  ///< what a thermostat's pause puts from the engine to the bank
  double perSoc_J = 0.0;        ///< of such a load, for all of the bank's charge
};

/// The same by cells of `factor` times the length.
PlanTables coarser(const PlanTables& tables, std::size_t factor);

/// What the search needs besides.
struct PlanTask {
  PlanWeights weights;
  double fallPrice = 0.0;       ///< cost of the charge that is drawn with the engine off
  std::vector<double> keepSoc;  ///< by edge of cells: no plan goes below
  double startSoc = 1.0;
  double warmUp_s = 0.0, coolDown_s = 0.0, leastRun_s = 0.0, mostRun_s = 0.0;
  double leastRest_s = 0.0;
  double ramp_s = 0.0;  ///< of the charger
  double noLoad_m3_s = 0.0, perWatt_m3_J = 0.0;
  double tank_m3 = 0.0, coolsFor_s = 0.0;
  bool refuels = true;
  int sets = 1;
  bool relaxed = false;  ///< where many are alike, the better of each property: a lower bound
  double most = 0.0;     ///< plans that cost more are of no use
};

/// A plan by the tables.
struct Proposal {
  double cost = 0.0;
  std::vector<Interval> runs;
};

/// The cheapest plans by the tables that keep the charge, cheapest first; empty where there is
/// none.
std::vector<Proposal> searchPlans(const PlanTables& tables, const PlanTask& task);

using PlanSearch = std::function<std::vector<Proposal>(const PlanTables&, const PlanTask&)>;

/// What the tables make of a plan.
struct Prediction {
  std::vector<double> soc;  ///< at every edge of the cells
  double cost = 0.0;        ///< weighed, starts apart
};

Prediction predict(const PlanTables& tables, const PlanTask& task, std::span<const Interval> runs);

/// State of charge of a run on its output grid, the start first; and at every edge of the cells.
std::vector<double> socOnGrid(const Night& night);
std::vector<double> socAtEdges(const PlanTables& tables, const Night& night);

/// What a plan is asked for.
struct PlanWish {
  PlanWeights weights;
  double keepSoc = 0.0;
  double cell_s = 60.0;
  std::size_t coarseFactor = 1;
  std::size_t cellsAtOnce = 1;  ///< of the tables, where a cabin makes them dear
  double leastRun_s = 0.0, leastRest_s = 0.0;
  bool mayWhileAsleep = false;
  bool apartFromCooling = false;  ///< no run in the hours of an air conditioner
  double mostWarm_s = std::numeric_limits<double>::infinity();
  std::shared_ptr<const scenario::Scenario> priced;  ///< by which a night's wear is money; or none
};

/// Runs plans of one plant, and counts how many.
struct PlanVerifier {
  Plant plant;  ///< no rule
  double keepSoc = 0.0;
  double mostWarm_s = std::numeric_limits<double>::infinity();
  std::shared_ptr<const scenario::Scenario> priced;  ///< see PlanWish
  int count = 0;

  PlanVerifier(const Plant& base, const PlanWish& wish);
  PlannedNight run(const std::vector<Interval>& runs);
};

/// Too warm for so much longer than is allowed; 0 within the rounding of switch times.
double tooWarmBy_s(const Outcome& outcome, double mostWarm_s);

/// Of two nights of the same plant the better one: one that fits before one that does not, then the
/// cheaper, or the one that lacks less, or is too warm for shorter.
bool isBetterPlan(const PlannedNight& a, const PlannedNight& b, const PlanWeights& weights);

PlanTables planTables(const Plant& plant, const PlanWish& wish);

/// Whether a plan may have the engine on in this segment.
bool mayPlan(const Segment& segment, const PlanWish& wish);

/// Where plans come from.
struct PlanSource {
  const scenario::Scenario& given;  ///< with a duty for every unit
  const WeatherSeries* series = nullptr;
  double cell_s = 0.0;  ///< 0: the planner's own
};

/// "["19:43-21:58"]"
std::string runsText(const Plant& plant, const std::vector<Interval>& runs);

/// Thresholds in whole percent with which the rule does what the plan does, or nearly; nothing
/// where no rule keeps the charge.
std::optional<RuleSettings> ruleFor(const PlanSource& source, const Plant& base,
                                    const PlanWish& wish, const PlanAnswer& answer);

/// A plan that fits as edits: runs by hand in place of a rule, the charger turned down where that
/// is needed. Of a period of no more than a day. Without edits: no plan with a run fits.
Idea engineByHand(const PlanSource& source);

/// Single changes with each of which a plan fits, every one tried.
std::vector<PlanChange> changesFor(const PlanSource& source, const scenario::Scenario& resolved,
                                   const Plant& plant);

}  // namespace nightbank
