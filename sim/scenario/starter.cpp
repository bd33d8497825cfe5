#include "nightbank/scenario/starter.h"

#include <array>
#include <cstddef>

#include <fmt/format.h>

#include "nightbank/scenario/document.h"
#include "nightbank/scenario/edit.h"
#include "nightbank/scenario/reader.h"

namespace nightbank::scenario {
namespace {

enum Answer : std::size_t { night, mains, hours, current, duty, chemistry, voltage, capacity };

constexpr std::array kQuestions = std::to_array<StarterQuestion>({
    {"period.night_of", "Which night? Give the date of its evening.",
     "a calendar, such as 2026-07-18", "2026-07-18"},
    {"mains", "Which voltage do the sockets have?",
     "the label of the air conditioner, such as 120 V", "120 V"},
    {"air_conditioners.roof.hours", "From when to when shall it cool?",
     "your plan, such as 21:30-06:30", "21:30-06:30"},
    {"air_conditioners.roof.running.current",
     "How many amperes does the air conditioner draw while it runs?",
     "a clamp meter at its feeder after 15 minutes (write: 13.1 A measured), or its label",
     "1500 W, the usual draw of a 13,500 BTU/h unit"},
    {"air_conditioners.roof.duty", "Which share of the time does its compressor run?",
     "watch it for an hour at dusk: 36 of 60 minutes are 60 %", ""},
    {"bank.chemistry", "What are the batteries: flooded, agm, gel or lfp?", "their label", "agm"},
    {"bank.voltage", "Which voltage does the whole bank have?", "their label, such as 12 V",
     "12 V"},
    {"bank.capacity", "How many ampere-hours, or kilowatt-hours, does the whole bank hold?",
     "their labels, such as 200 Ah or 5.12 kWh", "200 Ah"},
});

bool isAnswer(std::string_view text) {
  return !text.empty() && text != "not known" && text != "unknown" && text != "?";
}

// As YAML on one line, without a comment that may stand in the answer.
std::string plainText(const std::string& answer) {
  const Parsed parsed = parseSnippet(answer, "", "answer");
  const auto* document = std::get_if<Document>(&parsed);
  return document == nullptr ? answer : flowText(document->root);
}

std::optional<std::string> answerTo(const StarterAnswers& answers, Answer which) {
  if (which >= answers.texts.size() || !answers.texts[which] || !isAnswer(*answers.texts[which]))
    return std::nullopt;
  return plainText(*answers.texts[which]);
}

// A line of the text with its comment in the common column.
std::string line(std::string_view yaml, std::string_view comment) {
  return fmt::format("{:<44} # {}\n", yaml, comment);
}

std::string valueLine(const StarterAnswers& answers, Answer which, std::string_view key,
                      std::string_view otherwise, std::string_view comment) {
  const auto answer = answerTo(answers, which);
  return line(fmt::format("{}: {}", key, answer ? *answer : otherwise), comment);
}

constexpr std::string_view kAbout =
    R"(# A night to start from: change what is yours. After a value may stand how it
# is known: measured, nameplate or typical. What you do not know, leave out: a
# typical value stands in, with its range. All keys: nightbank keys
)";

constexpr std::string_view kRest =
    R"(
inverter:
  continuous: 2000 W                         # what it gives for hours: label
  # idle: 22 W measured                      # battery monitor, nothing to feed

# loads:                                     # what else runs at night
#   - {name: fridge, fed_from: battery, power: 55 W, duty: 40 %}

# generator:
#   continuous: 1600 W                       # the smaller number on the box
#   run: ["17:00-19:30"]                     # started by hand at these hours
# charger: {output_current: 60 A}            # from the generator into the bank

# weather: {design_day: {high: 92 degF, low: 64 degF}}
# site: {latitude: 38.6, longitude: -107.9}  # needed for solar: from a map
# solar:
#   - {name: roof, rated: 400 W}
)";

std::string startOf(const StarterAnswers& answers) {
  const std::string day = answerTo(answers, night).value_or("2026-07-18");
  return fmt::format(
      "{}title: First night\n{}{}\n", kAbout,
      line(fmt::format("period: {{night_of: {}}}", day), "17:00 to 09:00 of the next day"),
      valueLine(answers, mains, "mains", "120 V", "voltage of the sockets"));
}

std::string runningLine(const StarterAnswers& answers) {
  const auto answer = answerTo(answers, current);
  if (!answer)
    return line("    running: {power: 1500 W typical}", "not known: clamp it, give current");
  return line(fmt::format("    running: {{current: {}}}", *answer), "at its feeder, fan on");
}

std::string dutyLine(const StarterAnswers& answers) {
  const auto answer = answerTo(answers, duty);
  return answer ? line("    duty: " + *answer, "compressor minutes / all minutes")
                : line("    # duty: 60 %", "not known: answered for two ends");
}

std::string unitOf(const StarterAnswers& answers) {
  const std::string spans = answerTo(answers, hours).value_or("\"21:30-06:30\"");
  const std::string list = spans.starts_with('[') ? spans : fmt::format("[{}]", spans);
  return fmt::format("air_conditioners:\n  - name: roof\n{}{}{}\n",
                     line("    hours: " + list, "when it may run"), runningLine(answers),
                     dutyLine(answers));
}

std::string bankOf(const StarterAnswers& answers) {
  const bool knowsCapacity = answerTo(answers, capacity).has_value();
  return fmt::format(
      "bank:\n{}{}{}{}",
      valueLine(answers, chemistry, "  chemistry", "agm", "flooded, agm, gel or lfp"),
      valueLine(answers, voltage, "  voltage", "12 V", "of the whole bank, as printed"),
      valueLine(answers, capacity, "  capacity", "200 Ah typical",
                knowsCapacity ? "as rated; or in kWh" : "not known: look at the labels"),
      line("  # start_at: 95 % measured", "at 17:00: battery monitor"));
}

Scenario usualScenario() {
  const Parsed parsed = parseDocument(starterScenario(), "starter");
  return readScenario(std::get<Document>(parsed)).scenario.value();
}

// What is wrong with an answer in a bank of that chemistry.
std::optional<Problem> problemWith(const StarterQuestion& question, std::string_view text,
                                   std::string_view ofChemistry) {
  const std::array edits = {Edit{"bank.chemistry", std::string(ofChemistry)},
                            Edit{std::string(question.path), std::string(text)}};
  for (const Problem& problem : scenario::apply(usualScenario(), edits).problems)
    if (problem.severity == Problem::Severity::error)
      return problem;
  return std::nullopt;
}

}  // namespace

std::span<const StarterQuestion> starterQuestions() {
  return kQuestions;
}

std::string starterScenario(const StarterAnswers& answers) {
  return fmt::format("{}{}{}{}", startOf(answers), unitOf(answers), bankOf(answers), kRest);
}

std::string starterScenario() {
  StarterAnswers usual;
  usual.texts.resize(kQuestions.size());
  usual.texts[current] = "13 A";
  usual.texts[duty] = "60 %";
  usual.texts[capacity] = "200 Ah";
  return starterScenario(usual);
}

std::optional<Problem> answerProblem(const StarterQuestion& question, std::string_view text) {
  if (!isAnswer(text))
    return std::nullopt;
  // The bank may be of either kind: whether answers fit together is seen when all are there.
  const auto problem = problemWith(question, text, "agm");
  return problem && problemWith(question, text, "lfp") ? problem : std::nullopt;
}

}  // namespace nightbank::scenario
