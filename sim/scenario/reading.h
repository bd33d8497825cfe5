#pragma once

#include <span>
#include <string>
#include <vector>

#include "nightbank/scenario/document.h"
#include "nightbank/scenario/field.h"
#include "nightbank/scenario/problem.h"
#include "nightbank/scenario/scenario.h"

/// From nodes to members, with everything that is wrong. Private to the room.
namespace nightbank::scenario {

struct Reading {
  std::vector<Problem> problems;
  std::vector<std::string> explained;  ///< further paths of which nothing more need be said

  void error(const std::string& path, std::string message, std::string hint = "",
             Problem::At at = Problem::At::value);
  void warning(const std::string& path, std::string message, Problem::At at = Problem::At::value);
};

/// Reads a map (or the value that the spec's shorthand stands for) into the part.
void readPart(const Spec& spec, void* part, const Node& node, const std::string& path,
              Reading& reading);

/// Reads the value of one key into the entry that takes its shape.
void readKey(std::span<const Field> entries, void* part, const Node& node, const std::string& path,
             Reading& reading);

/// Reads a list, but no list of parts: spans, sources, efficiency points.
void readPlainList(const Field& field, void* part, const Node& node, const std::string& path,
                   Reading& reading);

/// An error for a key that is none of the spec's, with the nearest, or the part where it belongs.
Problem unknownKey(const Spec& spec, std::string_view key, const std::string& path);

/// The key of the spec that may have been meant by an unknown one, or stands in for it for now; "".
std::string meantKey(const Spec& spec, std::string_view key);

/// Required keys, and branches that exclude each other.
void checkKeys(const Scenario& scenario, std::vector<Problem>& problems);

/// Rules across fields.
void checkRules(const Scenario& scenario, std::vector<Problem>& problems);

/// checkKeys and checkRules, without what the problems so far explain already.
void checkScenario(const Scenario& scenario, Reading& reading);

/// The edits of variants and of what could be bought.
void checkStudies(const Scenario& scenario, Reading& reading);

bool hasErrors(std::span<const Problem> problems);

/// "did you mean 'lfp'?"; "" for "".
std::string didYouMean(std::string_view suggestion);

}  // namespace nightbank::scenario
