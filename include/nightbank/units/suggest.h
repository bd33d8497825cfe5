#pragma once

#include <span>
#include <string>
#include <string_view>

namespace nightbank {

/// The word that was most likely meant by `typed`: the one nearest by edits, for did-you-mean.
///
/// An edit is a letter more, less, changed, or two neighbours swapped, upper and lower case (ASCII)
/// being one; no part is edited twice (restricted Damerau-Levenshtein distance). At most three
/// edits, and at most half of the typed length. Ties go to the earlier word; "" where none is near.
std::string nearest(std::string_view typed, std::span<const std::string_view> words);

}  // namespace nightbank
