#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "nightbank/scenario/edit.h"
#include "nightbank/scenario/scenario.h"
#include "nightbank/study/night_numbers.h"
#include "nightbank/study/start_levels.h"
#include "nightbank/weather/weather_series.h"

/// The least-cost set of what could be bought (`sizing` in the scenario) that holds the night, or a
/// share of the nights of a weather file's window, and starts the compressor.
namespace nightbank {

/// One thing that may be taken: so many pieces of an option.
struct SizeItem {
  std::string label;  ///< "3 x block", "none"
  std::vector<scenario::Edit> edits;
  double price = 0.0, mass_kg = 0.0;
  double noise_dBA = -std::numeric_limits<double>::infinity();  ///< silent
  std::size_t option = 0;
  int pieces = 1;
  bool isMoreBank = false;  ///< more pieces make the same bank larger
};

/// All that a choice offers, options in their order, pieces upwards.
struct SizeChoice {
  std::string name;
  std::vector<SizeItem> items;
};

/// The choices of a scenario that has `sizing`.
std::vector<SizeChoice> sizeChoices(const scenario::Sizing& sizing);

/// What a set takes of one choice.
struct ShoppingLine {
  std::string choice, option;
  int pieces = 1;
  double each = 0.0, price = 0.0;  ///< of a piece, of all
  double mass_kg = 0.0;            ///< of all; 0 where none is given
};

/// How many sets they make; the largest number where they are more.
std::uint64_t setsOf(const std::vector<SizeChoice>& choices);

/// As many sets as one search takes.
inline constexpr std::uint64_t kMostSets = 1'000'000;

/// Two sources are as loud as the sum of their powers: 10 lg (10^(a/10) + 10^(b/10)). Two equal
/// ones give 3 dB more. ISO 1996-1, from memory.
double louder_dBA(double a_dBA, double b_dBA);

/// One item of each choice.
struct SizeSet {
  std::vector<std::size_t> items;
  double price = 0.0, mass_kg = 0.0;
  double noise_dBA = -std::numeric_limits<double>::infinity();
};

/// What is to be bought for a set: what costs nothing, weighs nothing and changes nothing is left
/// out. Prices and masses add up to the set's.
std::vector<ShoppingLine> shoppingList(const scenario::Sizing& sizing,
                                       const std::vector<SizeChoice>& choices, const SizeSet& set);

/// A set that was run.
struct SizeRun {
  SizeSet set;
  bool holds = false;
  std::string why;                  ///< not "": its values do not go together, nothing was run
  NightNumbers numbers;             ///< of the night
  int nights = 0, nightsHeld = 0;   ///< of the file's window, where a share of them is asked for
  std::vector<SourceStart> starts;  ///< tested where the night holds

  double nightsShare() const {
    return nights == 0 ? 0.0 : static_cast<double>(nightsHeld) / nights;
  }
};

/// One item up or down from the best set.
struct SizeStep {
  std::size_t choice = 0;
  SizeRun run;
};

struct SizeAsked {
  Level worst = Level::holds;  ///< of night and start
  bool fullGrid = false;       ///< run every set within the limits
  int threads = 1;
};

struct SizeAnswer {
  std::vector<SizeChoice> choices;
  std::optional<SizeRun> best;     ///< the cheapest, of equals the lightest, then the quietest
  std::optional<SizeRun> nearest;  ///< where none holds: of those run, the one with most to spare
  std::vector<SizeRun> tradeOff;   ///< that hold; none cheaper, lighter and quieter; by price
  std::vector<SizeStep> steps;     ///< around the best
  std::uint64_t sets = 0;          ///< in the full grid
  std::uint64_t withinLimits = 0;  ///< of money, mass and noise
  std::uint64_t runs = 0;          ///< sets that were run for best and trade-off
};

/// Cheapest first; a set that is no cheaper, lighter or quieter than one that holds is not run. Of
/// the pieces of a bank, where no engine is in the set, more never hold the night less: there the
/// fewest are found by halving. All else takes no order for granted. Neither the answer nor the
/// number of runs hangs on the threads.
/// @param given  with `sizing`, without errors, not resolved; at most kMostSets sets
SizeAnswer sizeSets(const scenario::Scenario& given, const WeatherSeries* series,
                    const SizeAsked& asked);

}  // namespace nightbank
