#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "nightbank/scenario/place.h"
#include "nightbank/scenario/problem.h"

/// YAML text to a tree of text, with the place of every key and value. Only what a scenario needs:
/// maps, lists and scalars as typed. Anchors, aliases, tags, merge keys, several documents, keys
/// given twice and keys that are no scalars are errors.
namespace nightbank::scenario {

struct Entry;

/// A value as written.
struct Node {
  enum class Kind {
    scalar,
    map,
    list,
    null,  ///< nothing, `~` or `null`
  };

  Kind kind = Kind::null;
  std::string text;     ///< scalar: unquoted, lines folded; null: as typed
  bool quoted = false;  ///< scalar in quotes or a block (| or >)
  Place place;
  Place keyPlace;              ///< of the key that leads here; root and list items: as `place`
  std::size_t endOffset = 0;   ///< past the value's last byte
  std::vector<Entry> entries;  ///< map, in order; keys are unique
  std::vector<Node> items;     ///< list

  /// The value of `key`; nullptr where this is no map or has no such key.
  const Node* child(std::string_view key) const;
};

struct Entry {
  std::string key;
  Node node;  ///< its keyPlace is the place of `key`
};

/// A text that was read.
struct Document {
  std::string fileName;  ///< as shown in messages
  std::string text;      ///< as given
  std::string rootPath;  ///< "" for a file; for a snippet the path that it is the value of
  bool isSnippet = false;
  Node root;  ///< a map, or in a snippet anything

  /// The node at `path`; nullptr where there is none. Keys are joined by dots; a list item is
  /// "[1]" or ".1" (from 0) or ".fridge", the text of its key `name`, where the name wins over
  /// the number. "" is the root. Keys and names may themselves hold dots.
  const Node* find(std::string_view path) const;

  /// The place of the value or key at `path`; else the key of its nearest parent that exists.
  Place placeOf(std::string_view path, Problem::At at = Problem::At::value) const;
};

/// Paths of a child: "bank" + "capacity" -> "bank.capacity", "" + "bank" -> "bank";
/// "loads" + 1 -> "loads[1]".
std::string joinPath(std::string_view parent, std::string_view key);
std::string joinPath(std::string_view parent, std::size_t item);

/// Limits beyond which a text is refused unread.
constexpr std::size_t kMostTextBytes = 1'000'000;
constexpr int kMostDepth = 32;

/// A document, or at least one error.
using Parsed = std::variant<Document, std::vector<Diagnostic>>;

/// Reads a scenario's text: UTF-8, with or without byte order mark, LF or CRLF. Never throws on bad
/// text. Refuses, before parsing: more than kMostTextBytes, a NUL or other control character,
/// invalid UTF-8, nesting over kMostDepth.
/// @param fileName as it shall stand in messages
Parsed parseDocument(std::string text, std::string fileName);

/// Reads the YAML text of one value, as in `--set bank.capacity=420 Ah`.
/// @param path    of the value, so that problems with full paths find their place in the snippet
/// @param origin  stands in messages where a file's name would: "--set bank.capacity"
Parsed parseSnippet(std::string text, std::string path, std::string origin);

/// The node as YAML text on one line; parseSnippet of it gives an equal tree (places apart).
std::string flowText(const Node& node);

}  // namespace nightbank::scenario
