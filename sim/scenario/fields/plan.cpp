#include <array>

#include "build.h"

#include "nightbank/units/constants.h"

namespace nightbank::scenario {
namespace {

using namespace build;

constexpr std::array<std::string_view, 4> kAims = {"fuel", "hours", "starts", "late_start"};

}  // namespace

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
      },
      ""};
  return spec;
}

}  // namespace nightbank::scenario
