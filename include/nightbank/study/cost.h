#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "nightbank/study/answer.h"

/// What a night costs, by the user's own prices, and how it wears the bank.
namespace nightbank {

enum class CostItem : std::uint8_t { fuel, oil, bank, purchase };

struct CostLine {
  CostItem item{};
  std::string name;    ///< of a purchase
  double cost = 0.0;   ///< in the scenario's currency
  double share = 0.0;  ///< of what is used up: a change of oil, the bank's life, the purchase's
};

/// How the period wears the bank, each as a share of its life.
struct BankWear {
  double byCycles = 0.0;    ///< 0 where no cycle life is given
  double byCalendar = 0.0;  ///< 0 where no years are given
  double deepest = 0.0;     ///< range of the deepest cycle, 0..1
  double cycles = 0.0;      ///< counted, a half as a half

  double used() const { return byCycles > byCalendar ? byCycles : byCalendar; }
};

struct Cost {
  std::vector<CostLine> lines;
  std::vector<CostItem> notPriced;  ///< what the period used up without a price
  double total = 0.0;
  bool hasWear = false;
  BankWear wear;
  int nights = 0;      ///< from noon to noon that the period touches
  int coolNights = 0;  ///< of them, in which an air conditioner was wanted and everything was fed
};

/// Nights from noon to noon that the samples touch, and those in which air conditioning was wanted
/// and no energy was missing.
void countNights(const Night& night, Cost& cost);

/// The bank's cycles are counted on its state of charge at the ends of the output grid, as if it
/// were charged at the end to where it began: rainflow counting, then the sum of n / N(d). What the
/// calendar takes is the other limit: the larger counts.
/// @param answer  its scenario with prices, else there are no lines
Cost costOf(const Answer& answer, const Night& night);
Cost costOf(const scenario::Scenario& resolved, const Night& night);

}  // namespace nightbank
