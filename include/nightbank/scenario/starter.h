#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "nightbank/scenario/problem.h"

/// A first scenario to start from, commented, which runs as it is.
namespace nightbank::scenario {

std::string starterScenario();

/// A plain question whose answer fills in one key of the starter.
struct StarterQuestion {
  std::string_view path;      ///< "bank.capacity", an Edit path into the starter
  std::string_view question;  ///< "How many ampere-hours does the bank hold?"
  std::string_view where;     ///< where a person finds it, with an example: "label, e.g. 200 Ah"
  std::string_view
      typical;  ///< what stands in while it is not known, "" where a typical value does
};

/// At most eight, in the order to ask.
std::span<const StarterQuestion> starterQuestions();

/// Answers in the order of starterQuestions(). Missing, empty or "not known": not answered.
struct StarterAnswers {
  std::vector<std::optional<std::string>> texts;
};

/// Why `text` is no answer to that question, so that it can be asked again; nullopt where it is
/// one.
std::optional<Problem> answerProblem(const StarterQuestion& question, std::string_view text);

/// The starter with the answers in it; what is not answered is left to the typical values and
/// marked in a comment. Answers must have passed answerProblem().
std::string starterScenario(const StarterAnswers& answers);

}  // namespace nightbank::scenario
