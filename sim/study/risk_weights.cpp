#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstddef>
#include <span>

#include "risk.h"

#include "nightbank/numerics/sobol.h"

namespace nightbank {
namespace {

// Shares are worked out for so many inputs: each costs a set of nights of its own.
constexpr std::size_t kMostShares = 8;

// So many nights tell a share to some 3 points; more would only make the chances wait for it.
constexpr std::size_t kMostShareNights = 1024;

// A move below this is the engine's own noise, in coarse pieces. [J], a share of a start's margin
constexpr double kLeastMove_J = 36.0;
constexpr double kLeastStart = 1e-4;

/// The shares at which an input is put: its 5 % and 95 %, of a word the middle of each.
std::vector<double> endsOf(const DrawnInput& input) {
  if (!input.isWord())
    return {0.05, 0.95};
  std::vector<double> ends{kAsGiven};
  const std::size_t others = input.words.size() - 1;
  for (std::size_t i = 0; i < others; ++i)
    ends.push_back(0.5 + 0.5 * (static_cast<double>(i) + 0.5) / static_cast<double>(others));
  return ends;
}

/// One input at one of its ends.
struct Trial {
  std::size_t input = 0;
  double share = 0.0;
  RiskNight night;
};

std::vector<Trial> tryEnds(const RiskModel& model, int threads) {
  std::vector<Trial> trials;
  for (std::size_t i = 0; i < model.inputs.size(); ++i)
    for (const double share : endsOf(model.inputs[i]))
      trials.push_back({i, share, {}});
  const std::vector<RiskNight> nights =
      riskNights(model, trials.size(), threads, [&](std::size_t trial, std::size_t input) {
        return trials[trial].input == input ? trials[trial].share : kAsGiven;
      });
  for (std::size_t i = 0; i < trials.size(); ++i)
    trials[i].night = nights[i];
  return trials;
}

/// A number's ends in their order, a word's worst and best.
InputWeight weightOf(const RiskModel& model, std::size_t input, const std::vector<Trial>& trials) {
  std::vector<RiskNight> nights;
  for (const Trial& trial : trials)
    if (trial.input == input && trial.night.isRun)
      nights.push_back(trial.night);
  InputWeight weight;
  weight.input = input;
  if (nights.size() < 2)
    return weight;
  if (model.inputs[input].isWord())
    std::ranges::sort(nights, {}, &RiskNight::margin_J);
  weight.low_J = nights.front().margin_J;
  weight.high_J = nights.back().margin_J;
  if (model.inputs[input].isWord())
    std::ranges::sort(nights, {}, &RiskNight::startMargin);
  weight.startLow = nights.front().startMargin;
  weight.startHigh = nights.back().startMargin;
  return weight;
}

bool movesAnything(const InputWeight& weight) {
  return weight.moved_J() > kLeastMove_J ||
         std::abs(weight.startHigh - weight.startLow) > kLeastStart;
}

/// Two draws of all inputs, and the first with one input after the other from the second. The
/// heaviest inputs have the most even dimensions.
struct TwoDraws {
  Draws draws;
  std::vector<std::size_t> dimensions;  ///< of each input, in the first draw

  TwoDraws(const RiskModel& model, std::span<const InputWeight> weights, std::uint64_t seed)
      : draws(evenDraws(seed, 2 * model.inputs.size())), dimensions(model.inputs.size()) {
    std::vector<bool> isPlaced(dimensions.size(), false);
    std::size_t next = 0;
    for (const InputWeight& weight : weights) {
      dimensions[weight.input] = next++;
      isPlaced[weight.input] = true;
    }
    for (std::size_t i = 0; i < dimensions.size(); ++i)
      if (!isPlaced[i])
        dimensions[i] = next++;
  }

  double at(std::size_t night, std::size_t input, bool second) const {
    // The pairs of one input stand side by side, so that both draws of the heaviest are even.
    return drawAt(draws, static_cast<std::uint32_t>(night),
                  2 * dimensions[input] + (second ? 1 : 0));
  }
};

/// Behind each share; 0: too few to tell one.
std::size_t nightsOfShare(const RiskOptions& options) {
  constexpr std::size_t kLeastNights = 64;
  const std::size_t nights =
      std::min(std::bit_floor(static_cast<std::size_t>(options.nights) / 4), kMostShareNights);
  return options.withShares && nights >= kLeastNights ? nights : 0;
}

void addShares(const RiskModel& model, const RiskOptions& options, RiskAnswer& answer) {
  const std::size_t nights = nightsOfShare(options);
  if (nights == 0)
    return;
  const std::size_t count = static_cast<std::size_t>(
      std::ranges::find_if(answer.weights,
                           [](const auto& w) { return w.moved_J() <= kLeastMove_J; }) -
      answer.weights.begin());
  const std::span<InputWeight> heaviest(answer.weights.data(), std::min(count, kMostShares));
  const TwoDraws two(model, heaviest, options.seed);
  const auto resultsOf = [&](auto isSecond) {
    std::vector<double> margins_J;
    for (const RiskNight& night : riskNights(
             model, nights, options.threads,
             [&](std::size_t i, std::size_t input) { return two.at(i, input, isSecond(input)); }))
      margins_J.push_back(night.isRun ? night.margin_J : answer.usualMargin_J);
    return margins_J;
  };
  const std::vector<double> first = resultsOf([](std::size_t) { return false; });
  const std::vector<double> second = resultsOf([](std::size_t) { return true; });
  for (InputWeight& weight : heaviest) {
    const std::vector<double> mixed =
        resultsOf([&](std::size_t input) { return input == weight.input; });
    weight.shares = sobolIndices(first, second, mixed);
    weight.hasShares = true;
  }
  answer.shareNights = static_cast<int>(nights);
}

}  // namespace

std::size_t nightsOfWeights(const RiskModel& model, const RiskOptions& options) {
  std::size_t nights = (2 + std::min(kMostShares, model.inputs.size())) * nightsOfShare(options);
  for (const DrawnInput& input : model.inputs)
    nights += endsOf(input).size();
  return nights;
}

void weigh(const RiskModel& model, const RiskOptions& options, RiskAnswer& answer) {
  const std::vector<Trial> trials = tryEnds(model, options.threads);
  for (std::size_t i = 0; i < model.inputs.size(); ++i)
    if (const InputWeight weight = weightOf(model, i, trials); movesAnything(weight))
      answer.weights.push_back(weight);
  std::ranges::stable_sort(answer.weights, std::ranges::greater{}, &InputWeight::moved_J);
  addShares(model, options, answer);
}

}  // namespace nightbank
