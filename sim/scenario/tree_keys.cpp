// The part of the tree builder that judges keys and finds the places of values that were left out.

#include "extent.h"
#include "shown.h"
#include "tree_builder.h"
#include <fmt/format.h>
#include <yaml-cpp/mark.h>

namespace nightbank::scenario {

namespace {

constexpr std::size_t kMostPathBytes = 200;

}  // namespace

void TreeBuilder::takeKey(Frame& frame, const Node& key) {
  frame.wantsKey = false;
  frame.keyPlace = key.place;
  frame.keyEnd = key.endOffset;
  frame.dropsValue = true;
  const std::size_t begin = key.place.offset;
  if (key.kind == Node::Kind::map || key.kind == Node::Kind::list) {
    refuse(begin, key.endOffset,
           fmt::format("a key is one word; this is {}",
                       key.kind == Node::Kind::map ? "a map" : "a list"));
  } else if (key.text.empty()) {
    refuse(begin, key.endOffset, "a key is missing here");
  } else if (key.kind == Node::Kind::null) {
    refuse(begin, key.endOffset, fmt::format("{} is no key", quote(key.text)));
  } else if (key.text == "<<" && !key.quoted) {
    refuse(begin, key.endOffset, "merge keys (<<) are not read", "write the lines out");
  } else {
    takeUsableKey(frame, key);
  }
}

void TreeBuilder::takeUsableKey(Frame& frame, const Node& key) {
  frame.key = key.text;
  const auto [first, isNew] = frame.keys.emplace(key.text, key.place);
  if (isNew) {
    frame.dropsValue = false;
    return;
  }
  add({fmt::format("{} is given twice", shortened(path(), kMostPathBytes)), Caret{key.place, ""},
       Caret{first->second, "first given here"}});
}

void TreeBuilder::OnNull(const YAML::Mark& mark, YAML::anchor_t /*anchor*/) {
  deliver(nullAt(offsetOf(mark)));
}

// The mark of a value that was left out is that of the next token, anywhere behind it.
Node TreeBuilder::nullAt(std::size_t begin) {
  Node node;
  const std::size_t length = nullWordLength(text_, begin);
  if (length > 0) {
    node.text = text_.substr(begin, length);
    node.endOffset = begin + length;
    node.place = lines_.place(begin, node.endOffset);
    return node;
  }
  node.place = lines_.place(begin, begin + 1);
  node.endOffset = begin;
  if (!frames_.empty()) {
    placeMissingValue(node, frames_.back());
  }
  return node;
}

void TreeBuilder::placeMissingValue(Node& node, const Frame& frame) {
  const bool isList = frame.node.kind == Node::Kind::list;
  if (isList && frame.isBracketed) {
    refuse(node.place.offset, node.place.offset + 1, "an item is missing here");
    return;
  }
  if (frame.wantsKey && !isList) {
    return;
  }
  const std::size_t sign = skipBlanks(text_, isList ? reached_ : frame.keyEnd);
  const bool isSigned = text_.substr(sign, 1) == (isList ? "-" : ":");
  node.endOffset = isSigned ? sign + 1 : frame.keyEnd;
  node.place = isSigned ? lines_.place(sign, sign + 1) : frame.keyPlace;
}

}  // namespace nightbank::scenario
