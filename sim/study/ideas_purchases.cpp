#include <algorithm>
#include <cmath>

#include "ideas.h"
#include <fmt/format.h>

#include "nightbank/devices/motor_start.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

constexpr double kMostTimes = 3.0;  ///< the present size

/// The next multiple of a step above a size, and from there on.
double sizeUp(double now, double step, int rung) {
  return step * (std::floor(now / step + 1e-9) + rung);
}

int sizesUpTo(double now, double step) {
  constexpr int kFewest = 10;  // three times very little is little still
  return std::max(kFewest, static_cast<int>(std::ceil((kMostTimes - 1.0) * now / step)));
}

Idea chargerOf(double current_A) {
  return {fmt::format("a charger of {:.0f} A", current_A),
          {{"charger.output_current", fmt::format("{:.0f} A", current_A)},
           {"charger.input_limit", "none"}}};
}

Idea generatorOf(double power_W) {
  return {fmt::format("a generator of {:.0f} W", power_W),
          {{"generator.continuous", fmt::format("{:.0f} W", power_W)}}};
}

/// Rates are of the whole bank: they grow with it.
void addRates(const scenario::Bank& bank, double times, Idea& idea) {
  for (std::size_t i = 0; i < bank.rates.size(); ++i)
    idea.edits.push_back({fmt::format("bank.rates.{}.capacity", i),
                          fmt::format("{:.1f} Ah", times * bank.rates[i].capacity_Ah.value)});
}

Idea moreStrings(const scenario::Bank& bank, int more) {
  const scenario::Graded& parallel = bank.batteries->inParallel;
  const double strings = parallel.known() ? parallel.value : 1.0;
  Idea idea{fmt::format("{} more string{} of batteries", more, more > 1 ? "s" : ""),
            {{"bank.batteries.in_parallel", fmt::format("{:.0f}", strings + more)}}};
  addRates(bank, (strings + more) / strings, idea);
  return idea;
}

}  // namespace

Ladder softStarters(const IdeaBasis& basis) {
  Idea idea{"a soft starter", {}};
  for (std::size_t i = 0; i < basis.plant.start.units.size(); ++i)
    if (basis.plant.start.units[i].hasMotor() && !basis.plant.start.units[i].fitted)
      idea.edits.push_back({fmt::format("air_conditioners.{}.starting.soft_starter",
                                        basis.plant.airConditioners[i].name),
                            "yes"});
  return {Effort::purchase, idea.edits.empty() ? 0 : 1, [idea](int) { return idea; }};
}

Ladder thickerCable(const IdeaBasis& basis) {
  if (!basis.given.inverter || !basis.given.inverter->cable)
    return {};
  const double half_m = 0.5 * basis.given.inverter->cable->oneWay_m.value;
  return {Effort::purchase, 1, [half_m](int) {
            return Idea{fmt::format("4/0 AWG cable, {:.1f} m", half_m),
                        {{"inverter.cable.size", "4/0 AWG"},
                         {"inverter.cable.one_way", fmt::format("{:.3f} m", half_m)}}};
          }};
}

Ladder windowCovers(const IdeaBasis& basis) {
  if (!basis.plant.hasCabin)
    return {};
  // What cloth outside the glass lets through; from memory, 0.3 to 0.7 by its weave.
  constexpr double kThrough = 0.3;
  const double behind = kThrough * basis.resolved.cabin->sunThroughGlass.value;
  return {Effort::purchase, 1, [behind](int) {
            return Idea{"covers outside the windows",
                        {{"cabin.sun_through_glass", fmt::format("{:.1f} %", 100.0 * behind)}}};
          }};
}

Ladder chargerMakesRoom(const IdeaBasis& basis) {
  if (!basis.given.charger || !basis.given.generator || basis.plant.charger.makesRoom)
    return {};
  return {Effort::purchase, 1, [](int) {
            return Idea{"a charger that leaves the generator to the loads",
                        {{"charger.makes_room", "yes"}}};
          }};
}

Ladder morePanels(const IdeaBasis& basis) {
  if (basis.given.solar.empty())
    return {};
  constexpr double kStep_W = 100.0;
  const scenario::Array& first = basis.resolved.solar.front();
  const double now_W = first.rated_W.value;
  return {Effort::purchase, sizesUpTo(now_W, kStep_W), [&name = first.name, now_W](int rung) {
            const double power_W = now_W + kStep_W * rung;
            return Idea{fmt::format("panels of {:.0f} W more", kStep_W * rung),
                        {{fmt::format("solar.{}.rated", name.empty() ? "0" : name),
                          fmt::format("{:.0f} W", power_W)}}};
          }};
}

Ladder largerInverter(const IdeaBasis& basis) {
  if (!basis.given.inverter)
    return {};
  constexpr int kMostSizes = 4;
  return {Effort::purchase, kMostSizes,
          [now_W = basis.resolved.inverter->continuous_W.value](int rung) {
            double size_W = now_W;
            for (int i = 0; i < rung && !std::isnan(size_W); ++i)
              size_W = nextSize_W(1.001 * size_W);
            if (std::isnan(size_W))
              return Idea{};
            return Idea{fmt::format("an inverter of {:.0f} W", size_W),
                        {{"inverter.continuous", fmt::format("{:.0f} W", size_W)},
                         {"inverter.surge", "none"},
                         {"inverter.short_time_current", "none"}}};
          }};
}

Ladder largerCharger(const IdeaBasis& basis) {
  if (!basis.resolved.charger)
    return {};
  constexpr double kStep_A = 5.0;
  const double now_A = basis.resolved.charger->outputCurrent_A.value;
  return {Effort::purchase, sizesUpTo(now_A, kStep_A),
          [now_A](int rung) { return chargerOf(sizeUp(now_A, kStep_A, rung)); }};
}

Ladder largerGenerator(const IdeaBasis& basis) {
  if (!basis.resolved.generator)
    return {};
  constexpr double kStep_W = 100.0;
  const double now_W = basis.resolved.generator->continuous_W.value;
  return {Effort::purchase, sizesUpTo(now_W, kStep_W),
          [now_W](int rung) { return generatorOf(sizeUp(now_W, kStep_W, rung)); }};
}

Ladder largerBoth(const IdeaBasis& basis) {
  if (!basis.resolved.charger || !basis.resolved.generator)
    return {};
  constexpr double kStep = 0.1;
  return {Effort::purchase, sizesUpTo(1.0, kStep), [&resolved = basis.resolved](int rung) {
            const double times = 1.0 + kStep * rung;
            const double current_A = resolved.charger->outputCurrent_A.value;
            const double power_W = resolved.generator->continuous_W.value;
            Idea both = chargerOf(5.0 * std::ceil(times * current_A / 5.0));
            const Idea generator = generatorOf(100.0 * std::ceil(times * power_W / 100.0));
            both.words += " and " + generator.words;
            both.edits.insert(both.edits.end(), generator.edits.begin(), generator.edits.end());
            return both;
          }};
}

Ladder largerBank(const IdeaBasis& basis) {
  constexpr int kMostStrings = 4;
  if (basis.given.bank.batteries)
    return {Effort::purchase, kMostStrings,
            [&bank = basis.given.bank](int more) { return moreStrings(bank, more); }};
  constexpr double kStep_Ah = 10.0;
  const double now_Ah = basis.resolved.bank.capacity_Ah.value;
  return {Effort::purchase, sizesUpTo(now_Ah, kStep_Ah),
          [&bank = basis.given.bank, now_Ah](int rung) {
            const double size_Ah = sizeUp(now_Ah, kStep_Ah, rung);
            Idea idea{fmt::format("a bank of {:.0f} Ah", size_Ah),
                      {{"bank.capacity", fmt::format("{:.0f} Ah", size_Ah)}}};
            addRates(bank, size_Ah / now_Ah, idea);
            return idea;
          }};
}

}  // namespace nightbank
