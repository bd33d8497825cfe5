#include "build.h"

#include "nightbank/units/constants.h"

namespace nightbank::scenario {
namespace {

using namespace build;

constexpr double kMostMoney = 1e9;

}  // namespace

template <>
const Spec& specOf<LifePoint>() {
  static const Spec spec{
      "a point of the cycle life",
      {
          share<&LifePoint::depth>("depth", above(0, 1), "of each discharge (data sheet)")
              .required(),
          quantity<&LifePoint::cycles>("cycles", Dim::number, between(1, 1e6),
                                       "of that depth, to the end of life (data sheet)")
              .required(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<BankPrice>() {
  static const Spec spec{
      "the bank's price",
      {
          quantity<&BankPrice::purchase>("purchase", Dim::number, between(0, kMostMoney),
                                         "a new one, in your currency (quote)")
              .required(),
          list<&BankPrice::cycleLife>("cycle_life",
                                      "cycles to the end of life at two or more depths; without, "
                                      "cycles cost nothing (data sheet)"),
          quantity<&BankPrice::years>("years", Dim::number, above(0, 100),
                                      "it lasts however little it is used (data sheet)"),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<Purchase>() {
  static const Spec spec{
      "a purchase",
      {
          value<&Purchase::name>("name", Kind::name, "what it is (your word)").required(),
          quantity<&Purchase::price>("price", Dim::number, between(0, kMostMoney),
                                     "in your currency (quote)")
              .required(),
          quantity<&Purchase::years>("years", Dim::number, above(0, 100),
                                     "it lasts (your judgement)")
              .required()
              .oneOf(1, 'a'),
          quantity<&Purchase::engine_s>("engine_hours", Dim::duration, above(0, 1e5 * kHour_s),
                                        "or it lasts, of the generator (your judgement)")
              .usually("h")
              .required()
              .oneOf(1, 'b'),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<Prices>() {
  static const Spec spec{
      "prices",
      {
          value<&Prices::currency>("currency", Kind::text, "such as USD (your choice)"),
          quantity<&Prices::oilChange>("oil_change", Dim::number, between(0, kMostMoney),
                                       "one of them, in your currency (quote)"),
          part<&Prices::bank>("bank", "what a new bank costs, and what wears it out"),
          list<&Prices::purchases>("purchases", "what else was bought, and how long it lasts"),
          quantity<&Prices::nightsPerYear>("nights_per_year", Dim::number, between(1, 366),
                                           "that it is used, for what lasts for years (your plan)"),
      },
      ""};
  return spec;
}

}  // namespace nightbank::scenario
