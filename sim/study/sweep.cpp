#include "nightbank/study/sweep.h"

#include <algorithm>
#include <bit>
#include <limits>

#include "night.h"
#include <fmt/format.h>

#include "nightbank/numerics/sobol.h"
#include "nightbank/scenario/stepped.h"
#include "nightbank/scenario/studies.h"
#include "nightbank/study/parallel.h"

namespace nightbank {
namespace {

constexpr std::uint64_t kTooMany = std::numeric_limits<std::uint64_t>::max();

// The hash FNV-1a of Fowler, Noll and Vo, 64 bits.
struct Fingerprint {
  std::uint64_t value = 0xcbf29ce484222325U;

  void add(std::string_view text) {
    for (const char c : text)
      addByte(static_cast<unsigned char>(c));
    addByte(0);  // so that "ab", "c" is not "a", "bc"
  }

  void add(std::uint64_t number) {
    for (int i = 0; i < 8; ++i)
      addByte(static_cast<unsigned char>(number >> (8 * i)));
  }

  void add(double number) { add(std::bit_cast<std::uint64_t>(number)); }

 private:
  void addByte(unsigned char byte) { value = (value ^ byte) * 0x100000001b3U; }
};

void addWeather(Fingerprint& print, const WeatherSeries& series) {
  for (const double number : {series.firstStamp_s, series.step_s, series.latitude_deg,
                              series.longitude_deg, series.utcOffset_s.value_or(1.0)})
    print.add(number);
  for (const WeatherRow& row : series.rows)
    for (const double number :
         {row.outdoor_degC, row.dewPoint_degC, row.humidity, row.wind_m_s, row.pressure_Pa,
          row.opaqueCloud, row.global_W_m2, row.direct_W_m2, row.diffuse_W_m2})
      print.add(number);
}

// The value at `share` (0..1) of an axis. Six digits, so that an edit stays short.
std::string axisValueAt(const SweepAxis& axis, double share) {
  if (axis.stretch) {
    const double value = axis.stretch->from + share * (axis.stretch->to - axis.stretch->from);
    return fmt::format("{:.6g}{}", value, axis.stretch->rest);
  }
  const auto count = static_cast<double>(axis.values.size());
  return axis.values[std::min(axis.values.size() - 1, static_cast<std::size_t>(share * count))];
}

SweepRow rowOf(const scenario::Scenario& given, const WeatherSeries* series,
               std::span<const scenario::Edit> edits, std::uint64_t run, CabinDays& days) {
  SweepRow row{run, std::nullopt, ""};
  const scenario::ReadResult edited = scenario::apply(given, edits);
  if (!edited.scenario) {
    const auto error = std::ranges::find(edited.problems, scenario::Problem::Severity::error,
                                         &scenario::Problem::severity);
    row.why = error->message;
    return row;
  }
  auto result = nightNumbers(*edited.scenario, series, days);
  if (const auto* problems = std::get_if<std::vector<scenario::Problem>>(&result))
    row.why = problems->front().message;
  else
    row.numbers = std::get<NightNumbers>(result);
  return row;
}

}  // namespace

std::uint64_t runsOf(const SweepPlan& plan) {
  if (plan.draws > 0)
    return plan.draws;
  std::uint64_t runs = 1;
  for (const SweepAxis& axis : plan.axes) {
    const std::uint64_t count = axis.values.size();
    if (count != 0 && runs > kTooMany / count)
      return kTooMany;
    runs *= count;
  }
  return runs;
}

std::uint64_t runsOf(const SweepPlan& plan, const Shard& shard) {
  const std::uint64_t runs = runsOf(plan);
  return runs < shard.index ? 0 : (runs - shard.index) / shard.of + 1;
}

std::vector<scenario::Edit> editsOf(const SweepPlan& plan, std::uint64_t run) {
  std::vector<scenario::Edit> edits(plan.axes.size());
  if (plan.draws > 0) {
    const Draws draws = evenDraws(plan.seed, plan.axes.size());
    for (std::size_t i = 0; i < edits.size(); ++i)
      edits[i] = {plan.axes[i].path,
                  axisValueAt(plan.axes[i], drawAt(draws, static_cast<std::uint32_t>(run), i))};
    return edits;
  }
  for (std::size_t i = edits.size(); i-- > 0;) {
    const SweepAxis& axis = plan.axes[i];
    edits[i] = {axis.path, axis.values[run % axis.values.size()]};
    run /= axis.values.size();
  }
  return edits;
}

std::uint64_t sweepId(const scenario::Scenario& given, const WeatherSeries* series,
                      const SweepPlan& plan) {
  Fingerprint print;
  const scenario::Scenario plain = scenario::withoutStudies(given);
  for (const std::string& path : scenario::givenPaths(plain)) {
    print.add(path);
    print.add(scenario::valueText(plain, path));
  }
  if (series != nullptr)
    addWeather(print, *series);
  for (const SweepAxis& axis : plan.axes) {
    print.add(axis.path);
    for (const std::string& value : axis.values)
      print.add(value);
    if (axis.stretch) {
      print.add(axis.stretch->from);
      print.add(axis.stretch->to);
      print.add(axis.stretch->rest);
    }
  }
  print.add(plan.draws);
  print.add(plan.draws > 0 ? plan.seed : 0);
  return print.value;
}

std::vector<SweepRow> sweep(const scenario::Scenario& given, const WeatherSeries* series,
                            const SweepPlan& plan, const Shard& shard, int threads,
                            const SweepWatch& watch) {
  const scenario::Scenario plain = scenario::withoutStudies(given);
  const auto count = static_cast<std::size_t>(runsOf(plan, shard));
  std::vector<std::optional<SweepRow>> rows(count);
  CabinDays days;
  ProgressCounter counter(watch.progress, count);
  inParallel(count, threads, [&](std::size_t i) {
    if (watch.stop != nullptr && *watch.stop)
      return;
    const std::uint64_t run = shard.index - 1 + i * shard.of;
    rows[i] = rowOf(plain, series, editsOf(plan, run), run, days);
    counter.add();
  });
  std::vector<SweepRow> done;
  for (std::optional<SweepRow>& row : rows)
    if (row)
      done.push_back(std::move(*row));
  return done;
}

}  // namespace nightbank
