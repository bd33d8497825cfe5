#include "nightbank/study/answer.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <span>
#include <stdexcept>
#include <string_view>
#include <utility>

#include "grade.h"
#include "night.h"
#include <fmt/format.h>

#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/simulate/derive_sun_track.h"
#include "nightbank/study/cabin_days.h"
#include "nightbank/study/parallel.h"
#include "nightbank/study/weather_day.h"

namespace nightbank {
namespace {

bool isWorse(const Variation& a, const Variation& b) {
  return a.level != b.level ? a.level > b.level : a.margin_J < b.margin_J;
}

/// At most three significant digits: "9.523809524" becomes "9.52".
std::string rounded(double value) {
  const double magnitude = value == 0.0 ? 0.0 : std::floor(std::log10(std::abs(value)));
  std::string text = fmt::format("{:.{}f}", value, std::max(0, 2 - static_cast<int>(magnitude)));
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.')
      text.pop_back();
  }
  return text;
}

/// The text of an edit as people read it: "9.523809524 mohm typical" becomes "9.52 mohm".
std::string forPeople(std::string text) {
  constexpr std::string_view kGrade = " typical";
  if (text.ends_with(kGrade))
    text.erase(text.size() - kGrade.size());
  double number = 0.0;
  const auto [rest, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  return error == std::errc{} ? rounded(number) + rest : text;
}

/// The worse of the two ends of one typical value.
std::optional<Guess> worseEnd(const NightBase& base, const scenario::TypicalValue& typical,
                              double margin_J) {
  std::optional<Guess> guess;
  std::optional<Variation> worst;
  for (const std::string& end : {typical.low, typical.high}) {
    if (end.empty())
      continue;
    const scenario::Edit edit{typical.path, end};
    const std::optional<Variation> now = varied(base, {&edit, 1});
    if (!now || (worst && !isWorse(*now, *worst)))
      continue;
    worst = now;
    guess = Guess{typical.path, forPeople(typical.value), forPeople(end), end,
                  now->level,   now->margin_J - margin_J};
  }
  return guess;
}

/// What only the test of a start looks at: no night without one moves by it.
bool isOfTheStart(std::string_view path) {
  return path.find(".starting.") != path.npos || path.ends_with(".short_time_current") ||
         path.ends_with(".transient_reactance") || path.ends_with(".surge_left");
}

std::vector<Guess> guessesOf(const NightBase& base, const Outcome& asUsed) {
  std::vector<scenario::TypicalValue> typical = scenario::typicalValues(base.given);
  if (!asUsed.starts.areTested)
    std::erase_if(typical, [](const auto& value) { return isOfTheStart(value.path); });
  std::vector<std::optional<Guess>> found(typical.size());
  inParallel(typical.size(), base.threads,
             [&](std::size_t i) { found[i] = worseEnd(base, typical[i], asUsed.bank.margin_J); });
  std::vector<Guess> guesses;
  for (std::optional<Guess>& guess : found)
    if (guess)
      guesses.push_back(std::move(*guess));
  std::stable_sort(guesses.begin(), guesses.end(), [](const Guess& a, const Guess& b) {
    return a.level != b.level ? a.level > b.level : a.marginMoved_J < b.marginMoved_J;
  });
  return guesses;
}

Level levelOfAllBadEnds(const NightBase& base, const std::vector<Guess>& guesses, Level asUsed) {
  std::vector<scenario::Edit> edits;
  for (const Guess& guess : guesses)
    if (guess.marginMoved_J < 0.0 || guess.level > asUsed)
      edits.push_back({guess.path, guess.badEndEdit});
  const std::optional<Variation> all = varied(base, edits);
  return all ? std::max(all->level, asUsed) : asUsed;
}

Answer answerOf(const scenario::Scenario& given, const WeatherSeries* series, int threads,
                CabinDays& days) {
  Answer answer;
  answer.resolved = scenario::resolve(given);
  const NightBase base{given, series, sunTrack(answer.resolved, series), days, threads};
  answer.night = nightOf(given, series, base.lent());
  const Level asUsed = answer.night.judgement.level;
  answer.guesses = guessesOf(base, answer.night.outcome);
  answer.allBadEnds = levelOfAllBadEnds(base, answer.guesses, asUsed);
  answer.level = asUsed;
  if (asUsed == Level::holds && answer.allBadEnds != Level::holds)
    answer.level = Level::marginal;
  if (!answer.guesses.empty() &&
      (answer.guesses.front().marginMoved_J < 0.0 || answer.guesses.front().level > asUsed))
    answer.deciding = answer.guesses.front();
  answer.grade = weakestGrade(given, answer.night);
  return answer;
}

}  // namespace

Answer answerOfDay(const scenario::Scenario& given, const WeatherSeries* series, int threads,
                   CabinDays& days) {
  if (!dutyIsUnknown(given))
    return answerOf(given, series, threads, days);
  Answer answer = answerOf(withDuty(given, kNeverRests), series, threads, days);
  answer.restingEnd = nightOf(withDuty(given, kRestsMost), series, {nullptr, days.lent()});
  answer.level = std::max(answer.level, answer.restingEnd->judgement.level);
  answer.grade = scenario::Grade::typical;
  return answer;
}

namespace {

std::vector<scenario::Problem> problemOf(const std::string& path, const std::string& why) {
  scenario::Problem problem;
  problem.path = path;
  problem.message = why;
  return {problem};
}

}  // namespace

std::variant<Answer, std::vector<scenario::Problem>> answerNight(const scenario::Scenario& given,
                                                                 const WeatherSeries* series,
                                                                 int threads, CabinDays& days) {
  try {
    if (series == nullptr || !given.weather || !given.weather->file)
      return answerOfDay(given, series, threads, days);
    const OnWeatherDay on = onWeatherDay(given, *series);
    Answer answer = answerOfDay(on.given, series, threads, days);
    answer.weatherDay = on.day;
    return answer;
  } catch (const Underivable& why) {
    return problemOf(why.path, why.what());
  } catch (const std::invalid_argument& why) {
    return problemOf("", why.what());
  }
}

std::variant<Answer, std::vector<scenario::Problem>> answerNight(const scenario::Scenario& given,
                                                                 const WeatherSeries* series,
                                                                 int threads) {
  CabinDays days;
  return answerNight(given, series, threads, days);
}

}  // namespace nightbank
