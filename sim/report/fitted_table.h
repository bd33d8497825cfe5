#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "nightbank/report/text.h"

/// Tables with as many columns as somebody asks for. Private to the room.
namespace nightbank::report {

/// table() without an indent, in kTextWidth columns and with nothing cut: where it would be wider,
/// heads are broken over lines at blanks, dots and underscores, the longest first; what still does
/// not fit follows below, each line with the first `keys` cells again.
/// @param keys  fewer than there are columns
std::string fittedTable(const std::vector<Column>& columns, const std::vector<Cells>& rows,
                        std::size_t keys);

}  // namespace nightbank::report
