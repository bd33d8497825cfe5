#include <string>

#include "member.h"
#include "reading.h"
#include "shown.h"
#include <fmt/format.h>

#include "nightbank/scenario/fields.h"
#include "nightbank/units/suggest.h"

namespace nightbank::scenario {
namespace {

// The part in which a key stands, searched from the top: "bank"; "" where none has it.
std::string homeOf(std::string_view key, bool seldomToo, const Spec& spec, const std::string& path,
                   int depth) {
  for (const Field& field : spec.fields)
    if (field.key == key && !path.empty() && (seldomToo || !field.isSeldom))
      return path;
  if (depth == 0)
    return "";
  for (const Field& field : spec.fields)
    if (field.spec != nullptr) {
      const std::string home =
          homeOf(key, seldomToo, field.spec(), joinPath(path, field.key), depth - 1);
      if (!home.empty())
        return home;
    }
  return "";
}

// Of "inverter:{idle", what was meant as the key.
std::string_view beforeColon(std::string_view key) {
  return key.substr(0, key.find(':'));
}

std::string hintFor(const Spec& spec, std::string_view key) {
  if (beforeColon(key) != key)
    return "a blank follows the ':' of a key";
  const std::vector<std::string_view> keys = keysOf(spec);
  if (const std::string near = nearest(key, keys); !near.empty())
    return didYouMean(near);
  constexpr int kDepth = 2;
  for (const bool seldomToo : {false, true})  // what people mean is rather the common key
    if (const std::string home = homeOf(key, seldomToo, specOf<Scenario>(), "", kDepth);
        !home.empty())
      return fmt::format("that key stands in {}", home);
  constexpr std::size_t kMostListed = 8;
  return keys.size() <= kMostListed ? fmt::format("keys: {}", fmt::join(keys, ", ")) : "";
}

}  // namespace

std::string didYouMean(std::string_view suggestion) {
  return suggestion.empty() ? "" : fmt::format("did you mean '{}'?", suggestion);
}

std::string meantKey(const Spec& spec, std::string_view key) {
  return nearest(beforeColon(key), keysOf(spec));
}

Problem unknownKey(const Spec& spec, std::string_view key, const std::string& path) {
  Problem problem;
  problem.path = path;
  problem.at = Problem::At::key;
  constexpr std::size_t kMostShownBytes = 100;
  problem.message = fmt::format("{} is no key of {}", shortened(path, kMostShownBytes), spec.name);
  problem.hint = hintFor(spec, key);
  return problem;
}

}  // namespace nightbank::scenario
