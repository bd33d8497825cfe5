#pragma once

#include <array>
#include <string>
#include <type_traits>

#include "access.h"

#include "nightbank/scenario/fields.h"

/// What the field lists are written with: a function per kind, on a member pointer, and
/// decorations.
namespace nightbank::scenario::build {

/// A field while its line is written.
struct Line : Field {
  Line within(Range limits) && { return range = limits, *this; }

  /// The unit that people mean who leave it out.
  Line usually(std::string_view unit) && { return usualUnit = unit, *this; }

  Line required() && { return isRequired = true, *this; }

  Line seldom() && { return isSeldom = true, *this; }

  /// Read and checked, but not used: "nothing is priced yet".
  Line unused(std::string_view why) && { return notUsed = why, *this; }

  /// One branch of alternatives.
  Line oneOf(std::uint8_t number, char letter) && {
    return group = number, branch = static_cast<std::uint8_t>(letter), *this;
  }

  /// A definition or choice, in the unit that the code keeps.
  Line byDefault(double value, std::string_view text) && {
    return typical = {value, value, value}, typicalText = text, *this;
  }

  /// A guess with the ends of its range, in the unit that the code keeps.
  Line typically(double value, double low, double high, std::string_view text) && {
    return typical = {value, low, high}, typicalText = text, *this;
  }

  template <auto F>
  Line from(std::string_view text) && {
    return typicalFrom = &call<F>, typicalText = text, *this;
  }

  /// Filled in where left out.
  template <auto F>
  Line filledBy(std::string_view text) && {
    return fill = &callFill<F>, typicalText = text, *this;
  }

  /// The other end of what is filled in.
  template <auto F>
  Line upTo() && {
    return otherEnd = &callEnd<F>, *this;
  }

 private:
  template <class F>
  struct Argument;

  template <class R, class P>
  struct Argument<R (*)(const Scenario&, P)> {
    using Type = P;
  };

  template <auto F>
  static Typical call(const Scenario& soFar, const void* part) {
    using P = std::remove_reference_t<typename Argument<decltype(F)>::Type>;
    return F(soFar, *static_cast<P*>(part));
  }

  template <auto F>
  static std::string callEnd(const Scenario& soFar, const void* part) {
    using P = std::remove_reference_t<typename Argument<decltype(F)>::Type>;
    return F(soFar, *static_cast<P*>(part));
  }

  template <auto F>
  static void callFill(const Scenario& soFar, void* part) {
    using P = std::remove_reference_t<typename Argument<decltype(F)>::Type>;
    F(soFar, *static_cast<P*>(part));
  }
};

template <auto M>
Line line(std::string_view key, Kind kind, std::string_view help) {
  Line made;
  made.key = key;
  made.kind = kind;
  made.help = help;
  made.member = &memberAt<M>;
  return made;
}

template <auto M>
Line quantity(std::string_view key, Dim dim, Range range, std::string_view help) {
  Line made = line<M>(key, Kind::quantity, help);
  made.dim = dim;
  made.range = range;
  return made;
}

/// A share of 1, written in percent.
template <auto M>
Line share(std::string_view key, Range range, std::string_view help) {
  return quantity<M>(key, Dim::fraction, range, help);
}

template <auto M>
Line current(std::string_view key, Range range, std::string_view help) {
  Line made = line<M>(key, Kind::current, help);
  made.dim = Dim::current;
  made.range = range;
  return made;
}

template <auto M>
Line word(std::string_view key, std::span<const std::string_view> words, std::string_view help) {
  Line made = line<M>(key, Kind::word, help);
  made.words = words;
  made.word = &kWordAccess<typename MemberOf<decltype(M)>::Type>;
  return made;
}

/// The words of a Word<YesNo>.
inline constexpr std::array<std::string_view, 2> kNoYes = {"no", "yes"};

/// Any other kind with one member.
template <auto M>
Line value(std::string_view key, Kind kind, std::string_view help) {
  return line<M>(key, kind, help);
}

/// A kind with two members.
template <auto M, auto Second>
Line pair(std::string_view key, Kind kind, std::string_view help) {
  Line made = line<M>(key, kind, help);
  made.second = &memberAt<Second>;
  return made;
}

template <auto M>
Line slope(std::string_view key, Dim dim, std::string_view help) {
  Line made = line<M>(key, Kind::slope, help);
  made.dim = dim;
  return made;
}

/// A struct with its own field list; the member may be optional.
template <auto M>
Line part(std::string_view key, std::string_view help) {
  using Type = typename MemberOf<decltype(M)>::Type;
  Line made = line<M>(key, Kind::part, help);
  made.items = &kItems<Type>;
  made.spec = &specOf<typename ItemAccess<Type>::Item>;
  return made;
}

template <auto M>
Line list(std::string_view key, std::string_view help) {
  Line made = part<M>(key, help);
  made.kind = Kind::list;
  return made;
}

inline constexpr double kNoLimit = std::numeric_limits<double>::infinity();

/// From `low`, itself included.
constexpr Range between(double low, double high) {
  return {low, high, false};
}

/// `low` itself excluded.
constexpr Range above(double low, double high) {
  return {low, high, true};
}

}  // namespace nightbank::scenario::build
