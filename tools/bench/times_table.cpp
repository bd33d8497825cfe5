#include <string>

#include "cvode.h"
#include "euler.h"
#include "tables.h"
#include <fmt/format.h>

namespace nightbank::bench {
namespace {

struct Row {
  std::string figure;
  std::string starts, error, measured, ratio, goal;
};

void print(const Row& row) {
  std::string line = fmt::format("{:<35}{:>6}{:>9}{:>10}{:>9}  {}", row.figure, row.starts,
                                 row.error, row.measured, row.ratio, row.goal);
  line.erase(line.find_last_not_of(' ') + 1);
  fmt::print("{}\n", line);
}

std::string errorText(double error) {
  return fmt::format("{:.1e}", error);
}

std::string timeText(double time_s) {
  if (time_s < 1e-6)
    return fmt::format("{:.0f} ns", time_s * 1e9);
  if (time_s < 1e-4)
    return fmt::format("{:.2f} us", time_s * 1e6);
  if (time_s < 1.0)
    return fmt::format("{:.3g} ms", time_s * 1e3);
  return fmt::format("{:.2f} s", time_s);
}

std::string ratioText(double ratio) {
  return ratio < 10.0 ? fmt::format("{:.2g}", ratio) : fmt::format("{:.0f}", ratio);
}

/// One night with all its contestants.
struct Block {
  const Case& timed;
  const Seconds& seconds;
  std::string name;

  double engine_s() const { return seconds.at(name); }

  void engine(const std::string& what, const std::string& error, const std::string& goal) const {
    print({fmt::format("{}, {} pieces", what, timed.pieces), std::to_string(timed.engine.starts),
           error, timeText(engine_s()), "1", goal});
  }

  void contestant(const std::string& what, const std::string& key, const Totals& totals,
                  const std::string& goal) const {
    const double time_s = seconds.at(name + "/" + key);
    print({"  " + what, std::to_string(totals.starts), errorText(difference(totals, timed.exact)),
           timeText(time_s), ratioText(time_s / engine_s()), goal});
  }

  void cvode(const std::string& goal) const {
    const double equal = timed.equalTolerance;
    contestant("CVODE, BDF, dense, 1e-6", "bdf", cvodeTotals(timed.plant, Method::bdfDense, 1e-6),
               goal);
    contestant("CVODE, Adams, 1e-6", "adams", cvodeTotals(timed.plant, Method::adams, 1e-6), "");
    contestant(fmt::format("CVODE, Adams, equal error, {:.0e}", equal), "equal",
               cvodeTotals(timed.plant, Method::adams, equal), goal);
  }
};

void printNights(const Cases& cases, const Seconds& seconds, double instructions) {
  const Block night{cases.night, seconds, "night"};
  night.engine("hot night of 14 h", errorText(cases.night.engineError), "<= 0.1 ms");
  print({"  a piece", "", "", timeText(night.engine_s() / static_cast<double>(cases.night.pieces)),
         "", "<= 350 ns"});
  print({"  a piece, instructions", "", "", fmt::format("{:.0f}", instructions), "", "<= 3000"});
  night.contestant("plain loop, 60 s", "60s", eulerTotals(cases.night.plant, 60.0), "");
  night.contestant("plain loop, 0.1 s", "0.1s", eulerTotals(cases.night.plant, 0.1), ">= 300");
  night.cvode(">= 20");
  const Block ruled{cases.ruled, seconds, "ruled"};
  ruled.engine("with rule and sun", errorText(cases.ruled.engineError), "");
  ruled.cvode(">= 20");
  const Block warm{cases.warm, seconds, "warm"};
  warm.engine("with cabin and thermostat", errorText(cases.warm.engineError), "<= 0.1 ms");
  warm.cvode(">= 20");
  const Block month{cases.month, seconds, "month"};
  month.engine("30 days", errorText(cases.month.engineError), "");
  month.cvode(">= 20");
  Block{cases.year, seconds, "year"}.engine("365 days", "", "<= 60 ms");
}

void printStudies(const Seconds& seconds) {
  const double night_s = seconds.at("night");
  const auto against = [&](const std::string& what, const std::string& key, double whole_s,
                           const std::string& goal) {
    const double time_s = seconds.at(key);
    print({what, "", "", timeText(time_s), ratioText(time_s / whole_s), goal});
  };
  against("10000 edited nights, 1 thread", "many/1", kManyNights * night_s, "");
  against("  2 threads (ratio to 1 thread)", "many/2", seconds.at("many/1"), "");
  against("whole process, YAML to verdict", "process", night_s, "<= 10 ms");
  against("edit by text, with copy", "edit/text", night_s, "");
  against("edit by slot, with copy", "edit/slot", night_s, "");
  against("parse the text", "parse", night_s, "");
  against("read the scenario", "read", night_s, "");
  against("fill in typical values", "resolve", night_s, "");
  against("derive the plant", "derive", night_s, "");
  against("verdict, all ends of typical values", "answer", night_s, "");
}

}  // namespace

void printTimes(const Cases& cases, const Seconds& seconds, double instructions) {
  fmt::print(
      "Least of all repeats, in mixed order. Ratio: to the engine on the same night (below the\n"
      "nights: to the hot night). Error: against CVODE at 1e-12, the charge at the end or an\n"
      "energy as a share of what the loads used, the larger.\n\n");
  print({"figure", "starts", "error", "time", "ratio", "goal"});
  printNights(cases, seconds, instructions);
  printStudies(seconds);
  fmt::print("\n");
}

}  // namespace nightbank::bench
