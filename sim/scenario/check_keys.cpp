#include <algorithm>
#include <string>

#include "link.h"
#include "member.h"
#include "reading.h"
#include "value.h"
#include <fmt/format.h>

#include "nightbank/scenario/fields.h"

namespace nightbank::scenario {
namespace {

using Entries = std::span<const Field>;

// What is said when a required key is not there.
void missing(const Entries& entries, const Link& at, std::vector<Problem>& problems) {
  const std::string keyPath = pathOf(at, entries.front().key);
  std::string expected;
  for (const Field& field : entries)
    expected += fmt::format("{}{}", expected.empty() ? "" : ", or ", expectation(field));
  const bool isPart = entries.front().kind == Kind::part;
  problems.push_back({Problem::Severity::error, keyPath, "",
                      fmt::format("{} is missing; expected {}", keyPath, expected),
                      isPart ? fmt::format("'nightbank keys {}' tells more", keyPath) : "",
                      Problem::At::key});
}

// The keys of one branch: "voltage with capacity".
std::string branchText(const Spec& spec, int group, std::uint8_t branch) {
  std::string text;
  for (const std::string_view key : keysOf(spec)) {
    const Field& field = spec.find(key).front();
    if (field.group == group && field.branch == branch)
      text += fmt::format("{}{}", text.empty() ? "" : " with ", key);
  }
  return text;
}

std::vector<std::uint8_t> branchesOf(const Spec& spec, int group) {
  std::vector<std::uint8_t> branches;
  for (const Field& field : spec.fields)
    if (field.group == group && std::ranges::find(branches, field.branch) == branches.end())
      branches.push_back(field.branch);
  return branches;
}

// The branch that is in use: that of the first key given; 0: none.
std::uint8_t branchInUse(const Spec& spec, const void* part, int group) {
  for (const Field& field : spec.fields)
    if (field.group == group && isGiven(field, part))
      return field.branch;
  return 0;
}

// The first key of a branch.
std::string_view firstKey(const Spec& spec, int group, std::uint8_t branch) {
  for (const Field& field : spec.fields)
    if (field.group == group && field.branch == branch)
      return field.key;
  return "";
}

// Stands at a key of each branch, so that an error of either explains it.
void noBranch(const Spec& spec, int group, const Link& at, std::vector<Problem>& problems) {
  const std::vector<std::uint8_t> branches = branchesOf(spec, group);
  std::string choices;
  for (const std::uint8_t branch : branches)
    choices += fmt::format("{}{}", choices.empty() ? "" : " nor ", branchText(spec, group, branch));
  problems.push_back({Problem::Severity::error, pathOf(at, firstKey(spec, group, branches.front())),
                      pathOf(at, firstKey(spec, group, branches.back())),
                      fmt::format("{} has neither {}; give one of them", pathOf(at), choices), "",
                      Problem::At::key});
}

void secondBranch(const Spec& spec, const void* part, int group, std::uint8_t inUse, const Link& at,
                  std::vector<Problem>& problems) {
  std::string_view first;
  for (const Field& field : spec.fields) {
    if (field.group != group || !isGiven(field, part))
      continue;
    if (field.branch == inUse) {
      if (first.empty())
        first = field.key;
      continue;
    }
    const std::string path1 = pathOf(at, first);
    const std::string path2 = pathOf(at, field.key);
    problems.push_back({Problem::Severity::error, path2, path1,
                        fmt::format("{} and {} exclude each other; give one of them", path1, path2),
                        "", Problem::At::key});
  }
}

void checkGroup(const Spec& spec, const void* part, int group, const Link& at,
                std::vector<Problem>& problems) {
  const auto isNeeded = [&](const Field& f) { return f.group == group && f.isRequired; };
  if (std::ranges::none_of(spec.fields, [&](const Field& f) { return f.group == group; }))
    return;
  const std::uint8_t inUse = branchInUse(spec, part, group);
  if (inUse == 0) {
    if (std::ranges::any_of(spec.fields, isNeeded))
      noBranch(spec, group, at, problems);
    return;
  }
  secondBranch(spec, part, group, inUse, at, problems);
}

// Of two branches that exclude each other, neither is known to be the one to complete.
bool hasTwoBranches(const Spec& spec, const void* part, int group) {
  const std::uint8_t inUse = branchInUse(spec, part, group);
  return std::ranges::any_of(spec.fields, [&](const Field& field) {
    return field.group == group && field.branch != inUse && isGiven(field, part);
  });
}

bool isWanted(const Spec& spec, const Field& field, const void* part) {
  if (!field.isRequired)
    return false;
  return field.group == 0 || (branchInUse(spec, part, field.group) == field.branch &&
                              !hasTwoBranches(spec, part, field.group));
}

void checkPart(const Spec& spec, const void* part, const Link& at, std::vector<Problem>& problems);

void checkBelow(const Field& field, const void* part, const Link& at,
                std::vector<Problem>& problems) {
  const bool isEntered =
      field.kind == Kind::list || (field.kind == Kind::part && isGiven(field, part));
  const std::size_t count = isEntered ? countOf(field, part) : 0;
  for (std::size_t i = 0; i < count; ++i)
    checkPart(field.spec(), itemOf(field, part, i), {&at, &field, part, i}, problems);
}

void checkPart(const Spec& spec, const void* part, const Link& at, std::vector<Problem>& problems) {
  for (const int group : {1, 2})
    checkGroup(spec, part, group, at, problems);
  std::string_view before;
  for (const Field& field : spec.fields) {
    const bool isFirstEntry = field.key != before;
    before = field.key;
    if (isFirstEntry && isWanted(spec, field, part) && !isGiven(spec.find(field.key), part))
      missing(spec.find(field.key), at, problems);
    checkBelow(field, part, at, problems);
  }
}

// Whether one path is the other, or leads to it.
bool leadsTo(std::string_view path, std::string_view other) {
  return other.starts_with(path) && (path.size() == other.size() || path.empty() ||
                                     other[path.size()] == '.' || other[path.size()] == '[');
}

bool touches(std::string_view path, std::string_view known) {
  return leadsTo(path, known) || leadsTo(known, path);
}

bool isExplained(const Problem& problem, const std::vector<std::string>& known) {
  return std::ranges::any_of(known, [&](const std::string& path) {
    return touches(problem.path, path) ||
           (!problem.otherPath.empty() && touches(problem.otherPath, path));
  });
}

}  // namespace

void checkKeys(const Scenario& scenario, std::vector<Problem>& problems) {
  checkPart(specOf<Scenario>(), &scenario, {}, problems);
}

bool hasErrors(std::span<const Problem> problems) {
  return std::ranges::any_of(
      problems, [](const Problem& p) { return p.severity == Problem::Severity::error; });
}

void checkScenario(const Scenario& scenario, Reading& reading) {
  std::vector<std::string> known = reading.explained;
  for (const Problem& problem : reading.problems)
    if (problem.severity == Problem::Severity::error)
      known.push_back(problem.path);
  // A rule is not told of a key that is missing, nor either of a key that could not be read.
  for (const auto check : {&checkKeys, &checkRules}) {
    std::vector<Problem> found;
    check(scenario, found);
    std::erase_if(found, [&](const Problem& p) { return isExplained(p, known); });
    for (Problem& problem : found) {
      if (problem.severity == Problem::Severity::error)
        known.push_back(problem.path);
      reading.problems.push_back(std::move(problem));
    }
  }
}

}  // namespace nightbank::scenario
