#include "ideas.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "nightbank/scenario/grade_ending.h"
#include "nightbank/study/plan_forecast.h"
#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

constexpr int kMostHalves = 8;  ///< half hours

/// "25.5/23.3 -> 26.5/24.3"
struct FromTo {
  std::string from, to;

  void add(double before, double after, int decimals) {
    const auto append = [&](std::string& text, double value) {
      const std::string number = fmt::format("{:.{}f}", value, decimals);
      text += text.empty() ? number : '/' + number;
    };
    append(from, before);
    append(to, after);
  }

  std::string text() const { return from + " -> " + to; }
};

int decimalsOf(const scenario::AirConditioner& unit) {
  const auto isWhole = [](const scenario::ThermostatSpan& span) {
    return std::abs(span.coolTo_degC.value - std::round(span.coolTo_degC.value)) < 1e-6;
  };
  return std::ranges::all_of(unit.thermostat, isWhole) ? 0 : 1;
}

void addSetpoints(const scenario::AirConditioner& unit, int warmer_K, FromTo& words, Idea& idea) {
  for (std::size_t i = 0; i < unit.thermostat.size(); ++i) {
    const scenario::Graded& now = unit.thermostat[i].coolTo_degC;
    words.add(now.value, now.value + warmer_K, decimalsOf(unit));
    idea.edits.push_back(
        {fmt::format("air_conditioners.{}.thermostat.{}.cool_to", unit.name, i),
         fmt::format("{:.2f} degC{}", now.value + warmer_K, scenario::gradeEnding(now.grade))});
  }
}

void addDuties(const scenario::AirConditioner& unit, int warmer_K, FromTo& words, Idea& idea) {
  for (std::size_t i = 0; i < unit.duty.size(); ++i) {
    const scenario::Graded& now = unit.duty[i].share;
    const double less = std::round(100.0 * now.value * (1.0 - kDutyPerKelvin * warmer_K));
    words.add(100.0 * now.value, less, 0);
    idea.edits.push_back({fmt::format("air_conditioners.{}.duty.{}.share", unit.name, i),
                          fmt::format("{:.0f} %{}", less, scenario::gradeEnding(now.grade))});
  }
}

Idea warmerBy(const scenario::Scenario& given, int warmer_K) {
  FromTo setpoints, duties;
  Idea idea;
  for (const scenario::AirConditioner& unit : given.airConditioners) {
    addSetpoints(unit, warmer_K, setpoints, idea);
    addDuties(unit, warmer_K, duties, idea);
  }
  if (!setpoints.from.empty())
    idea.words = fmt::format("setpoint {} degC", setpoints.text());
  if (!duties.from.empty())
    idea.words += fmt::format("{}duty {} %, as a setpoint some {} K higher does",
                              idea.words.empty() ? "" : ", ", duties.text(), warmer_K);
  return idea;
}

std::string spansText(const std::vector<ClockSpan>& spans, double earlier_s, double later_s) {
  std::string text = "[";
  for (const ClockSpan& span : spans) {
    const auto wrap = [](double clock_s) { return std::fmod(clock_s + kDay_s, kDay_s); };
    text +=
        fmt::format("{}\"{}-{}\"", text.size() > 1 ? ", " : "",
                    clockText(wrap(span.from_s - earlier_s)), clockText(wrap(span.to_s + later_s)));
  }
  return text + ']';
}

/// Shorter than twice the change: nothing would be left of the quiet, or of the pause between.
bool canMove(const std::vector<ClockSpan>& spans, double by_s) {
  return std::ranges::all_of(spans, [&](const ClockSpan& span) {
    const double length_s = std::fmod(span.to_s - span.from_s + kDay_s, kDay_s);
    return length_s > by_s && length_s + by_s < kDay_s;
  });
}

Idea hoursLonger(const scenario::Site& site, double by_s, bool evening) {
  Idea idea{
      fmt::format("generator allowed {} {}", durationText(by_s), evening ? "later" : "earlier"),
      {}};
  if (site.quietHours && canMove(*site.quietHours, by_s))
    idea.edits.push_back({"site.quiet_hours", evening ? spansText(*site.quietHours, -by_s, 0.0)
                                                      : spansText(*site.quietHours, 0.0, -by_s)});
  if (site.generatorHours && canMove(*site.generatorHours, by_s))
    idea.edits.push_back(
        {"site.generator_hours", evening ? spansText(*site.generatorHours, 0.0, by_s)
                                         : spansText(*site.generatorHours, by_s, 0.0)});
  return idea;
}

/// The hours of everything that may draw on the inverter; nothing where that is always.
scenario::Hours inverterNeeded(const scenario::Scenario& resolved) {
  std::vector<ClockSpan> spans;
  const auto add = [&](const scenario::FedFrom& fed, const scenario::Hours& hours) {
    if (!fed.inverter)
      return true;
    if (!hours)
      return false;
    spans.insert(spans.end(), hours->begin(), hours->end());
    return true;
  };
  for (const scenario::AirConditioner& unit : resolved.airConditioners)
    if (!add(unit.fedFrom, unit.hours))
      return std::nullopt;
  for (const scenario::Load& load : resolved.loads)
    if (!add(load.fedFrom, load.hours))
      return std::nullopt;
  if (spans.empty())
    return std::nullopt;
  return spans;
}

int rungsUpTo(double from, double to, double step) {
  return std::max(0, static_cast<int>(std::floor((to - from) / step + 1e-9)));
}

}  // namespace

Ladder warmerInside(const IdeaBasis& basis, int most_K) {
  const bool isDecided = std::ranges::any_of(basis.given.airConditioners, [](const auto& unit) {
    return !unit.duty.empty() || !unit.thermostat.empty();
  });
  return {Effort::setting, isDecided ? most_K : 0,
          [&given = basis.given](int warmer_K) { return warmerBy(given, warmer_K); }};
}

Ladder coolEarlier(const IdeaBasis& basis) {
  if (!basis.plant.hasCabin)
    return {};
  return {Effort::setting, kMostHalves, [&resolved = basis.resolved](int halves) {
            const double by_s = 0.5 * kHour_s * halves;
            Idea idea{fmt::format("the cooling on {} earlier", durationText(by_s)), {}};
            for (const scenario::AirConditioner& unit : resolved.airConditioners)
              if (!unit.thermostat.empty() && unit.hours && canMove(*unit.hours, by_s))
                idea.edits.push_back({fmt::format("air_conditioners.{}.hours", unit.name),
                                      spansText(*unit.hours, by_s, 0.0)});
            return idea;
          }};
}

Ladder inverterOffAtRest(const IdeaBasis& basis) {
  if (!basis.given.inverter || basis.given.inverter->hours)
    return {};
  const scenario::Hours needed = inverterNeeded(basis.resolved);
  if (!needed)
    return {};
  return {Effort::setting, 1, [spans = *needed](int) {
            return Idea{"the inverter off while nothing on it has its hours",
                        {{"inverter.hours", spansText(spans, 0.0, 0.0)}}};
          }};
}

Ladder inverterSearches(const IdeaBasis& basis) {
  if (!basis.given.inverter || basis.given.inverter->search)
    return {};
  // Common practice, no source: asleep it draws a fifth of its idle, and wakes at some ten watts.
  static constexpr double kAsleep = 0.2, kWakes_W = 10.0;
  return {Effort::setting, 1, [idle_W = basis.plant.inverter.idle_W](int) {
            return Idea{fmt::format("the inverter's power-saving search on, where it has one "
                                    "(taken as {:.1f} W below {:.0f} W)",
                                    kAsleep * idle_W, kWakes_W),
                        {{"inverter.search", fmt::format("{{below: {} W, draws: {:.2f} W}}",
                                                         kWakes_W, kAsleep * idle_W)}}};
          }};
}

Ladder chargerDown(const IdeaBasis& basis) {
  const bool makesRoom = basis.plant.charger.makesRoom;
  if (!basis.plant.hasCharger || makesRoom || !(basis.given.generator || basis.given.shore))
    return {};
  const double mains_V = basis.resolved.mains_V.value;
  const int now_A = static_cast<int>(std::ceil(chargerInput_VA(basis.plant) / mains_V - 1e-9));
  return {
      Effort::setting, std::max(0, now_A - 1),
      [mains_V, now_A](int down_A) {
        return Idea{
            fmt::format("charger turned down to {} A of {:.0f} V", now_A - down_A, mains_V),
            {{"charger.input_limit", fmt::format("{} A at {:.0f} V", now_A - down_A, mains_V)}}};
      },
      false};
}

Ladder chargerUnlimited(const IdeaBasis& basis) {
  if (!basis.given.charger || !basis.given.charger->inputLimit_A.given)
    return {};
  return {Effort::setting, 1, [](int) {
            return Idea{"the charger's input limit off", {{"charger.input_limit", "none"}}};
          }};
}

Ladder throttleFixed(const IdeaBasis& basis) {
  if (!basis.plant.start.idlesLow)
    return {};
  return {Effort::setting, 1, [](int) {
            return Idea{"low-idle throttle off", {{"generator.throttle", "fixed_speed"}}};
          }};
}

Ladder startSooner(const IdeaBasis& basis) {
  if (!basis.plant.rule.active || !basis.given.generator || !basis.given.generator->rule ||
      !basis.given.generator->rule->startBelow.given)
    return {};
  constexpr int kStep = 5;
  const int now = static_cast<int>(std::lround(100.0 * basis.plant.rule.startBelow));
  const double below = 100.0 * basis.plant.rule.stopAbove - 1.0;
  return {Effort::setting, rungsUpTo(now, below, kStep), [now](int rung) {
            const int next = now + kStep * rung;
            return Idea{fmt::format("generator's start at {} -> {} % of the bank", now, next),
                        {{"generator.rule.start_below", fmt::format("{} %", next)}}};
          }};
}

Ladder stopLater(const IdeaBasis& basis) {
  if (!basis.plant.rule.active || !basis.given.generator || !basis.given.generator->rule)
    return {};
  constexpr int kStep = 2;
  const int now = static_cast<int>(std::lround(100.0 * basis.plant.rule.stopAbove));
  return {Effort::setting, rungsUpTo(now, 100.0, kStep), [now](int rung) {
            const int next = now + kStep * rung;
            return Idea{fmt::format("generator's stop at {} -> {} % of the bank", now, next),
                        {{"generator.rule.stop_above", fmt::format("{} %", next)}}};
          }};
}

Ladder moreShade(const IdeaBasis& basis) {
  if (!basis.given.cabin || basis.given.cabin->inShade.value == scenario::InShade::fully)
    return {};
  return {Effort::habit, 1, [](int) {
            return Idea{"the cabin in full shade", {{"cabin.in_shade", "fully"}}};
          }};
}

Ladder longerHours(const IdeaBasis& basis, bool evening) {
  if (!basis.given.generator || !basis.given.site ||
      !(basis.given.site->quietHours || basis.given.site->generatorHours))
    return {};
  return {Effort::habit, kMostHalves, [&site = *basis.given.site, evening](int halves) {
            return hoursLonger(site, 0.5 * kHour_s * halves, evening);
          }};
}

Ladder longerRuns(const IdeaBasis& basis, bool later) {
  if (!basis.given.generator || !basis.given.generator->run)
    return {};
  return {Effort::habit, kMostHalves, [&runs = *basis.given.generator->run, later](int halves) {
            const double by_s = 0.5 * kHour_s * halves;
            Idea idea{fmt::format("generator by hand {} {}", durationText(by_s),
                                  later ? "longer" : "sooner"),
                      {}};
            if (canMove(runs, by_s))
              idea.edits.push_back({"generator.run", later ? spansText(runs, 0.0, by_s)
                                                           : spansText(runs, by_s, 0.0)});
            return idea;
          }};
}

double chargerInput_VA(const Plant& plant) {
  const double output_W = std::min(plant.charger.outputCurrent_A * plant.bank.absorption_V,
                                   outputLimit_W(plant.charger));
  return inputApparent_VA(plant.charger, output_W);
}

int leastAmount(const Ladder& ladder, const std::function<bool(const Idea&)>& does) {
  const auto tried = [&](int amount) {
    const Idea idea = ladder.at(amount);
    return !idea.edits.empty() && does(idea);
  };
  // Where more helps more, and the most does not, no less does.
  const bool hasMost =
      ladder.most > 2 && ladder.isMonotone && !ladder.at(ladder.most).edits.empty();
  if (hasMost && !does(ladder.at(ladder.most)))
    return 0;
  int amount = 1, less = 0;
  while (amount <= ladder.most && !tried(amount)) {
    less = amount;
    amount =
        ladder.isMonotone && amount < ladder.most ? std::min(2 * amount, ladder.most) : amount + 1;
  }
  if (amount > ladder.most)
    return 0;
  while (ladder.isMonotone && amount - less > 1) {
    const int middle = (less + amount) / 2;
    (tried(middle) ? amount : less) = middle;
  }
  return amount;
}

}  // namespace nightbank
