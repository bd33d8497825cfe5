#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>
#include <tuple>

#include "night.h"
#include "size.h"
#include <fmt/format.h>

#include "nightbank/scenario/stepped.h"

namespace nightbank {
namespace {

constexpr double kSilent_dBA = -std::numeric_limits<double>::infinity();
constexpr std::uint64_t kUncounted = std::numeric_limits<std::uint64_t>::max();

SizeItem itemOf(const scenario::SizingOption& option, std::size_t index, int pieces) {
  constexpr std::array<std::string_view, 2> kBankPaths{"bank.capacity",
                                                       "bank.batteries.in_parallel"};
  SizeItem item;
  item.option = index;
  item.pieces = pieces;
  item.label = option.units ? fmt::format("{} x {}", pieces, option.name) : option.name;
  item.edits = scenario::editsOf(option, pieces);
  item.price = option.price.value * pieces;
  item.mass_kg = option.mass_kg.known() ? option.mass_kg.value * pieces : 0.0;
  if (option.noise_dBA.known())
    item.noise_dBA = option.noise_dBA.value + 10.0 * std::log10(pieces);
  item.isMoreBank =
      option.units && std::ranges::find(kBankPaths, option.units->of) != kBankPaths.end();
  return item;
}

std::vector<scenario::Edit> editsOfSet(const SizeProblem& problem, const SizeSet& set) {
  std::vector<scenario::Edit> edits;
  for (std::size_t i = 0; i < set.items.size(); ++i) {
    const auto& its = problem.choices[i].items[set.items[i]].edits;
    edits.insert(edits.end(), its.begin(), its.end());
  }
  return edits;
}

// Of the window's nights that the file covers, those that are no worse than asked for.
void countHeldNights(const SizeProblem& problem, scenario::Scenario given, SizeRun& run) {
  given.weather->file->hottest = {};
  given.weather->file->within_s = {};
  for (const Date& date : problem.dates) {
    given.weather->file->day = date;
    const auto result = nightNumbers(given, problem.series, problem.days);
    const auto* numbers = std::get_if<NightNumbers>(&result);
    run.nights += numbers != nullptr ? 1 : 0;
    run.nightsHeld += numbers != nullptr && numbers->level <= problem.asked.worst ? 1 : 0;
  }
}

bool startsWell(const SizeRun& run, Level worst) {
  const auto best = bestStart(run.starts);
  return !best || static_cast<int>(*best) <= static_cast<int>(worst);
}

}  // namespace

std::vector<SizeChoice> sizeChoices(const scenario::Sizing& sizing) {
  std::vector<SizeChoice> choices;
  for (const scenario::SizingChoice& given : sizing.choose) {
    SizeChoice choice{given.name, {}};
    for (std::size_t i = 0; i < given.options.size(); ++i) {
      const scenario::SizingOption& option = given.options[i];
      const int from = option.units ? static_cast<int>(option.units->from.value) : 1;
      const int to = option.units ? static_cast<int>(option.units->to.value) : 1;
      for (int pieces = from; pieces <= to; ++pieces)
        choice.items.push_back(itemOf(option, i, pieces));
    }
    choices.push_back(std::move(choice));
  }
  return choices;
}

std::uint64_t setsOf(const std::vector<SizeChoice>& choices) {
  std::uint64_t sets = 1;
  for (const SizeChoice& choice : choices) {
    if (sets > kUncounted / choice.items.size())
      return kUncounted;
    sets *= choice.items.size();
  }
  return sets;
}

std::vector<ShoppingLine> shoppingList(const scenario::Sizing& sizing,
                                       const std::vector<SizeChoice>& choices, const SizeSet& set) {
  std::vector<ShoppingLine> list;
  for (std::size_t i = 0; i < choices.size(); ++i) {
    const SizeItem& item = choices[i].items[set.items[i]];
    if (item.price == 0.0 && item.mass_kg == 0.0 && item.edits.empty())
      continue;
    const scenario::SizingOption& option = sizing.choose[i].options[item.option];
    list.push_back(
        {choices[i].name, option.name, item.pieces, option.price.value, item.price, item.mass_kg});
  }
  return list;
}

double louder_dBA(double a_dBA, double b_dBA) {
  const double more = std::max(a_dBA, b_dBA), less = std::min(a_dBA, b_dBA);
  if (less == kSilent_dBA)
    return more;
  return more + 10.0 * std::log10(1.0 + std::pow(10.0, (less - more) / 10.0));
}

SizeSet setAt(const std::vector<SizeChoice>& choices, std::uint64_t index) {
  SizeSet set;
  set.items.resize(choices.size());
  for (std::size_t i = choices.size(); i-- > 0;) {
    const std::size_t count = choices[i].items.size();
    set.items[i] = static_cast<std::size_t>(index % count);
    index /= count;
  }
  for (std::size_t i = 0; i < choices.size(); ++i) {
    const SizeItem& item = choices[i].items[set.items[i]];
    set.price += item.price;
    set.mass_kg += item.mass_kg;
    set.noise_dBA = louder_dBA(set.noise_dBA, item.noise_dBA);
  }
  return set;
}

bool isWithinLimits(const scenario::Sizing& sizing, const SizeSet& set) {
  constexpr double kHair = 1e-9;  // prices are sums
  const auto keeps = [&](double value, const scenario::Graded& most) {
    return !most.known() || value <= most.value + kHair;
  };
  return keeps(set.price, sizing.mostMoney) && keeps(set.mass_kg, sizing.mostMass_kg) &&
         keeps(set.noise_dBA, sizing.mostNoise_dBA);
}

bool beats(const SizeSet& a, const SizeSet& b) {
  return a.price <= b.price && a.mass_kg <= b.mass_kg && a.noise_dBA <= b.noise_dBA &&
         comesBefore(a, b);
}

bool comesBefore(const SizeSet& a, const SizeSet& b) {
  return std::tie(a.price, a.mass_kg, a.noise_dBA, a.items) <
         std::tie(b.price, b.mass_kg, b.noise_dBA, b.items);
}

SizeRun runSet(const SizeProblem& problem, const SizeSet& set) {
  SizeRun run;
  run.set = set;
  const scenario::ReadResult edited = scenario::apply(problem.plain, editsOfSet(problem, set));
  if (!edited.scenario) {
    run.why = std::ranges::find(edited.problems, scenario::Problem::Severity::error,
                                &scenario::Problem::severity)
                  ->message;
    return run;
  }
  auto result = nightNumbers(*edited.scenario, problem.series, problem.days);
  if (const auto* problems = std::get_if<std::vector<scenario::Problem>>(&result)) {
    run.why = problems->front().message;
    return run;
  }
  run.numbers = std::get<NightNumbers>(result);
  if (problem.sizing.nights.known()) {
    constexpr double kHair = 1e-9;
    countHeldNights(problem, *edited.scenario, run);
    run.holds = run.nightsShare() >= problem.sizing.nights.value - kHair;
  } else {
    run.holds = run.numbers.level <= problem.asked.worst;
  }
  if (run.holds) {
    run.starts = startLevels(*edited.scenario, problem.series);
    run.holds = startsWell(run, problem.asked.worst);
  }
  return run;
}

bool hasEngine(const SizeProblem& problem, const SizeSet& set) {
  const scenario::ReadResult edited = scenario::apply(problem.plain, editsOfSet(problem, set));
  return !edited.scenario || edited.scenario->generator;
}

}  // namespace nightbank
