#include <array>

#include "build.h"

#include "nightbank/units/constants.h"

namespace nightbank::scenario {
namespace {

using namespace build;

constexpr std::array<std::string_view, 5> kAims = {"fuel", "hours", "starts", "late_start",
                                                   "money"};

/// As long as `run` bears it without a word. Without windows a plan changes hardly a degree.
Typical mostWarm(const Scenario&, const Plan& plan) {
  constexpr double kBorne_s = 30 * kMinute_s;
  return plan.setpoints.empty() ? Typical{} : Typical{kBorne_s, kBorne_s, kBorne_s};
}

}  // namespace

template <>
const Spec& specOf<SetpointWindow>() {
  static const Spec spec{
      "a window of setpoints",
      {
          value<&SetpointWindow::hours>("hours", Kind::hours,
                                        "in which the plan may choose one setting (your choice)")
              .required(),
          quantity<&SetpointWindow::coolest_degC>("coolest", Dim::temperature, between(5, 45),
                                                  "the lowest setting of the choice (your choice)")
              .required(),
          quantity<&SetpointWindow::warmest_degC>("warmest", Dim::temperature, between(5, 45),
                                                  "the highest setting of the choice (your choice)")
              .required(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<Plan>() {
  static const Spec spec{
      "a plan",
      {
          word<&Plan::aim>("aim", kAims, "what the plan of 'nightbank plan' makes least of (wish)")
              .byDefault(0, "fuel"),
          share<&Plan::reserve>("reserve", between(0, 0.5),
                                "of the bank, kept above its floor (your choice)")
              .byDefault(0, "0 %"),
          // Rule-driven sets and manuals ask for half an hour, so that oil and exhaust get hot.
          quantity<&Plan::leastRun_s>("least_run", Dim::duration, between(0, kDay_s),
                                      "of every planned run, warm-up included (manual)")
              .usually("min")
              .byDefault(30 * kMinute_s, "30 min"),
          // Common practice, no source: nobody walks out twice in half an hour.
          quantity<&Plan::leastRest_s>("least_rest", Dim::duration, between(0, kDay_s),
                                       "engine off between two planned runs (your choice)")
              .usually("min")
              .byDefault(30 * kMinute_s, "30 min"),
          // Common practice, no source: a start wears, and somebody has to be there.
          quantity<&Plan::startWorth_m3>("start_worth", Dim::volume, between(0, 100 * kLitre_m3),
                                         "fuel that one start less is worth (your choice)")
              .byDefault(0.1 * kLitre_m3, "0.1 L"),
          word<&Plan::whileAsleep>("while_asleep", kNoYes,
                                   "an engine may run while people sleep: carbon monoxide (wish)")
              .byDefault(0, "no"),
          list<&Plan::setpoints>("setpoints",
                                 "hours in which the plan may choose what thermostats cool to"),
          quantity<&Plan::tooWarm_s>("too_warm_at_most", Dim::duration, between(0, 30 * kDay_s),
                                     "above occupants.too_warm_above, somebody at home (your "
                                     "choice)")
              .usually("min")
              .from<&mostWarm>("with setpoints: 30 min"),
      },
      ""};
  return spec;
}

}  // namespace nightbank::scenario
