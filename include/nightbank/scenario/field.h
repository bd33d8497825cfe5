#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "nightbank/scenario/graded.h"
#include "nightbank/units/quantity.h"

/// Field lists: one table per struct says which keys it has, what they hold, within which range,
/// what is typical, and how the member is reached. Reading, checks, help, schema, echo and edits
/// all come from these tables; a new key is one new line in one of them (sim/scenario/fields/).
namespace nightbank::scenario {

struct Scenario;
struct Spec;

/// The shape of a value, and with it the type of the member.
enum class Kind : std::uint8_t {
  quantity,    ///< Graded: "13.1 A measured"
  current,     ///< CurrentAt: "8 A at 120 V"
  price,       ///< Graded: "4.20 /gal", kept per m3
  slope,       ///< Slope: "3.5 % per 1000 ft above 0 ft"; `dim` length or temperature
  word,        ///< Word<E>
  text,        ///< std::string
  name,        ///< std::string that a path can hold
  hours,       ///< Hours: "22:00-07:00", or a list
  clock,       ///< optional<double>, seconds after midnight: "20:30"
  date,        ///< optional<Date>: 2026-07-18
  dateTime,    ///< optional<double>: 2026-07-18 17:00
  wireSize,    ///< Graded resistance [ohm/m], second member the text: "4/0 AWG", "70 mm2"
  fedFrom,     ///< FedFrom: a word or a list of words
  efficiency,  ///< vector<EfficiencyPoint>, second member its grade: "90 %" or [[50 %, 93 %], ...]
  edits,       ///< vector<NamedEdit>: {path: value}
  part,        ///< a struct with a field list; also optional
  list,        ///< vector of such structs
};

/// Values that are accepted, in the unit that the code keeps. The high end belongs to it.
struct Range {
  double low = -std::numeric_limits<double>::infinity();
  double high = std::numeric_limits<double>::infinity();
  bool aboveLow = false;  ///< the low end itself is refused

  bool holds(double value) const {
    return value <= high && (aboveLow ? value > low : value >= low);
  }
};

/// What stands in for a number that was left out (of a word: its index). NaN: nothing does. Where
/// low == high it is a definition or a choice, no guess.
struct Typical {
  double value = std::numeric_limits<double>::quiet_NaN();
  double low = std::numeric_limits<double>::quiet_NaN();
  double high = std::numeric_limits<double>::quiet_NaN();
  Grade grade = Grade::typical;  ///< better where it follows from given values alone

  bool isGuess() const { return low < high; }
};

/// How the parts behind a member are reached; `member` points to the member.
struct Items {
  std::size_t (*count)(const void* member);
  void* (*item)(void* member, std::size_t index);
  void* (*append)(void* member);  ///< a plain member: itself; an optional one: created anew
  void (*reset)(void* member, std::size_t index);  ///< as new
  void (*erase)(void* member, std::size_t index);
  void (*clear)(void* member);
  bool isPlain;  ///< neither optional nor a list: always there
};

/// How a Word<E>, or an optional one, is reached.
struct WordAccess {
  int (*get)(const void* member);  ///< index of the word; -1: absent
  void (*set)(void* member, int index, bool given);
  bool (*isGiven)(const void* member);
  void (*clear)(void* member);
};

struct Field {
  std::string_view key;
  Kind kind{};
  Dim dim = Dim::number;  ///< of a quantity
  Range range;
  std::string_view usualUnit;  ///< proposed for a bare number; "": the dimension's first
  std::span<const std::string_view> words;
  std::string_view help;  ///< one line; ends with where a person finds it, in brackets

  bool isRequired = false;  ///< in a group: as soon as its branch is the one in use
  bool isSeldom = false;    ///< late in the help
  std::string_view
      notUsed;  ///< why the value is read, but does not enter the answer yet; "": it does
  std::uint8_t group = 0;  ///< 0: none; branches of one group exclude each other
  std::uint8_t branch = 0;

  Typical typical;                                                            ///< a constant, or
  Typical (*typicalFrom)(const Scenario& soFar, const void* part) = nullptr;  ///< from other values
  void (*fill)(const Scenario& soFar,
               void* part) = nullptr;  ///< what is no number; keeps what is given
  /// Of what is no number: its other end as edit text; "" where there is none.
  std::string (*otherEnd)(const Scenario& soFar, const void* part) = nullptr;
  std::string_view typicalText;  ///< for the help

  void* (*member)(void* part) = nullptr;
  void* (*second)(void* part) = nullptr;  ///< kinds with two members
  const Items* items = nullptr;
  const WordAccess* word = nullptr;
  const Spec& (*spec)() = nullptr;  ///< of a part, or of a list's items

  /// The member, of its own type.
  template <class T>
  T& in(void* part) const {
    return *static_cast<T*>(member(part));
  }

  template <class T>
  const T& in(const void* part) const {
    return *static_cast<const T*>(at(part));
  }

  const void* at(const void* part) const { return member(const_cast<void*>(part)); }
};

/// The field list of a struct.
struct Spec {
  std::string_view name;       ///< "an air conditioner", for messages
  std::vector<Field> fields;   ///< entries of one key (a word or a part) stand together
  std::string_view shorthand;  ///< the key that a bare value stands for; "": none

  /// The entries of `key`; empty where there is none.
  std::span<const Field> find(std::string_view key) const;
  /// The field of kind `name`; nullptr where items have no names.
  const Field* nameField() const;
};

/// The field list of `T`, a struct of scenario.h.
template <class T>
const Spec& specOf();

}  // namespace nightbank::scenario
