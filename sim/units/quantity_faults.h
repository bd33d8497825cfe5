#pragma once

#include <optional>
#include <string_view>

#include "nightbank/units/quantity.h"

/// The two halves of parseQuantity. Private to the room.
namespace nightbank::detail {

/// nullopt where `text` is no quantity of `wanted`.
std::optional<Quantity> readQuantity(std::string_view text, Dim wanted);

/// Why readQuantity refused `text`, and the nearest text that it reads.
QuantityError explainQuantity(std::string_view text, Dim wanted);

bool isBare(Dim dim);

/// At most 24 bytes of what was typed, cut between characters, for messages.
std::string shortened(std::string_view typed);

}  // namespace nightbank::detail
