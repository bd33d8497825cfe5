#include "build.h"

namespace nightbank::scenario {
namespace {

using namespace build;

}  // namespace

template <>
const Spec& specOf<Variant>() {
  static const Spec spec{
      "a variant",
      {
          value<&Variant::name>("name", Kind::name, "what the comparison calls it (your word)")
              .required(),
          value<&Variant::set>("set", Kind::edits, "paths with their new values (your plan)")
              .required(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<Sizing>() {
  static const Spec spec{
      "the sizing",
      {
          quantity<&Sizing::nights>(
              "nights", Dim::fraction, above(0, 1),
              "share of the weather file's nights that must hold; else the one night (your "
              "choice)"),
          quantity<&Sizing::mostMoney>("most_money", Dim::number, between(0, 1e9),
                                       "limit of all prices together (your purse)"),
          quantity<&Sizing::mostMass_kg>("most_mass", Dim::mass, between(0, 1e5),
                                         "limit of all masses together (what the axles have left)"),
          quantity<&Sizing::mostNoise_dBA>("most_noise", Dim::soundLevel, between(0, 140),
                                           "limit of what runs, at 7 m (rules of the site)"),
          list<&Sizing::choose>("choose", "up to 8 choices; one option of each is taken")
              .required(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<SizingChoice>() {
  static const Spec spec{
      "a choice",
      {
          value<&SizingChoice::name>("name", Kind::name, "what is chosen: bank (your word)")
              .required(),
          list<&SizingChoice::options>("options", "up to 32, each with a name").required(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<SizingOption>() {
  static const Spec spec{
      "an option",
      {
          value<&SizingOption::name>("name", Kind::name, "what the list calls it (your word)")
              .required(),
          value<&SizingOption::set>("set", Kind::edits,
                                    "paths with their values, where it is taken (your plan)"),
          part<&SizingOption::units>("units", "where it is bought by the piece"),
          quantity<&SizingOption::price>("price", Dim::number, between(0, 1e9),
                                         "of one piece (your own quote)")
              .required(),
          quantity<&SizingOption::mass_kg>("mass", Dim::mass, between(0, 1e5),
                                           "of one piece (data sheet)"),
          quantity<&SizingOption::noise_dBA>("noise", Dim::soundLevel, between(0, 140),
                                             "of one piece while it runs, at 7 m (data sheet)"),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<SizingUnits>() {
  static const Spec spec{
      "units",
      {
          value<&SizingUnits::of>("of", Kind::text,
                                  "path of the value that grows with the pieces (your plan)")
              .required(),
          value<&SizingUnits::each>("each", Kind::text,
                                    "that value for one piece: 100 Ah, or 1 (data sheet)")
              .required(),
          quantity<&SizingUnits::from>("from", Dim::count, between(1, 1000),
                                       "fewest pieces (your choice)")
              .required(),
          quantity<&SizingUnits::to>("to", Dim::count, between(1, 1000),
                                     "most pieces (your choice)")
              .required(),
      },
      ""};
  return spec;
}

}  // namespace nightbank::scenario
