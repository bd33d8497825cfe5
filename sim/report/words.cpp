#include "nightbank/report/words.h"

#include <algorithm>
#include <cctype>

#include "clauses.h"
#include <fmt/format.h>

#include "nightbank/report/figures.h"
#include "nightbank/report/findings.h"
#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

// Guesses that move the margin by less than this are not worth naming.
constexpr double kGuessWorthTelling_J = kWattHour_J;

std::string sentenceCase(std::string clause) {
  if (!clause.empty())
    clause[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(clause[0])));
  return clause;
}

// Clauses to sentences; the first goes on from what stands before it.
std::string sentences(const std::vector<std::string>& clauses) {
  std::string text;
  for (const std::string& clause : clauses)
    text += text.empty() ? clause + '.' : ' ' + sentenceCase(clause) + '.';
  return text;
}

std::string_view levelVerb(Level level) {
  switch (level) {
    case Level::holds:
      return "holds";
    case Level::marginal:
      return "is marginal";
    case Level::fails:
      return "fails";
  }
  return "";
}

// "9.523809524 mohm" as "9.52 mohm"; what is no number with a unit stays as it is.
std::string shortened(const std::string& text) {
  const std::size_t end = std::min(text.find(' '), text.size());
  const std::string_view number = std::string_view(text).substr(0, end);
  if (number.size() <= 5 || number.find_first_not_of("-.0123456789") != std::string_view::npos)
    return printable(text);
  return fmt::format("{:.3g}{}", std::stod(std::string(number)), printable(text.substr(end)));
}

// "at 30 W instead of 20 W"; lists are too long for a sentence.
std::string endsText(const Guess& guess) {
  constexpr std::size_t kLongest = 30;
  if (guess.badEnd.starts_with('[') || guess.badEnd.size() > kLongest ||
      guess.typical.size() > kLongest)
    return "at the bad end of its range";
  return fmt::format("at {} instead of {}", shortened(guess.badEnd), shortened(guess.typical));
}

// The typical values that do matter, by number.
std::ptrdiff_t guessesThatMatter(const Answer& answer) {
  const Level asRun = decidingNight(answer).judgement.level;
  return std::count_if(answer.guesses.begin(), answer.guesses.end(), [&](const Guess& guess) {
    return guess.level > asRun || guess.marginMoved_J < -kGuessWorthTelling_J;
  });
}

std::string cappedNote(const Answer& answer) {
  const Level asRun = decidingNight(answer).judgement.level;
  if (answer.level == asRun)
    return "";
  return fmt::format(" Only marginal, since it {} where typical values turn out badly.",
                     levelVerb(std::max(answer.allBadEnds,
                                        answer.deciding ? answer.deciding->level : answer.level)));
}

constexpr std::string_view kColours[] = {"\x1b[1;32m", "\x1b[1;33m", "\x1b[1;31m"};

std::string titleLines(const Answer& answer, const TextStyle& style) {
  const Plant& plant = answer.night.plant;
  std::string right = periodText(plant);
  const auto& site = answer.resolved.site;
  if (site && site->elevation_m.given)
    right += ", " + heightText(site->elevation_m.value, style.units);
  const std::string title = printable(plant.title.empty() ? "Without a title" : plant.title);
  const int room = kTextWidth - displayWidth(right) - 2;
  if (displayWidth(title) <= room)
    return padRight(title, kTextWidth - displayWidth(right)) + right + '\n';
  return wrapped(title, "", "") + padLeft(right, kTextWidth) + '\n';
}

}  // namespace

std::string_view levelWord(Level level) {
  return level == Level::holds ? "holds" : level == Level::marginal ? "marginal" : "fails";
}

std::string_view limitWord(Limit limit) {
  switch (limit) {
    case Limit::nothing:
      return "nothing";
    case Limit::floor:
      return "floor";
    case Limit::availability:
      return "availability";
    case Limit::cutoff:
      return "cutoff";
    case Limit::unitCutoff:
      return "unit_cutoff";
    case Limit::inverterRating:
      return "inverter_rating";
    case Limit::generatorRating:
      return "generator_rating";
    case Limit::shoreRating:
      return "shore_rating";
    case Limit::bankCurrent:
      return "bank_current";
    case Limit::inverterStart:
      return "inverter_start";
    case Limit::generatorStart:
      return "generator_start";
    case Limit::noSource:
      return "no_source";
    case Limit::tooWarm:
      return "too_warm";
    case Limit::quietHours:
      return "quiet_hours";
  }
  return "";
}

std::string_view limitedBy(const Answer& answer) {
  const Judgement& judged = decidingNight(answer).judgement;
  return answer.level == judged.level ? limitWord(judged.limit) : "typical_value";
}

std::string_view gradeWord(scenario::Grade grade) {
  switch (grade) {
    case scenario::Grade::typical:
      return "typical";
    case scenario::Grade::nameplate:
      return "nameplate";
    case scenario::Grade::measured:
      return "measured";
  }
  return "";
}

const Night& decidingNight(const Answer& answer) {
  if (answer.restingEnd && answer.restingEnd->judgement.level > answer.night.judgement.level)
    return *answer.restingEnd;
  return answer.night;
}

std::string nightSentence(const Answer& answer, const Night& night, UnitSystem units) {
  return sentenceCase(sentences(clausesOf({answer.resolved, night, units})));
}

std::string verdictSentence(const Answer& answer, UnitSystem units) {
  if (!answer.restingEnd)
    return "On these numbers " + sentences(clausesOf({answer.resolved, answer.night, units})) +
           cappedNote(answer);
  return fmt::format(
      "The duty is not known, so on these numbers there are two ends. If the compressor never "
      "rests, {} If it rests 60 % of the time, {}{}",
      sentences(clausesOf({answer.resolved, answer.night, units})),
      sentences(clausesOf({answer.resolved, *answer.restingEnd, units})), cappedNote(answer));
}

std::string guessSentence(const Answer& answer) {
  const std::ptrdiff_t count = guessesThatMatter(answer);
  if (!answer.deciding || count == 0)
    return "";
  const Guess& guess = *answer.deciding;
  const Finding finding = findingFor(answer.resolved, guess.path);
  const bool turns = guess.level > decidingNight(answer).judgement.level;
  const std::string then =
      turns ? fmt::format("it {}", levelVerb(guess.level))
            : fmt::format("it leaves {} less", format(-guess.marginMoved_J, Dim::energy));
  return fmt::format("Rests on {} typical value{}; {} {}: {} {}. To find it: {}.", count,
                     count == 1 ? "" : "s", finding.thing, turns ? "decides" : "matters most",
                     endsText(guess), then, finding.how);
}

std::string turnSentence(const Answer& answer) {
  if (!answer.turn)
    return "";
  if (!answer.turn->change)
    return fmt::format("None of {} single changes that were tried turns it.", answer.turn->tried);
  const TurningChange& change = *answer.turn->change;
  const std::string then =
      fmt::format("then it {}, {} at the lowest, at {}", levelVerb(change.level),
                  socText(change.lowestSoc), momentText(answer.night.plant, change.lowestAt_s));
  if (change.level == Level::holds)
    return fmt::format("Smallest tested change that turns it: {} ({}).", change.words, then);
  return fmt::format("No tested change alone makes it hold. Smallest that betters it: {} ({}).",
                     change.words, then);
}

std::string sleepersSentence(const Answer& answer) {
  double asleep_s = answer.night.outcome.generator.asleep_s;
  if (answer.restingEnd)
    asleep_s = std::max(asleep_s, answer.restingEnd->outcome.generator.asleep_s);
  if (!(asleep_s > 0.0))
    return "";
  return fmt::format(
      "CARBON MONOXIDE: the engine runs {} while people sleep. It kills unnoticed. Engine at least "
      "6 m (20 ft) away with the exhaust turned away from every opening, a tested alarm where they "
      "sleep, and no portable set left to start by itself.",
      durationText(asleep_s));
}

std::string verdictBlock(const Answer& answer, const TextStyle& style) {
  constexpr std::string_view kIndent = "          ";
  std::string word(levelWord(answer.level));
  std::transform(word.begin(), word.end(), word.begin(),
                 [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
  const std::string first = padRight(word, static_cast<int>(kIndent.size()));
  std::string verdict = wrapped(verdictSentence(answer, style.units), first, kIndent);
  if (style.colour)
    verdict.replace(0, word.size(),
                    std::string(kColours[static_cast<int>(answer.level)]) + word + "\x1b[0m");
  std::string text = titleLines(answer, style) + '\n' + verdict;
  text += wrapped(turnSentence(answer), kIndent, kIndent);
  text += wrapped(sleepersSentence(answer), kIndent, kIndent);
  text += wrapped(guessSentence(answer), kIndent, kIndent);
  return text;
}

}  // namespace nightbank::report
