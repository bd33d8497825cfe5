#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "nightbank/report/sections.h"
#include "nightbank/report/size.h"

/// What text and page of a sizing share. Private to the room.
namespace nightbank::report {

/// So many sets of the trade-off are told.
inline constexpr std::size_t kMostTradeOff = 20;

/// "1250 USD"
std::string sizeMoneyText(const SizeQuestion& question, double money);

std::string massText(double mass_kg, UnitSystem units);

/// "3 x block"
std::string itemName(const SizeAnswer& answer, const SizeSet& set, std::size_t choice);

/// "bank 3 x block, inverter small"
std::string setText(const SizeAnswer& answer, const SizeSet& set);

/// How many sets there are and were run.
std::string effortText(const SizeAnswer& answer);

/// Mass and noise of the best, which there is.
std::string bestLine(const SizeAnswer& answer, UnitSystem units);

/// What to buy for the best set, which there is, and the sums.
Section boughtSection(const SizeAnswer& answer, const SizeQuestion& question, UnitSystem units);

/// Steps around the best, trade-off, sizes with headroom; none where no set holds.
std::vector<Section> sizeSections(const SizeAnswer& answer, const SizeQuestion& question,
                                  UnitSystem units);

/// How the sets were run, and what to ask before buying.
std::string_view sizeNote();

}  // namespace nightbank::report
