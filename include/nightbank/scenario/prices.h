#pragma once

#include <optional>
#include <string>
#include <vector>

#include "nightbank/scenario/graded.h"

/// What things cost, and how long they last, by the user's own quotes. As written, see scenario.h.
namespace nightbank::scenario {

/// A depth of discharge and the cycles of that depth up to the end of life.
struct LifePoint {
  Graded depth;  ///< 0..1
  Graded cycles;
};

struct BankPrice {
  Graded purchase;                   ///< a new one, in the currency
  std::vector<LifePoint> cycleLife;  ///< two or more depths; empty: cycles wear nothing
  Graded years;                      ///< it lasts unused; NaN: for ever
};

/// Something bought beside the bank.
struct Purchase {
  std::string name;
  Graded price;
  Graded years;     ///< it lasts
  Graded engine_s;  ///< or engine hours
};

struct Prices {
  std::string currency;
  Graded oilChange;  ///< each, of each set
  std::optional<BankPrice> bank;
  std::vector<Purchase> purchases;
  Graded nightsPerYear;  ///< of use, what lasts for years is shared by
};

}  // namespace nightbank::scenario
