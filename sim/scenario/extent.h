#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

/// Private to the room: where a value ends in the text. The parser's events tell only where it
/// begins. All offsets are bytes into the whole text.
namespace nightbank::scenario {

/// Past the last byte of the scalar that begins at `begin` and was read as `value`: plain, quoted
/// or a block. nullopt: its quote is never closed.
std::optional<std::size_t> scalarEnd(std::string_view text, std::size_t begin,
                                     std::string_view value);

/// Past the closing quote of the quoted scalar that begins at `begin`; nullopt: never closed.
std::optional<std::size_t> quotedEnd(std::string_view text, std::size_t begin);

/// The next byte at or after `begin` that is no blank, line end or part of a comment; else the end
/// of the text.
std::size_t skipBlanks(std::string_view text, std::size_t begin);

/// Past the bracket that closes a flow map or list whose last entry ends at `begin`.
std::size_t flowEnd(std::string_view text, std::size_t begin);

/// The bytes of `~`, `null`, `Null` or `NULL` at `begin`, else 0.
std::size_t nullWordLength(std::string_view text, std::size_t begin);

/// The first quote at or after `begin` that is never closed.
std::optional<std::size_t> findOpenQuote(std::string_view text, std::size_t begin);

/// The innermost bracket that is open at `end`, of those at or after `begin`.
std::optional<std::size_t> innermostBracket(std::string_view text, std::size_t begin,
                                            std::size_t end);

}  // namespace nightbank::scenario
