#pragma once

#include <cstddef>

namespace nightbank::scenario {

/// Where something stands in a text. Lines end at LF; the CR of a CRLF and a byte order mark at the
/// start of the text belong to no column.
struct Place {
  int line = 1;            ///< from 1
  int column = 1;          ///< from 1, in bytes
  int length = 1;          ///< bytes to underline on that line, at least 1
  std::size_t offset = 0;  ///< of the first byte in the text as given, byte order mark included
};

}  // namespace nightbank::scenario
