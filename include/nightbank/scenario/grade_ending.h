#pragma once

#include <string_view>

#include "nightbank/scenario/graded.h"

namespace nightbank::scenario {

/// What the text of a value ends with, so that a changed one keeps its grade: a guess moved by a
/// kelvin is a guess. A nameplate's is not written.
constexpr std::string_view gradeEnding(Grade grade) {
  switch (grade) {
    case Grade::typical:
      return " typical";
    case Grade::measured:
      return " measured";
    case Grade::nameplate:
      break;
  }
  return "";
}

}  // namespace nightbank::scenario
