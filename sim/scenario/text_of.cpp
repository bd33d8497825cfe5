#include "text_of.h"

#include <cmath>

#include "member.h"
#include "value.h"
#include <fmt/format.h>

#include "nightbank/scenario/document.h"
#include "nightbank/scenario/scenario.h"
#include "nightbank/units/constants.h"

namespace nightbank::scenario {
namespace {

constexpr std::string_view kNoneWord = "none";

std::string withGrade(std::string text, Grade grade) {
  if (grade == Grade::nameplate)
    return text;
  return fmt::format("{} {}", text, gradeWords()[static_cast<std::size_t>(grade)]);
}

// As a YAML scalar in quotes.
std::string inQuotes(std::string_view text) {
  Node node;
  node.kind = Node::Kind::scalar;
  node.text = text;
  node.quoted = true;
  return flowText(node);
}

std::string clock(double second) {
  return second >= kDay_s ? "24:00" : clockText(second);
}

std::string hoursText(const Hours& hours) {
  std::string text;
  for (const ClockSpan& span : *hours)
    text +=
        fmt::format("{}\"{}-{}\"", text.empty() ? "" : ", ", clock(span.from_s), clock(span.to_s));
  return fmt::format("[{}]", text);
}

std::string dateText(const Date& date) {
  return fmt::format("{:04}-{:02}-{:02}", date.year, date.month, date.day);
}

std::string dateTimeText(double local_s) {
  std::string text = iso8601(local_s, 0.0).substr(0, 16);
  text[10] = ' ';
  return text;
}

std::string currentText(const CurrentAt& current) {
  const std::string number = numberText(current.value, Dim::current);
  if (std::isnan(current.at_V))
    return number;
  return fmt::format("{} at {}", number, numberText(current.at_V, Dim::voltage));
}

// Per 100 m, or per kelvin.
std::string slopeText(const Slope& slope, Dim dim, int digits) {
  const bool isAltitude = dim == Dim::length;
  return fmt::format("{:.{}g} % per {} above {:.{}g} {}",
                     100.0 * slope.perUnit * (isAltitude ? 100.0 : 1.0), digits,
                     isAltitude ? "100 m" : "1 K", slope.above, digits, isAltitude ? "m" : "degC");
}

std::string feedsText(const FedFrom& feeds) {
  std::string text;
  const bool isFed[] = {feeds.battery, feeds.inverter, feeds.generator};
  for (std::size_t i = 0; i < feedWords().size(); ++i)
    if (isFed[i])
      text += fmt::format("{}{}", text.empty() ? "" : ", ", feedWords()[i]);
  return fmt::format("[{}]", text);
}

// One share alone, or points.
std::string efficiencyText(const std::vector<EfficiencyPoint>& points) {
  if (points.size() == 1 && points.front().load == 0.5)
    return numberText(points.front().efficiency, Dim::fraction);
  std::string text;
  for (const EfficiencyPoint& point : points)
    text +=
        fmt::format("{}[{}, {}]", text.empty() ? "" : ", ", numberText(point.load, Dim::fraction),
                    numberText(point.efficiency, Dim::fraction));
  return fmt::format("[{}]", text);
}

std::string editsText(const std::vector<NamedEdit>& edits) {
  std::string text;
  for (const NamedEdit& edit : edits)
    text += fmt::format("{}{}: {}", text.empty() ? "" : ", ", inQuotes(edit.path), edit.value);
  return fmt::format("{{{}}}", text);
}

std::string partText(const Spec& spec, const void* part) {
  std::string text;
  for (const Field& field : spec.fields)
    if (isKnown(field, part))
      text += fmt::format("{}{}: {}", text.empty() ? "" : ", ", field.key, editText(field, part));
  return fmt::format("{{{}}}", text);
}

std::string itemsText(const Field& field, const void* part) {
  if (field.kind == Kind::part)
    return partText(field.spec(), itemOf(field, part));
  std::string text;
  for (std::size_t i = 0; i < countOf(field, part); ++i)
    text += fmt::format("{}{}", text.empty() ? "" : ", ",
                        partText(field.spec(), itemOf(field, part, i)));
  return fmt::format("[{}]", text);
}

// A list as a sentence would have it.
std::string withoutSigns(std::string text) {
  std::erase_if(text, [](char c) { return c == '[' || c == ']' || c == '"'; });
  return text;
}

// What has no number and no grade.
std::string plainText(const Field& field, const void* part) {
  switch (field.kind) {
    case Kind::word: {
      const int index = field.word->get(field.at(part));
      return std::string(index < 0 ? kNoneWord : field.words[static_cast<std::size_t>(index)]);
    }
    case Kind::hours:
      return hoursText(field.in<Hours>(part));
    case Kind::clock:
      return clock(*field.in<std::optional<double>>(part));
    case Kind::date:
      return dateText(*field.in<std::optional<Date>>(part));
    case Kind::dateTime:
      return dateTimeText(*field.in<std::optional<double>>(part));
    case Kind::wireSize:
      return *static_cast<const std::string*>(field.second(const_cast<void*>(part)));
    case Kind::fedFrom:
      return feedsText(field.in<FedFrom>(part));
    case Kind::edits:
      return editsText(field.in<std::vector<NamedEdit>>(part));
    default:
      return field.in<std::string>(part);
  }
}

}  // namespace

std::string numberText(double value, Dim dim) {
  // The unit that people are shown, found in what they are shown.
  const std::string shown = format(value, dim);
  const std::size_t blank = shown.find(' ');
  if (blank == std::string::npos)
    return fmt::format("{:.10g}", value);
  const std::string unit = shown.substr(blank + 1);
  return fmt::format("{:.10g} {}", inUnit(value, dim, unit), unit);
}

std::string editText(const Field& field, const void* part) {
  if (field.kind != Kind::word && !isKnown(field, part))
    return std::string(kNoneWord);
  switch (field.kind) {
    case Kind::quantity:
      return withGrade(numberText(field.in<Graded>(part).value, field.dim), gradeOf(field, part));
    case Kind::current:
      return withGrade(currentText(field.in<CurrentAt>(part)), gradeOf(field, part));
    case Kind::price:
      return withGrade(fmt::format("{:.10g} /L", field.in<Graded>(part).value * kLitre_m3),
                       gradeOf(field, part));
    case Kind::slope:
      return withGrade(slopeText(field.in<Slope>(part), field.dim, 10), gradeOf(field, part));
    case Kind::efficiency: {
      const std::string text = efficiencyText(field.in<std::vector<EfficiencyPoint>>(part));
      return text.starts_with('[') ? text : withGrade(text, gradeOf(field, part));
    }
    case Kind::part:
    case Kind::list:
      return itemsText(field, part);
    case Kind::text:
    case Kind::name:
    case Kind::clock:
      return inQuotes(plainText(field, part));
    default:
      return plainText(field, part);
  }
}

std::string shownNumber(const Field& field, double value, UnitSystem units) {
  if (field.kind == Kind::word)
    return std::string(field.words[static_cast<std::size_t>(value)]);
  return format(value, field.kind == Kind::efficiency ? Dim::fraction : field.dim, units);
}

std::string shownText(const Field& field, const void* part, UnitSystem units) {
  if (field.kind != Kind::word && !isKnown(field, part))
    return "unknown";
  switch (field.kind) {
    case Kind::quantity:
      return format(field.in<Graded>(part).value, field.dim, units);
    case Kind::current: {
      const auto& current = field.in<CurrentAt>(part);
      const std::string number = format(current.value, Dim::current, units);
      return std::isnan(current.at_V)
                 ? number
                 : fmt::format("{} at {}", number, format(current.at_V, Dim::voltage, units));
    }
    case Kind::price: {
      const bool isUs = units == UnitSystem::us;
      return fmt::format("{:.4g} /{}",
                         field.in<Graded>(part).value * (isUs ? kUsGallon_m3 : kLitre_m3),
                         isUs ? "gal" : "L");
    }
    case Kind::slope:
      return slopeText(field.in<Slope>(part), field.dim, 3);
    case Kind::efficiency:
      return efficiencyText(field.in<std::vector<EfficiencyPoint>>(part));
    case Kind::part:
    case Kind::list:
      return itemsText(field, part);
    case Kind::hours:
    case Kind::fedFrom:
      return withoutSigns(plainText(field, part));
    default:
      return plainText(field, part);
  }
}

bool isKnown(const Field& field, const void* part) {
  switch (field.kind) {
    case Kind::quantity:
    case Kind::price:
    case Kind::wireSize:
      return field.in<Graded>(part).known();
    case Kind::current:
      return field.in<CurrentAt>(part).known();
    case Kind::slope:
      return !std::isnan(field.in<Slope>(part).perUnit);
    case Kind::efficiency:
      return !field.in<std::vector<EfficiencyPoint>>(part).empty();
    case Kind::fedFrom: {
      const auto& feeds = field.in<FedFrom>(part);
      return feeds.battery || feeds.inverter || feeds.generator;
    }
    default:
      return isGiven(field, part);
  }
}

Grade gradeOf(const Field& field, const void* part) {
  switch (field.kind) {
    case Kind::quantity:
    case Kind::price:
    case Kind::wireSize:
      return field.in<Graded>(part).grade;
    case Kind::current:
      return field.in<CurrentAt>(part).grade;
    case Kind::slope:
      return field.in<Slope>(part).grade;
    case Kind::efficiency:
      return static_cast<const Graded*>(field.second(const_cast<void*>(part)))->grade;
    default:
      return isGiven(field, part) ? Grade::nameplate : Grade::typical;
  }
}

}  // namespace nightbank::scenario
