#include "path.h"

#include <algorithm>
#include <charconv>

#include "member.h"
#include "reading.h"
#include <fmt/format.h>

#include "nightbank/scenario/document.h"
#include "nightbank/units/suggest.h"

namespace nightbank::scenario {

std::vector<std::string_view> splitPath(std::string_view path) {
  std::vector<std::string_view> steps;
  while (true) {
    const std::size_t end = std::min(path.find_first_of(".["), path.size());
    std::string_view step = path.substr(0, end);
    if (step.ends_with(']'))
      step.remove_suffix(1);
    if (step.empty())
      return {};
    steps.push_back(step);
    if (end == path.size())
      return steps;
    path.remove_prefix(end + 1);
  }
}

std::optional<std::size_t> numberOf(std::string_view step) {
  std::size_t number = 0;
  const auto [end, error] = std::from_chars(step.data(), step.data() + step.size(), number);
  if (error != std::errc{} || end != step.data() + step.size())
    return std::nullopt;
  return number;
}

std::optional<std::size_t> findItem(const Field& list, const void* part, std::string_view step) {
  const std::size_t count = countOf(list, part);
  for (std::size_t i = 0; i < count; ++i)
    if (nameOf(list.spec(), itemOf(list, part, i)) == step)
      return i;
  const auto number = numberOf(step);
  return number && *number < count ? number : std::nullopt;
}

Problem badPath(const std::string& path, std::string message) {
  return {Problem::Severity::error, path, "", std::move(message), "", Problem::At::key};
}

Problem noItem(const Field& list, const void* part, const std::string& listPath,
               std::string_view step) {
  std::vector<std::string_view> names;
  const std::size_t count = part == nullptr ? 0 : countOf(list, part);
  for (std::size_t i = 0; i < count; ++i)
    if (const std::string_view name = nameOf(list.spec(), itemOf(list, part, i)); !name.empty())
      names.push_back(name);
  std::string has = count == 1 ? "1 item" : fmt::format("{} items", count);
  if (!names.empty())
    has = fmt::format("{}", fmt::join(names, ", "));
  Problem problem = badPath(joinPath(listPath, step), fmt::format("{} has no item {}; it has {}",
                                                                  listPath, quote(step), has));
  problem.hint = didYouMean(nearest(step, names));
  return problem;
}

const Field* containerIn(std::span<const Field> entries) {
  const auto found =
      std::ranges::find_if(entries, [](const Field& field) { return field.items != nullptr; });
  return found == entries.end() ? nullptr : &*found;
}

}  // namespace nightbank::scenario
