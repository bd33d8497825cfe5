#pragma once

#include <span>
#include <string>
#include <vector>

#include "nightbank/report/warnings.h"
#include "nightbank/study/fit.h"

/// "Why did the night go otherwise than planned?" in words, for programs, and over time.
namespace nightbank::report {

/// A log under its name.
struct FitSource {
  std::string name;
  const Log* log = nullptr;
};

/// Of all nights together, from the logs' amperes; NaN where there is no current.
double fitGapShare(const Fit& fit);

/// Verdict, inputs with their errors and what each is worth, what is left as it was, nights, the
/// monitor, plan beside log, the next night, what was put right in the logs, cautions.
std::string fitText(const Fit& fit, std::span<const FitSource> sources);

/// The verdict alone.
std::string fitVerdict(const Fit& fit);

std::string fitJson(const Fit& fit, std::span<const FitSource> sources,
                    std::span<const Warning> ofReader = {});

/// Plan, log and fit minute by minute, RFC 4180; what the log does not cover is empty.
std::string fitCsv(const Fit& fit);

}  // namespace nightbank::report
