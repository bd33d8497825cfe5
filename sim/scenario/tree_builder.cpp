#include "tree_builder.h"

#include <algorithm>

#include "extent.h"
#include <fmt/format.h>
#include <yaml-cpp/mark.h>

namespace nightbank::scenario {

namespace {

constexpr std::size_t kMostFindings = 100;

}  // namespace

std::size_t TreeBuilder::offsetOf(const YAML::Mark& mark) const {
  return lines_.offset(mark.line, mark.column);
}

void TreeBuilder::add(Finding finding) {
  findings_.push_back(std::move(finding));
  if (findings_.size() >= kMostFindings) {
    throw StopReading{};
  }
}

void TreeBuilder::refuse(std::size_t begin, std::size_t end, std::string message,
                         std::string hint) {
  add({std::move(message), Caret{lines_.place(begin, end), std::move(hint)}, std::nullopt});
}

std::string TreeBuilder::path() const {
  std::string path;
  for (const Frame& frame : frames_) {
    path = frame.node.kind == Node::Kind::map ? joinPath(path, frame.key)
                                              : joinPath(path, frame.node.items.size());
  }
  return path;
}

std::optional<std::size_t> TreeBuilder::openBracket() const {
  const auto innermost = std::find_if(frames_.rbegin(), frames_.rend(),
                                      [](const Frame& frame) { return frame.isBracketed; });
  return innermost == frames_.rend() ? std::nullopt : std::optional(innermost->node.place.offset);
}

void TreeBuilder::OnDocumentStart(const YAML::Mark& mark) {
  const std::size_t begin = offsetOf(mark);
  if (!hasDocument_) {
    hasDocument_ = true;
    reached_ = begin;
    return;
  }
  const bool isMarked = text_.substr(begin, 3) == "---";
  refuse(begin, begin + (isMarked ? 3 : 1),
         isMarked ? "a second document begins here; a scenario is one document"
                  : "text after the end of the scenario");
  throw StopReading{};
}

void TreeBuilder::OnAnchor(const YAML::Mark& mark, const std::string& name) {
  const std::size_t begin = offsetOf(mark);
  refuse(begin, begin + 1 + name.size(), "anchors (&) are not read", "write the value out");
}

void TreeBuilder::OnAlias(const YAML::Mark& mark, YAML::anchor_t /*anchor*/) {
  const std::size_t begin = offsetOf(mark);
  const std::size_t end = std::min(text_.find_first_of(" \t\r\n,]}", begin), text_.size());
  refuse(begin, end, "aliases (*) are not read", "write the value out");
  Node node;
  node.place = lines_.place(begin, end);
  node.endOffset = end;
  deliver(std::move(node));
}

void TreeBuilder::refuseTag(std::size_t begin, const std::string& tag) {
  const bool isWritten = begin < text_.size() && text_[begin] == '!';
  // "!" is how the parser marks quotes and "?" everything else.
  const bool isImplied = tag.empty() || tag == "!" || tag == "?";
  if (isWritten || !isImplied) {
    const std::size_t end = std::min(text_.find_first_of(" \t\r\n,]}", begin), text_.size());
    refuse(begin, end, "tags (!) are not read", "delete it, or put the text in quotes");
  }
}

void TreeBuilder::OnScalar(const YAML::Mark& mark, const std::string& tag,
                           YAML::anchor_t /*anchor*/, const std::string& value) {
  const std::size_t begin = offsetOf(mark);
  refuseTag(begin, tag);
  Node node;
  node.kind = Node::Kind::scalar;
  node.text = value;
  node.quoted = tag == "!";
  if (node.quoted && text_.substr(begin, 1).find_first_of("\"'") == 0) {
    lastQuote_ = begin;
  }
  const std::optional<std::size_t> end = scalarEnd(text_, begin, value);
  if (!end) {  // the parser takes the end of the text for the quote
    refuse(begin, begin + 1, "this quote is never closed");
    throw StopReading{};
  }
  node.endOffset = *end;
  node.place = lines_.place(begin, node.endOffset);
  deliver(std::move(node));
}

void TreeBuilder::OnSequenceStart(const YAML::Mark& mark, const std::string& tag,
                                  YAML::anchor_t /*anchor*/, YAML::EmitterStyle::value style) {
  open(Node::Kind::list, mark, tag, style);
}

void TreeBuilder::OnMapStart(const YAML::Mark& mark, const std::string& tag,
                             YAML::anchor_t /*anchor*/, YAML::EmitterStyle::value style) {
  open(Node::Kind::map, mark, tag, style);
}

void TreeBuilder::OnSequenceEnd() {
  close();
}

void TreeBuilder::OnMapEnd() {
  close();
}

void TreeBuilder::open(Node::Kind kind, const YAML::Mark& mark, const std::string& tag,
                       YAML::EmitterStyle::value style) {
  const std::size_t begin = offsetOf(mark);
  refuseTag(begin, tag);
  if (frames_.size() == static_cast<std::size_t>(kMostDepth)) {
    refuse(begin, begin + 1, fmt::format("nested more than {} deep", kMostDepth));
    throw StopReading{};
  }
  Frame frame;
  frame.node.kind = kind;
  frame.node.place = lines_.place(begin, begin + 1);
  frame.wantsKey = kind == Node::Kind::map;
  const std::string_view bracket = kind == Node::Kind::map ? "{" : "[";
  frame.isBracketed = style == YAML::EmitterStyle::Flow && text_.substr(begin, 1) == bracket;
  reached_ = frame.isBracketed ? begin + 1 : begin;
  frames_.push_back(std::move(frame));
}

void TreeBuilder::close() {
  Frame frame = std::move(frames_.back());
  frames_.pop_back();
  Node& node = frame.node;
  node.endOffset = frame.isBracketed ? flowEnd(text_, reached_) : reached_;
  if (frame.isBracketed) {
    node.place = lines_.place(node.place.offset, node.endOffset);
  } else if (!node.entries.empty()) {
    node.place = node.entries.front().node.keyPlace;
  }
  deliver(std::move(node));
}

void TreeBuilder::deliver(Node node) {
  reached_ = std::max(reached_, node.endOffset);
  if (frames_.empty()) {
    node.keyPlace = node.place;
    root_ = std::move(node);
    return;
  }
  Frame& frame = frames_.back();
  if (frame.node.kind == Node::Kind::list) {
    node.keyPlace = node.place;
    frame.node.items.push_back(std::move(node));
  } else if (frame.wantsKey) {
    takeKey(frame, node);
  } else {
    frame.wantsKey = true;
    node.keyPlace = frame.keyPlace;
    if (!frame.dropsValue) {
      frame.node.entries.push_back({std::move(frame.key), std::move(node)});
    }
    frame.key.clear();
  }
}

}  // namespace nightbank::scenario
