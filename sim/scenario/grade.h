#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "value.h"
#include <fmt/format.h>

#include "nightbank/units/suggest.h"

/// The grade that may follow a value. Private to the room.
namespace nightbank::scenario {

struct GradedText {
  std::string_view value;  ///< without the grade
  std::optional<Grade> grade;

  Grade gradeOrDefault() const { return grade.value_or(Grade::nameplate); }

  /// A text with the grade that this one has.
  std::string withGrade(const std::string& text) const {
    if (text.empty() || !grade)
      return text;
    return fmt::format("{} {}", text, gradeWords()[static_cast<std::size_t>(*grade)]);
  }
};

GradedText splitGrade(std::string_view text);

bool isGradeWord(std::string_view word);

/// Reads a text and its grade with `read`, a function from the text without grade to Read<T>. Where
/// that fails only for the last word, the last word is at fault.
template <class T, class F>
Read<T> readWithGrade(std::string_view text, F read) {
  const GradedText parts = splitGrade(text);
  Read<T> value = read(parts.value);
  Fault* fault = std::get_if<Fault>(&value);
  if (fault == nullptr) {
    std::get<T>(value).grade = parts.gradeOrDefault();
    std::get<T>(value).given = true;
    return value;
  }
  const std::size_t firstBlank = parts.value.find(' ');
  const std::string_view first = parts.value.substr(0, firstBlank);
  if (firstBlank != std::string_view::npos && isGradeWord(first)) {
    const std::string_view behind = parts.value.substr(firstBlank + 1);
    if (std::holds_alternative<T>(read(behind)))
      return Fault{fmt::format("with '{}' before the value; expected it behind", first),
                   fmt::format("{} {}", behind, first)};
  }
  fault->suggestion = parts.withGrade(fault->suggestion);
  const std::size_t blank = parts.value.find_last_of(' ');
  const bool isUnitKnown = fault->message.find("unknown unit") == std::string::npos;
  if (parts.grade || blank == std::string_view::npos || isUnitKnown)
    return value;
  const std::string_view rest = parts.value.substr(0, blank);
  const std::string_view last = parts.value.substr(blank + 1);
  if (std::holds_alternative<Fault>(read(rest)))
    return value;
  const std::string meant = nearest(last, gradeWords());
  return Fault{
      fmt::format("followed by '{}'; expected {}, or nothing", last, alternatives(gradeWords())),
      meant.empty() ? "" : fmt::format("{} {}", rest, meant)};
}

}  // namespace nightbank::scenario
