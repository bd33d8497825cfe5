#pragma once

#include <span>
#include <string>
#include <vector>

#include "nightbank/scenario/document.h"
#include "nightbank/units/quantity.h"

/// Measured values into the text that somebody wrote, in place.
namespace nightbank::scenario {

/// A number with its standard error, in the unit that the code keeps.
struct MeasuredValue {
  std::string path;  ///< as of edits: "inverter.idle"
  Dim dim = Dim::number;
  double value = 0.0;
  double deviation = 0.0;  ///< > 0; 0: exact, without a comment
};

struct WrittenBack {
  std::string text;
  std::vector<std::string> changed;  ///< paths that are in it now
  std::vector<std::string> left;     ///< paths for which the text has no place
};

/// The text of a document with the values in the place of those that are there, in the unit that
/// was typed, graded `measured`, each with its error in a comment at the end of its line. A value
/// that was left out is added to its part; a part that is not there is added at the end. All other
/// bytes stay: comments, order, blanks, line ends.
WrittenBack writtenBack(const Document& document, std::span<const MeasuredValue> values);

/// "38.4 W", with as many digits as the error has meaning, in a unit of the dimension ("": none).
std::string measuredText(const MeasuredValue& value, std::string_view unit);

/// The same of the error: "1.2 W".
std::string deviationText(const MeasuredValue& value, std::string_view unit);

}  // namespace nightbank::scenario
