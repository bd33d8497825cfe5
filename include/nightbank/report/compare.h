#pragma once

#include <span>
#include <string>

#include "nightbank/report/text.h"
#include "nightbank/report/warnings.h"
#include "nightbank/study/compare.h"

/// A comparison in words, for programs, and as a table.
namespace nightbank::report {

/// How many hold and which has most to spare, in one sentence.
/// @param all  at least one, here and below
std::string compareSentence(std::span<const Compared> all);

/// The same as lines of text.
std::string compareVerdict(std::span<const Compared> all);

/// The verdict, the table, what each differs in from the first, cautions.
std::string compareText(std::span<const Compared> all, const TextStyle& style);

std::string compareJson(std::span<const Compared> all, std::span<const Warning> ofReader = {});

/// One row per scenario, RFC 4180.
std::string compareCsv(std::span<const Compared> all);

/// What `to` does differently from `from`, in words.
std::string compareChange(const Compared& from, const Compared& to, UnitSystem units);

}  // namespace nightbank::report
