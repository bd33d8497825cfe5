#include "nightbank/scenario/echo.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "grade.h"
#include "member.h"
#include "text_of.h"
#include "typicals.h"
#include "value.h"
#include "wrap.h"
#include <fmt/format.h>

#include "nightbank/scenario/fields.h"

namespace nightbank::scenario {
namespace {

constexpr std::size_t kWidth = 80;
constexpr std::size_t kIndent = 2;
constexpr std::size_t kWidestKey = 32;
constexpr std::size_t kWidestValue = 22;

struct Echo {
  const Document* typed;
  UnitSystem units;
  std::vector<Filled> filled;
  std::vector<EchoRow> rows{};

  const Filled* filledAt(const std::string& path, const Field& field) const {
    const auto found = std::ranges::find_if(
        filled, [&](const Filled& one) { return one.field == &field && one.path == path; });
    return found == filled.end() ? nullptr : &*found;
  }
};

// Whether a text still means the number in the field.
bool isSame(const Field& field, const void* part, std::string_view text) {
  switch (field.kind) {
    case Kind::quantity: {
      const auto read = readGraded(text, field.dim, field.range);
      const auto* got = std::get_if<Graded>(&read);
      return got != nullptr && got->value == field.in<Graded>(part).value;
    }
    case Kind::current: {
      const auto read = readCurrent(text, field.range);
      const auto* got = std::get_if<CurrentAt>(&read);
      const auto& current = field.in<CurrentAt>(part);
      return got != nullptr && got->value == current.value &&
             (got->at_V == current.at_V || (std::isnan(got->at_V) && std::isnan(current.at_V)));
    }
    case Kind::price: {
      const auto read = readPrice(text);
      const auto* got = std::get_if<Graded>(&read);
      return got != nullptr && got->value == field.in<Graded>(part).value;
    }
    case Kind::slope: {
      const auto read = readSlope(text, field.dim);
      const auto* got = std::get_if<Slope>(&read);
      const auto& slope = field.in<Slope>(part);
      return got != nullptr && got->perUnit == slope.perUnit && got->above == slope.above;
    }
    default:
      return false;
  }
}

// The node of a field; of a share given alone that of its list.
const Node* nodeAt(const Document& document, const std::string& path) {
  if (const Node* node = document.find(path))
    return node;
  const std::size_t item = path.rfind("[0].");
  const Node* list = item == std::string::npos ? nullptr : document.find(path.substr(0, item));
  return list != nullptr && list->kind == Node::Kind::scalar ? list : nullptr;
}

std::string valueText(const Echo& echo, const Field& field, const void* part,
                      const std::string& path) {
  if (echo.typed != nullptr) {
    const Node* node = nodeAt(*echo.typed, path);
    if (node != nullptr && node->kind == Node::Kind::scalar && isSame(field, part, node->text))
      return std::string(splitGrade(node->text).value);
  }
  return shownText(field, part, echo.units);
}

bool hasGrade(const Field& field) {
  switch (field.kind) {
    case Kind::quantity:
    case Kind::current:
    case Kind::price:
    case Kind::slope:
    case Kind::wireSize:
    case Kind::efficiency:
      return true;
    default:
      return false;
  }
}

// "typical, 10 W to 30 W"
std::string rangeNote(const Echo& echo, const Filled& filled) {
  const Typical& typical = filled.typical;
  const Field& field = *filled.field;
  if (typical.isGuess() && field.kind == Kind::word)
    return fmt::format(
        "typical, or {}",
        shownNumber(field, typical.high != typical.value ? typical.high : typical.low, echo.units));
  if (typical.isGuess())
    return fmt::format("typical, {} to {}", shownNumber(field, typical.low, echo.units),
                       shownNumber(field, typical.high, echo.units));
  if (!filled.otherEnd.empty())
    return "typical";
  return typical.grade == Grade::typical
             ? "default"
             : std::string(gradeWords()[static_cast<std::size_t>(typical.grade)]);
}

std::string noteText(const Echo& echo, const Field& field, const void* part, const Filled* filled) {
  if (filled != nullptr)
    return rangeNote(echo, *filled);
  if (!hasGrade(field))
    return "given";
  return std::string(gradeWords()[static_cast<std::size_t>(gradeOf(field, part))]);
}

struct Prefix {
  std::string path;  // of the part
  std::string key;   // the same below the heading
};

void addPart(Echo& echo, const Spec& spec, const void* part, const Prefix& at);

void addBelow(Echo& echo, const Field& field, const void* part, const Prefix& at) {
  const bool isTop = at.path.empty();
  const std::string path = joinPath(at.path, field.key);
  for (std::size_t i = 0; i < countOf(field, part); ++i) {
    const bool isList = field.kind == Kind::list;
    const std::string childPath = isList ? itemPath(path, field, part, i) : path;
    std::string childKey = childPath.substr(at.path.size() + (isTop ? 0 : 1));
    if (isTop) {
      echo.rows.push_back({true, childPath, childPath, "", ""});
      childKey.clear();
    } else {
      childKey = joinPath(at.key, childKey);
    }
    addPart(echo, field.spec(), itemOf(field, part, i), {childPath, childKey});
  }
}

void addPart(Echo& echo, const Spec& spec, const void* part, const Prefix& at) {
  for (const Field& field : spec.fields) {
    if (field.items != nullptr) {
      addBelow(echo, field, part, at);
      continue;
    }
    if (field.kind == Kind::name)
      continue;
    const std::string path = joinPath(at.path, field.key);
    const Filled* filled = echo.filledAt(path, field);
    if (!isKnown(field, part) && filled == nullptr)
      continue;
    echo.rows.push_back({false, path, joinPath(at.key, field.key),
                         valueText(echo, field, part, path), noteText(echo, field, part, filled)});
  }
}

// A part all of whose values were left out without a stand-in has a heading alone: left out, too.
void dropEmptyHeadings(std::vector<EchoRow>& rows) {
  for (std::size_t i = rows.size(); i-- > 0;)
    if (rows[i].isHeading && (i + 1 == rows.size() || rows[i + 1].isHeading))
      rows.erase(rows.begin() + static_cast<std::ptrdiff_t>(i));
}

std::size_t widest(const std::vector<EchoRow>& rows, std::string EchoRow::*column,
                   std::size_t most) {
  std::size_t width = 1;
  for (const EchoRow& one : rows)
    if (!one.isHeading)
      width = std::max(width, std::min(most, columnsOf(one.*column)));
  return width;
}

}  // namespace

std::vector<EchoRow> echoRows(const Scenario& given, const Document* typed, UnitSystem units) {
  Scenario resolved = given;
  Echo made{typed, units, {}};
  fillIn(resolved, &made.filled);
  made.rows.push_back({true, "", "scenario", "", ""});
  addPart(made, specOf<Scenario>(), &resolved, {"", ""});
  dropEmptyHeadings(made.rows);
  return std::move(made.rows);
}

std::string echo(const Scenario& given, const Document* typed, UnitSystem units) {
  const std::vector<EchoRow> rows = echoRows(given, typed, units);
  const std::size_t keyWidth = widest(rows, &EchoRow::key, kWidestKey);
  const std::size_t valueWidth = widest(rows, &EchoRow::value, kWidestValue);
  const std::size_t noteWidth = kWidth - kIndent - keyWidth - 1 - valueWidth - 1;
  std::string text;
  for (const EchoRow& one : rows) {
    if (one.isHeading)
      text += row(0, {{one.key, kWidth}});
    else
      text += row(kIndent, {{one.key, keyWidth}, {one.value, valueWidth}, {one.note, noteWidth}});
  }
  return text;
}

}  // namespace nightbank::scenario
