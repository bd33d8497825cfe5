#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <vector>

#include "plan_parts.h"

#include "nightbank/devices/wear.h"

/// The search for plans of least money: engine and wear of the bank together. Private to the room.
namespace nightbank {

/// Moves of the charge below this are no cycles, as in cost.cpp.
inline constexpr double kNoCycle = 0.01;

/// What cycles cost.
struct WearPrice {
  std::vector<DepthLife> points;  ///< none: only the calendar counts
  double purchase = 0.0;
  double byCalendar = 0.0;  ///< of the life, whatever the plan
  double grid_s = 300.0;    ///< the charge is looked at so often

  /// Of the life, by a whole cycle. @param depth  0..1
  double used(double depth) const;

  double money(double used) const { return purchase * std::max(used, byCalendar); }
};

WearPrice wearPrice(const scenario::Scenario& resolved, const Night& night);

/// Cycles of a charge while it moves: turningPoints() and rainflow() of devices/wear.h, one value
/// after the other.
class ChargeTurns {
 public:
  explicit ChargeTurns(double soc) : extreme_(soc), low_(soc), high_(soc) {}

  void goTo(double soc, const WearPrice& price);
  /// Share of the life if the charge went straight from here to another and stayed.
  double usedByWayOf(double soc, const WearPrice& price) const;

  /// By the cycles that are over.
  double used() const { return closed_; }

  double lowest() const { return low_; }

 private:
  static constexpr std::size_t kMostOpen = 8;

  void turn(double soc, const WearPrice& price);

  std::array<double, kMostOpen> open_{};  ///< turning points that are in no cycle yet
  std::size_t count_ = 0;
  double extreme_, low_, high_;
  double closed_ = 0.0;
  bool rises_ = false;
};

/// Wear of a charge that goes straight from edge to edge of cells. [money]
double wearOf(const WearPrice& price, const std::vector<double>& soc, double cell_s);

/// The cheapest plans by the tables that keep the charge, wear and all, cheapest first. Of a small
/// night all plans are looked at. @returns costs with the wear
std::vector<Proposal> searchWornPlans(const PlanTables& tables, const PlanTask& task,
                                      const WearPrice& price);

}  // namespace nightbank
