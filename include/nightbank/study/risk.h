#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "nightbank/numerics/binomial.h"
#include "nightbank/numerics/sensitivity.h"
#include "nightbank/scenario/problem.h"
#include "nightbank/scenario/scenario.h"
#include "nightbank/scenario/spread.h"
#include "nightbank/study/progress.h"
#include "nightbank/weather/weather_series.h"

/// "How likely is it?": the night with its inputs drawn from what is known of them.
namespace nightbank {

/// Why an input is drawn, and from what.
enum class DrawnAs : std::uint8_t {
  asked,      ///< as the scenario's `risk` says
  typical,    ///< left out: between the ends of the typical value, most likely at it
  guessed,    ///< given with the grade `typical`
  nameplate,  ///< given from a label, a forecast, a data sheet
  measured,
  duty,  ///< of a compressor that nobody has watched: anything between the two ends
};

/// Standard deviation of a given value by its grade, as a share of the value; of a share, of the
/// smaller of it and what it leaves to 1. `common practice, no source`: a label is within a tenth
/// of the truth, a meter within a twenty-fifth, nearly always.
inline constexpr double kGuessedSpread = 0.10, kNameplateSpread = 0.05, kMeasuredSpread = 0.02;

/// The same of a temperature [K], also of a weather file's, and of the cloud of a forecast [1].
/// `common practice, no source`
inline constexpr double kGuessedSpread_K = 4.0, kNameplateSpread_K = 2.0, kMeasuredSpread_K = 1.0;
inline constexpr double kGuessedCloud = 0.3, kNameplateCloud = 0.2, kMeasuredCloud = 0.1;

/// A number or a word that is drawn.
struct DrawnInput {
  std::string path;
  DrawnAs as{};
  scenario::Spread spread;         ///< of a number
  std::vector<std::string> words;  ///< else; the first is the usual one and drawn half the time

  bool isWord() const { return !words.empty(); }
};

/// A typical value that is not drawn, and why.
struct HeldInput {
  std::string path, why;
};

struct Chance {
  std::int64_t successes = 0, trials = 0;
  ProbabilityRange range;  ///< at the confidence asked for

  double share() const { return static_cast<double>(successes) / static_cast<double>(trials); }
};

/// 5, 50 and 95 % of the nights are below.
struct Percentiles {
  double low = 0.0, middle = 0.0, high = 0.0;
};

/// Nights by their state of charge: bin i holds those from i up to i + 1 twentieths.
using ChargeCounts = std::array<std::int64_t, 20>;

/// What an input moves: the bank's margin with it alone at its 5 and at its 95 % (of a word: at its
/// worst and its best), all others as the scenario has them.
struct InputWeight {
  std::size_t input = 0;  ///< index in RiskAnswer::inputs
  double low_J = 0.0, high_J = 0.0;
  double startLow = 0.0, startHigh = 0.0;  ///< the same of the start's margin, a share
  bool hasShares = false;
  SobolIndices shares;  ///< of the margin's variance, all inputs drawn

  double moved_J() const { return high_J > low_J ? high_J - low_J : low_J - high_J; }
};

struct RiskOptions {
  int nights = 2000;       ///< >= 1
  std::uint64_t seed = 1;  ///< of all draws
  bool isEven = false;     ///< low-discrepancy in place of independent draws
  int threads = 1;         ///< does not move the answer
  double confidence = 0.95;
  bool withShares = true;  ///< of the variance: ten more sets of nights
  Progress progress = {};  ///< by nights
};

struct RiskAnswer {
  scenario::Scenario resolved;  ///< the night as the scenario has it
  RiskOptions options;
  std::vector<DrawnInput> inputs;
  std::vector<HeldInput> held;
  std::int64_t leftOut = 0;  ///< draws whose numbers do not fit together
  Chance floor;              ///< the bank never goes below its floor
  Chance night;              ///< nothing fails
  bool hasStart = false;     ///< some air conditioner starts at the mains
  Chance start;              ///< the best source starts every unit, cold, hot and on top
  Percentiles lowestSoc, endSoc, margin_J;
  ChargeCounts lowestCounts{}, endCounts{};  ///< of all nights that were run
  bool hasGenerator = false;
  Percentiles engine_s, fuel_m3;
  double usualMargin_J = 0.0;        ///< of the night as the scenario has it
  double usualStart = 0.0;           ///< its start's margin, a share
  int shareNights = 0;               ///< draws behind each share; 0: there are none
  std::vector<InputWeight> weights;  ///< the heaviest first; those that move nothing left out
};

/// Draws every input that is not a choice. Word for word the same answer on any number of threads.
/// @param given   without errors, not resolved
/// @param series  read from the scenario's weather file, where it has one
/// @returns the answer, or problems of values that do not fit together in the plant
std::variant<RiskAnswer, std::vector<scenario::Problem>> answerRisk(const scenario::Scenario& given,
                                                                    const WeatherSeries* series,
                                                                    const RiskOptions& options);

}  // namespace nightbank
