#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>

#include "nightbank/scenario/field.h"
#include "nightbank/scenario/scenario.h"

/// From the text of one value to its member. Private to the room.
namespace nightbank::scenario {

/// Why a text is no value of a field.
struct Fault {
  std::string message;     ///< reads after "bank.capacity is '5 kW', "
  std::string suggestion;  ///< the text that may have been meant, or ""
};

/// A value, or why there is none.
template <class T>
using Read = std::variant<T, Fault>;

/// Reads a scalar into the field's member and marks it as given. On a fault the member is
/// untouched. Kinds part, list and edits take no scalar.
std::optional<Fault> readScalar(const Field& field, void* part, std::string_view text);

/// A number with its unit and, where written, its grade.
Read<Graded> readGraded(std::string_view text, Dim dim, const Range& range);
Read<CurrentAt> readCurrent(std::string_view text, const Range& range);
Read<Graded> readPrice(std::string_view text);
/// @param dim  length (altitude) or temperature (heat)
Read<Slope> readSlope(std::string_view text, Dim dim);
/// Resistance of one conductor. [ohm/m]
Read<double> readWireSize(std::string_view text);
/// Seconds after midnight.
Read<double> readClock(std::string_view text);
Read<ClockSpan> readSpan(std::string_view text);
Read<Date> readDate(std::string_view text);
/// Seconds since 1970.
Read<double> readDateTime(std::string_view text);
std::optional<Fault> addFeed(FedFrom& feeds, std::string_view word);

/// What a field takes, for messages and help: "a charge (Ah, mAh)", "flooded, agm, gel or lfp".
std::string expectation(const Field& field);
/// "the keys of a load: name, fed_from, power, current ..."
std::string keysText(const Spec& spec);
/// "1 V to 1000 V", "above 0 Ah, up to 100000 Ah"; "" without limits.
std::string rangeText(const Range& range, Dim dim, std::string_view unit);
/// "flooded, agm, gel or lfp"
std::string alternatives(std::span<const std::string_view> words);

std::span<const std::string_view> gradeWords();
std::span<const std::string_view> feedWords();

}  // namespace nightbank::scenario
