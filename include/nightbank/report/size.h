#pragma once

#include <span>
#include <string>
#include <string_view>

#include "nightbank/report/text.h"
#include "nightbank/report/warnings.h"
#include "nightbank/scenario/scenario.h"
#include "nightbank/study/size.h"

/// The least-cost set in words and for programs.
namespace nightbank::report {

/// What the words need besides the answer.
struct SizeQuestion {
  const scenario::Scenario& given;
  SizeAsked asked;
};

/// "The cheapest set that holds: 1250 in money, ..."; or that none does, and the nearest.
std::string sizeSentence(const SizeAnswer& answer, const SizeQuestion& question);

/// The sentence as lines of text.
std::string sizeVerdict(const SizeAnswer& answer, const SizeQuestion& question);

/// The verdict, the set, what one more and one less of each buys, the trade-off, standard sizes.
std::string sizeText(const SizeAnswer& answer, const SizeQuestion& question,
                     const TextStyle& style);

std::string sizeJson(const SizeAnswer& answer, const SizeQuestion& question,
                     std::span<const Warning> ofReader = {});

}  // namespace nightbank::report
