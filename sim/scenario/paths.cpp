// Document: from paths to nodes and places.

#include <algorithm>
#include <charconv>
#include <optional>

#include <fmt/format.h>

#include "nightbank/scenario/document.h"

namespace nightbank::scenario {

namespace {

// A step down from a node, and what is left of the path.
struct Step {
  const Node* node;
  std::string_view rest;
};

bool endsStep(std::string_view path, std::size_t at) {
  return at == path.size() || path[at] == '.' || path[at] == '[';
}

bool beginsWithStep(std::string_view path, std::string_view word) {
  return path.substr(0, word.size()) == word && endsStep(path, word.size());
}

std::optional<Step> intoMap(const Node& map, std::string_view path) {
  const Entry* found = nullptr;
  for (const Entry& entry : map.entries) {
    const bool isLonger = found == nullptr || entry.key.size() > found->key.size();
    if (isLonger && beginsWithStep(path, entry.key)) {
      found = &entry;
    }
  }
  if (found == nullptr) {
    return std::nullopt;
  }
  return Step{&found->node, path.substr(found->key.size())};
}

std::optional<Step> intoListByName(const Node& list, std::string_view path) {
  const Node* found = nullptr;
  std::size_t length = 0;
  for (const Node& item : list.items) {
    const Node* name = item.child("name");
    const bool isLonger = name != nullptr && !name->text.empty() && name->text.size() > length;
    if (isLonger && beginsWithStep(path, name->text)) {
      found = &item;
      length = name->text.size();
    }
  }
  return found == nullptr ? std::nullopt : std::optional(Step{found, path.substr(length)});
}

std::optional<Step> intoListByNumber(const Node& list, std::string_view path, bool isBracketed) {
  std::size_t number = 0;
  const char* const last = path.data() + path.size();
  const auto [end, error] = std::from_chars(path.data(), last, number);
  auto length = static_cast<std::size_t>(end - path.data());
  if (error != std::errc{} || number >= list.items.size()) {
    return std::nullopt;
  }
  if (isBracketed) {
    if (path.substr(length, 1) != "]") {
      return std::nullopt;
    }
    ++length;
  }
  if (!endsStep(path, length)) {
    return std::nullopt;
  }
  return Step{&list.items[number], path.substr(length)};
}

std::optional<Step> into(const Node& node, std::string_view path) {
  const bool isBracketed = path.substr(0, 1) == "[";
  if (node.kind == Node::Kind::list) {
    if (isBracketed) {
      return intoListByNumber(node, path.substr(1), true);
    }
    if (const std::optional<Step> step = intoListByName(node, path)) {
      return step;
    }
    return intoListByNumber(node, path, false);
  }
  return node.kind == Node::Kind::map ? intoMap(node, path) : std::nullopt;
}

// As far down as the path leads.
Step walk(const Node& root, std::string_view path) {
  Step step{&root, path};
  while (!step.rest.empty()) {
    const std::size_t dot = step.rest[0] == '.' ? 1 : 0;
    const std::optional<Step> next = into(*step.node, step.rest.substr(dot));
    if (!next) {
      break;
    }
    step = *next;
  }
  return step;
}

// The part of the path below the document's root; nullopt: the path leads elsewhere.
std::optional<std::string_view> below(const Document& document, std::string_view path) {
  if (document.rootPath.empty()) {
    return path;
  }
  return beginsWithStep(path, document.rootPath)
             ? std::optional(path.substr(document.rootPath.size()))
             : std::nullopt;
}

}  // namespace

const Node* Document::find(std::string_view path) const {
  const std::optional<std::string_view> inside = below(*this, path);
  if (!inside) {
    return nullptr;
  }
  const Step step = walk(root, *inside);
  return step.rest.empty() ? step.node : nullptr;
}

Place Document::placeOf(std::string_view path, Problem::At at) const {
  const std::optional<std::string_view> inside = below(*this, path);
  if (!inside) {
    return root.place;
  }
  const Step step = walk(root, *inside);
  const bool isFound = step.rest.empty();
  return isFound && at == Problem::At::value ? step.node->place : step.node->keyPlace;
}

std::string joinPath(std::string_view parent, std::string_view key) {
  return parent.empty() ? std::string(key) : fmt::format("{}.{}", parent, key);
}

std::string joinPath(std::string_view parent, std::size_t item) {
  return fmt::format("{}[{}]", parent, item);
}

}  // namespace nightbank::scenario
