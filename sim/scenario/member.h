#pragma once

#include <string>
#include <string_view>

#include "nightbank/scenario/field.h"

/// What is in a member, whatever its kind. Private to the room.
namespace nightbank::scenario {

/// Written by the user. A plain part: any field in it.
bool isGiven(const Field& field, const void* part);
/// Any entry of a key.
bool isGiven(std::span<const Field> entries, const void* part);

/// As if it had been left out.
void clear(const Field& field, void* part);
/// All entries of the key, and the other branches of its group.
void makeRoom(const Spec& spec, std::span<const Field> entries, void* part);

std::size_t countOf(const Field& field, const void* part);
/// A part or item that is there.
void* itemOf(const Field& field, void* part, std::size_t index = 0);
const void* itemOf(const Field& field, const void* part, std::size_t index = 0);

/// The name of an item; "" where it has none.
std::string_view nameOf(const Spec& spec, const void* item);
/// The path of an item: by its name, where no item before it has the same, else "[1]".
std::string itemPath(const std::string& listPath, const Field& list, const void* part,
                     std::size_t index);

/// The keys of a spec, each once, in the order of the list.
std::vector<std::string_view> keysOf(const Spec& spec);

}  // namespace nightbank::scenario
