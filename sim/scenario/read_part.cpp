#include <algorithm>
#include <array>
#include <string>

#include "member.h"
#include "reading.h"
#include "value.h"
#include <fmt/format.h>

namespace nightbank::scenario {
namespace {

bool takesScalar(const Field& field) {
  if (field.kind == Kind::list || field.kind == Kind::part)
    return !field.spec().shorthand.empty();
  return field.kind != Kind::edits;
}

bool takesMap(const Field& field) {
  return field.kind == Kind::part || field.kind == Kind::edits;
}

bool takesList(const Field& field) {
  return field.kind == Kind::list || field.kind == Kind::hours || field.kind == Kind::fedFrom ||
         field.kind == Kind::efficiency;
}

std::string expectations(std::span<const Field> entries) {
  std::string all;
  for (const Field& field : entries)
    all += fmt::format("{}{}", all.empty() ? "" : ", or ", expectation(field));
  return all;
}

bool isAboutTheUnit(const Fault& fault) {
  return fault.message.starts_with("a ") || fault.message.starts_with("an ") ||
         fault.message.starts_with("in an unknown unit");
}

// The fault to tell where no entry takes the text: one that is not about the unit says more.
Fault toldFault(std::span<const Field> entries, const std::vector<Fault>& faults) {
  Fault told = faults.front();
  for (const Fault& fault : faults)
    if (!isAboutTheUnit(fault))
      return fault;
  for (const Fault& fault : faults)
    if (told.suggestion.empty())
      told.suggestion = fault.suggestion;
  const std::size_t expected = told.message.find("; expected ");
  if (entries.size() > 1 && expected != std::string::npos)
    told.message =
        fmt::format("{}; expected {}", told.message.substr(0, expected), expectations(entries));
  return told;
}

// One value for a whole part, or for a list of one.
void readShorthand(const Field& field, void* part, const Node& node, const std::string& path,
                   Reading& reading) {
  const Spec& spec = field.spec();
  void* item = field.items->append(field.member(part));
  readKey(spec.find(spec.shorthand), item, node, path, reading);
}

bool isNo(std::string_view text) {
  constexpr std::array<std::string_view, 4> kWords = {"no", "none", "false", "off"};
  return std::ranges::find(kWords, text) != kWords.end();
}

void readScalarKey(std::span<const Field> entries, void* part, const Node& node,
                   const std::string& path, Reading& reading) {
  std::vector<Fault> faults;
  for (const Field& field : entries) {
    if (!takesScalar(field))
      continue;
    if (field.kind == Kind::list || field.kind == Kind::part)
      return readShorthand(field, part, node, path, reading);
    auto fault = readScalar(field, part, node.text);
    if (!fault)
      return;
    faults.push_back(std::move(*fault));
  }
  if (faults.empty())
    return reading.error(
        path, fmt::format("{} is {}; expected {}", path, quote(node.text), expectations(entries)),
        isNo(node.text) && !entries.front().isRequired ? "to have none, leave the key out" : "");
  const Fault fault = toldFault(entries, faults);
  reading.error(path, fmt::format("{} is {}, {}", path, quote(node.text), fault.message),
                didYouMean(fault.suggestion));
}

void readEdits(const Field& field, void* part, const Node& node, const std::string& path,
               Reading& reading) {
  auto& edits = field.in<std::vector<NamedEdit>>(part);
  for (const Entry& entry : node.entries)
    edits.push_back({entry.key, flowText(entry.node)});
  if (edits.empty())
    reading.error(path, fmt::format("{} is empty; expected {}", path, expectation(field)));
}

void readMapKey(std::span<const Field> entries, void* part, const Node& node,
                const std::string& path, Reading& reading) {
  const auto found = std::ranges::find_if(entries, takesMap);
  if (found == entries.end()) {
    const bool isList = entries.front().kind == Kind::list;
    return reading.error(path, fmt::format("{} has keys; expected {}", path, expectations(entries)),
                         isList ? "put brackets round it: [{...}]" : "");
  }
  if (found->kind == Kind::edits)
    return readEdits(*found, part, node, path, reading);
  readPart(found->spec(), found->items->append(found->member(part)), node, path, reading);
}

// A name is read before the rest, so that the paths of its item's problems can have it.
void readNameFirst(const Spec& spec, void* item, const Node& node) {
  const Field* name = spec.nameField();
  const Node* child = name == nullptr ? nullptr : node.child(name->key);
  if (child != nullptr && child->kind == Node::Kind::scalar)
    static_cast<void>(readScalar(*name, item, child->text));
}

void readItems(const Field& field, void* part, const Node& node, const std::string& path,
               Reading& reading) {
  for (const Node& child : node.items) {
    const std::size_t index = countOf(field, part);
    void* item = field.items->append(field.member(part));
    readNameFirst(field.spec(), item, child);
    readPart(field.spec(), item, child, itemPath(path, field, part, index), reading);
  }
}

void readListKey(std::span<const Field> entries, void* part, const Node& node,
                 const std::string& path, Reading& reading) {
  const auto found = std::ranges::find_if(entries, takesList);
  if (found == entries.end())
    return reading.error(path,
                         fmt::format("{} is a list; expected {}", path, expectations(entries)),
                         takesMap(entries.front()) ? "write its keys without '-' or brackets" : "");
  if (node.items.empty())
    return reading.error(path, fmt::format("{} is an empty list; leave the key out", path));
  if (found->kind == Kind::list)
    return readItems(*found, part, node, path, reading);
  readPlainList(*found, part, node, path, reading);
}

}  // namespace

void Reading::error(const std::string& path, std::string message, std::string hint,
                    Problem::At at) {
  problems.push_back({Problem::Severity::error, path, "", std::move(message), std::move(hint), at});
}

void Reading::warning(const std::string& path, std::string message, Problem::At at) {
  problems.push_back({Problem::Severity::warning, path, "", std::move(message), "", at});
}

void readKey(std::span<const Field> entries, void* part, const Node& node, const std::string& path,
             Reading& reading) {
  const std::string_view notUsed = entries.front().notUsed;
  if (!notUsed.empty())
    reading.warning(path, fmt::format("{} is read, not used: {}", path, notUsed), Problem::At::key);
  switch (node.kind) {
    case Node::Kind::scalar:
      return readScalarKey(entries, part, node, path, reading);
    case Node::Kind::map:
      return readMapKey(entries, part, node, path, reading);
    case Node::Kind::list:
      return readListKey(entries, part, node, path, reading);
    case Node::Kind::null:
      return reading.error(
          path,
          fmt::format("{} has no value; {} {}", path,
                      entries.front().isRequired ? "expected" : "leave the key out, or give",
                      expectations(entries)),
          "", Problem::At::key);
  }
}

namespace {

// "1,500 W" between braces: the comma ends the value, and the rest stands there as a key.
bool isRestOf(const Node& value, const Entry& next) {
  return value.kind == Node::Kind::scalar && !value.quoted && next.node.kind == Node::Kind::null &&
         next.node.text.empty() && next.key.find_first_of("0123456789") == 0 &&
         value.text.find_first_of("0123456789") == 0 &&
         next.node.keyPlace.offset == value.endOffset + 1;
}

}  // namespace

void readPart(const Spec& spec, void* part, const Node& node, const std::string& path,
              Reading& reading) {
  if (node.kind == Node::Kind::scalar && !spec.shorthand.empty())
    return readKey(spec.find(spec.shorthand), part, node, path, reading);
  if (node.kind != Node::Kind::map)
    return reading.error(path,
                         fmt::format("{} is {}; expected {}", path.empty() ? "the text" : path,
                                     node.kind == Node::Kind::list     ? "a list"
                                     : node.kind == Node::Kind::scalar ? quote(node.text)
                                                                       : "empty",
                                     keysText(spec)));
  for (std::size_t i = 0; i < node.entries.size(); ++i) {
    const Entry& entry = node.entries[i];
    const std::string keyPath = joinPath(path, entry.key);
    const auto entries = spec.find(entry.key);
    if (!entries.empty()) {
      Node value = entry.node;
      for (; i + 1 < node.entries.size() && isRestOf(value, node.entries[i + 1]); ++i) {
        value.text += "," + node.entries[i + 1].key;
        value.endOffset += 1 + node.entries[i + 1].key.size();
      }
      readKey(entries, part, value, keyPath, reading);
      continue;
    }
    reading.problems.push_back(unknownKey(spec, entry.key, keyPath));
    if (const std::string meant = meantKey(spec, entry.key); !meant.empty())
      reading.explained.push_back(joinPath(path, meant));
  }
}

}  // namespace nightbank::scenario
