#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "nightbank/scenario/field.h"
#include "nightbank/scenario/problem.h"

/// Paths of edits and slots. Private to the room.
namespace nightbank::scenario {

/// "loads.fridge.hours" or "loads[1].hours" as steps; empty where a step is.
std::vector<std::string_view> splitPath(std::string_view path);

/// The item by name, else by number from 0; nullopt: none.
std::optional<std::size_t> findItem(const Field& list, const void* part, std::string_view step);

/// The number that a step is; nullopt: none.
std::optional<std::size_t> numberOf(std::string_view step);

/// Why there is no such item.
Problem noItem(const Field& list, const void* part, const std::string& listPath,
               std::string_view step);
/// Why the path ends sooner or later than that.
Problem badPath(const std::string& path, std::string message);

/// The entry with parts below it; nullptr: none.
const Field* containerIn(std::span<const Field> entries);

}  // namespace nightbank::scenario
