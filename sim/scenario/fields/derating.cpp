#include <array>
#include <cstddef>

#include "build.h"

#include "nightbank/units/constants.h"

namespace nightbank::scenario {
namespace {

using namespace build;

struct Rule {
  Slope altitude, heat;
};

constexpr double kPerThousandFeet_1_m = 1.0 / (1000 * kFoot_m);
constexpr double kPerTenFahrenheit_1_K = 1.8 / 10;

// Rules of four operators' and installers' manuals (seen); they disagree, and no standard decides.
// Height and heat are two factors; the last says nothing of heat.
const std::array<Rule, 4>& rules() {
  static const std::array<Rule, 4> all{
      {{{0.035 * kPerThousandFeet_1_m, 0.0}, {0.01 * kPerTenFahrenheit_1_K, fahrenheit_degC(77)}},
       {{0.03 / 500, 1000.0}, {0.03 / 5, 40.0}},
       {{0.035 / 300, 1500.0}, {0.03 / 5, 40.0}},
       {{0.03 * kPerThousandFeet_1_m, 0.0}, {}}}};
  return all;
}

// The rule asked for, else the hardest one, the first.
const Rule& ruleFor(const Derating& derating) {
  return rules()[derating.rule.given ? static_cast<std::size_t>(derating.rule.value) - 1 : 0];
}

void fill(Slope& slope, const Slope& byRule, const Derating& derating) {
  if (!slope.given)
    slope = {byRule.perUnit, byRule.above, derating.rule.grade, false};
}

void fillAltitude(const Scenario&, Derating& derating) {
  fill(derating.altitude, ruleFor(derating).altitude, derating);
}

void fillHeat(const Scenario&, Derating& derating) {
  fill(derating.heat, ruleFor(derating).heat, derating);
}

std::string otherAltitude(const Scenario&, const Derating& derating) {
  return derating.rule.given ? "" : "3 % per 500 m above 1000 m typical";
}

std::string otherHeat(const Scenario&, const Derating& derating) {
  return derating.rule.given ? "" : "3 % per 5 K above 40 degC typical";
}

}  // namespace

template <>
const Spec& specOf<Derating>() {
  static const Spec spec{
      "a derating",
      {
          slope<&Derating::altitude>("altitude", Dim::length, "loss with height (manual)")
              .oneOf(1, 'a')
              .filledBy<&fillAltitude>(
                  "3.5 % per 1000 ft above 0 ft, other end 3 % per 500 m above "
                  "1000 m")
              .upTo<&otherAltitude>(),
          slope<&Derating::heat>("heat", Dim::temperature, "loss in heat (manual)")
              .oneOf(1, 'a')
              .filledBy<&fillHeat>("1 % per 10 degF above 77 degF, other end 3 % per 5 K above "
                                   "40 degC")
              .upTo<&otherHeat>(),
          quantity<&Derating::rule>(
              "rule", Dim::count, between(1, static_cast<double>(rules().size())),
              "or a published rule: 1: 3.5 % per 1000 ft above sea level and 1 % per 10 degF above "
              "77 degF; 2: 3 % per 500 m above 1000 m and 3 % per 5 K above 40 degC; 3: 3.5 % per "
              "300 m above 1500 m and 3 % per 5 K above 40 degC; 4: 3 % per 1000 ft above sea "
              "level, no word of heat (the one your manual prints)")
              .oneOf(1, 'b'),
      },
      ""};
  return spec;
}

}  // namespace nightbank::scenario
