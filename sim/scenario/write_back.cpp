#include "nightbank/scenario/write_back.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include <fmt/format.h>

namespace nightbank::scenario {
namespace {

constexpr std::array<std::string_view, 3> kGradeWords{" measured", " nameplate", " typical"};

/// The unit that people would be shown.
std::string_view usualUnit(double value, Dim dim, std::string& keep) {
  keep = format(value, dim);
  const std::size_t blank = keep.find(' ');
  return blank == std::string::npos ? std::string_view() : std::string_view(keep).substr(blank + 1);
}

double deviationIn(const MeasuredValue& value, std::string_view unit) {
  return std::abs(inUnit(value.value + value.deviation, value.dim, unit) -
                  inUnit(value.value, value.dim, unit));
}

/// So that the error shows two digits.
int decimalsOf(const MeasuredValue& value, std::string_view unit) {
  const double deviation = deviationIn(value, unit);
  const double digits = deviation > 0.0 ? 1.0 - std::floor(std::log10(deviation)) : 3.0;
  return static_cast<int>(std::clamp(digits, 0.0, 6.0));
}

std::string withUnit(std::string number, std::string_view unit) {
  return unit.empty() ? number : fmt::format("{} {}", number, unit);
}

/// A value as typed: "8.2 A at 120 V measured".
struct TypedValue {
  std::string unit, tail;  ///< tail: " at 120 V"
  bool isRead = false;
};

TypedValue typedValue(std::string text, Dim dim) {
  for (const std::string_view grade : kGradeWords)
    if (text.ends_with(grade))
      text.erase(text.size() - grade.size());
  TypedValue typed;
  if (const std::size_t at = text.find(" at "); at != std::string::npos) {
    typed.tail = text.substr(at);
    text.erase(at);
  }
  const auto parsed = parseQuantity(text, dim);
  if (const auto* quantity = std::get_if<Quantity>(&parsed)) {
    typed.unit = quantity->unit;
    typed.isRead = true;
  }
  return typed;
}

/// Where a line ends, before its CR or LF.
std::size_t lineEnd(std::string_view text, std::size_t at) {
  std::size_t end = std::min(text.find('\n', at), text.size());
  if (end > 0 && end > at && text[end - 1] == '\r')
    --end;
  return end;
}

bool hasComment(std::string_view text, std::size_t at) {
  const std::size_t newline = text.rfind('\n', at == 0 ? 0 : at - 1);
  const std::size_t start = newline == text.npos ? 0 : newline + 1;
  const std::string_view line = text.substr(start, lineEnd(text, at) - start);
  char quote = '\0';
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    const char before = i == 0 ? ' ' : line[i - 1];
    const bool opens = quote == '\0' && (c == '"' || c == '\'') &&
                       std::string_view(" \t[{,:").find(before) != std::string_view::npos;
    if (opens)
      quote = c;
    else if (c == quote)
      quote = '\0';
    else if (quote == '\0' && c == '#' && (before == ' ' || before == '\t'))
      return true;
  }
  return false;
}

std::string_view lastKey(std::string_view path) {
  return path.substr(path.rfind('.') + 1);
}

std::string_view parentOf(std::string_view path) {
  const std::size_t dot = path.rfind('.');
  return dot == path.npos ? std::string_view() : path.substr(0, dot);
}

/// The node that holds a value: of a list with one share, that share.
const Node* holderOf(const Document& document, const std::string& path) {
  const Node* node = document.find(path);
  if (node != nullptr && node->kind == Node::Kind::list && node->items.size() == 1)
    node = node->items.front().child("share");
  return node;
}

struct Change {
  std::size_t offset = 0, length = 0;
  int order = 0;  ///< of changes at one place: a comment before new lines
  std::string text;
};

class Writer {
 public:
  Writer(const Document& document, WrittenBack& out)
      : document_(document),
        text_(document.text),
        out_(out),
        lineBreak_(text_.find("\r\n") == text_.npos ? "\n" : "\r\n") {}

  void add(const MeasuredValue& value) {
    const bool isDone = replaced(value) || inserted(value) || kept(value);
    (isDone ? out_.changed : out_.left).push_back(value.path);
  }

  void finish() {
    addNewParts();
    for (const auto& [end, notes] : notes_)
      changes_.push_back({end, 0, 0, (hasComment(text_, end) ? "; fit: " : "  # fit: ") + notes});
    std::ranges::stable_sort(changes_, [](const Change& a, const Change& b) {
      return a.offset != b.offset ? a.offset < b.offset : a.order < b.order;
    });
    std::size_t from = 0;
    for (const Change& change : changes_) {
      out_.text.append(text_, from, change.offset - from).append(change.text);
      from = change.offset + change.length;
    }
    out_.text.append(text_, from);
  }

 private:
  bool replaced(const MeasuredValue& value) {
    const Node* node = holderOf(document_, value.path);
    if (node == nullptr || node->kind != Node::Kind::scalar)
      return false;
    const TypedValue typed = typedValue(node->text, value.dim);
    if (!typed.isRead)
      return false;
    changes_.push_back({node->place.offset, node->endOffset - node->place.offset, 0,
                        measuredText(value, typed.unit) + typed.tail + " measured"});
    note(node->endOffset, value, typed.unit);
    return true;
  }

  /// Into a part that is there.
  bool inserted(const MeasuredValue& value) {
    const Node* part = document_.find(parentOf(value.path));
    const bool isThere = document_.find(value.path) != nullptr;
    if (isThere || part == nullptr || part->kind != Node::Kind::map || part->entries.empty())
      return false;
    std::string keep;
    const std::string_view unit = usualUnit(value.value, value.dim, keep);
    const std::string entry =
        fmt::format("{}: {} measured", lastKey(value.path), measuredText(value, unit));
    const std::size_t close = part->endOffset - 1;
    if (text_[part->place.offset] == '{' && close < text_.size() && text_[close] == '}') {
      changes_.push_back({close, 0, 1, ", " + entry});
      note(close, value, unit);
      return true;
    }
    const int column = part->entries.front().node.keyPlace.column;
    const std::string comment =
        value.deviation > 0.0
            ? fmt::format("  # fit: {} +- {}", lastKey(value.path), deviationText(value, unit))
            : "";
    changes_.push_back(
        {lineEnd(text_, part->entries.back().node.endOffset), 0, 2,
         lineBreak_ + std::string(static_cast<std::size_t>(column - 1), ' ') + entry + comment});
    return true;
  }

  /// Of a part of its own at the end, where the text is a plain map of lines.
  bool kept(const MeasuredValue& value) {
    const std::string_view part = parentOf(value.path);
    const bool isPlain =
        document_.root.kind == Node::Kind::map && text_[document_.root.place.offset] != '{';
    if (part.empty() || part.find('.') != part.npos || !isPlain || document_.find(part) != nullptr)
      return false;
    newParts_[std::string(part)].push_back(value);
    return true;
  }

  void addNewParts() {
    for (const auto& [part, values] : newParts_) {
      std::string lines = text_.ends_with('\n') ? "" : lineBreak_;
      lines += part + ':' + lineBreak_;
      for (const MeasuredValue& value : values) {
        std::string keep;
        const std::string_view unit = usualUnit(value.value, value.dim, keep);
        lines += fmt::format("  {}: {} measured  # fit: +- {}{}", lastKey(value.path),
                             measuredText(value, unit), deviationText(value, unit), lineBreak_);
      }
      changes_.push_back({text_.size(), 0, 3, lines});
    }
  }

  void note(std::size_t at, const MeasuredValue& value, std::string_view unit) {
    if (!(value.deviation > 0.0))
      return;
    std::string& notes = notes_[lineEnd(text_, at)];
    notes += fmt::format("{}{} +- {}", notes.empty() ? "" : ", ", lastKey(value.path),
                         deviationText(value, unit));
  }

  const Document& document_;
  std::string_view text_;
  WrittenBack& out_;
  std::string lineBreak_;
  std::vector<Change> changes_;
  std::map<std::size_t, std::string> notes_;  ///< by where their line ends
  std::map<std::string, std::vector<MeasuredValue>> newParts_;
};

}  // namespace

std::string measuredText(const MeasuredValue& value, std::string_view unit) {
  if (!(value.deviation > 0.0))
    return withUnit(fmt::format("{:.6g}", inUnit(value.value, value.dim, unit)), unit);
  return withUnit(
      fmt::format("{:.{}f}", inUnit(value.value, value.dim, unit), decimalsOf(value, unit)), unit);
}

std::string deviationText(const MeasuredValue& value, std::string_view unit) {
  const bool isLevel = value.dim == Dim::temperature;
  const std::string_view shown = isLevel && unit == "degC" ? "K" : unit;
  return withUnit(fmt::format("{:.{}f}", deviationIn(value, unit), decimalsOf(value, unit)), shown);
}

WrittenBack writtenBack(const Document& document, std::span<const MeasuredValue> values) {
  WrittenBack out;
  Writer writer(document, out);
  for (const MeasuredValue& value : values)
    writer.add(value);
  writer.finish();
  return out;
}

}  // namespace nightbank::scenario
