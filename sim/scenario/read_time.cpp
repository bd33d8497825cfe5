#include <algorithm>
#include <array>
#include <string>

#include "value.h"
#include <fmt/format.h>

#include "nightbank/units/calendar.h"

namespace nightbank::scenario {
namespace {

struct Numbers {
  std::array<std::string_view, 3> texts;
  char separator;
};

// "7/18/2031", "18.07.2031": three numbers with two equal signs between them.
std::optional<Numbers> threeNumbers(std::string_view text) {
  const std::size_t first = text.find_first_not_of("0123456789");
  if (first == std::string_view::npos)
    return std::nullopt;
  const std::size_t second = text.find(text[first], first + 1);
  if (second == std::string_view::npos)
    return std::nullopt;
  const Numbers numbers{
      {text.substr(0, first), text.substr(first + 1, second - first - 1), text.substr(second + 1)},
      text[first]};
  const bool areDigits = std::ranges::all_of(numbers.texts, [](std::string_view number) {
    return !number.empty() && number.size() <= 4 &&
           number.find_first_not_of("0123456789") == std::string_view::npos;
  });
  return areDigits ? std::optional(numbers) : std::nullopt;
}

std::string dateOf(std::string_view year, std::string_view month, std::string_view day) {
  const std::string text = fmt::format("{}-{:0>2}-{:0>2}", year, month, day);
  return parseDate(text) ? text : "";
}

// A date in another order; "" where there is none, or where two orders make one.
std::string mendedDate(std::string_view text) {
  const auto numbers = threeNumbers(text);
  if (!numbers)
    return "";
  const auto& [a, b, c] = numbers->texts;
  if (a.size() == 4)
    return dateOf(a, b, c);
  const std::string dayFirst = dateOf(c, b, a);
  const std::string monthFirst = dateOf(c, a, b);
  if (dayFirst.empty() || numbers->separator == '.')
    return numbers->separator == '.' ? dayFirst : monthFirst;
  return monthFirst.empty() || monthFirst == dayFirst ? dayFirst : "";
}

// What can be mended in a span: blanks, a long dash, one digit of an hour.
std::string mendedSpan(std::string_view text) {
  std::string mended;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text.substr(i, 3) == "\u2013" || text.substr(i, 3) == "\u2014") {
      mended += '-';
      i += 2;
    } else if (text[i] != ' ') {
      mended += text[i];
    }
  }
  const std::size_t dash = mended.find('-');
  if (dash == std::string::npos)
    return "";
  std::string from = mended.substr(0, dash);
  std::string to = mended.substr(dash + 1);
  for (std::string* end : {&from, &to}) {
    if (end->find(':') == std::string::npos)
      *end += ":00";
    if (end->find(':') == 1)
      *end = "0" + *end;
  }
  mended = from + "-" + to;
  return parseClockSpan(mended) ? mended : "";
}

bool looksLikeClock(std::string_view text) {
  return text.size() == 5 && text[2] == ':' &&
         text.find_first_not_of("0123456789:") == std::string_view::npos;
}

// For "21:30-25:00", which has the right shape.
std::string_view spanFault(std::string_view text) {
  if (!looksLikeClock(text.substr(0, 5)) || !looksLikeClock(text.substr(6)))
    return "no span of the clock";
  return parseClock(text.substr(0, 5)) ? "a span whose end is no time of the day"
                                       : "a span whose beginning is no time of the day";
}

}  // namespace

Read<double> readClock(std::string_view text) {
  if (const auto clock = parseClock(text))
    return *clock;
  const std::string padded = fmt::format("0{}", text);
  return Fault{"no time of the day; expected such as '20:30'", parseClock(padded) ? padded : ""};
}

Read<Date> readDate(std::string_view text) {
  const auto date = parseDate(text);
  if (!date)
    return Fault{"no date; expected such as 2026-07-18", mendedDate(text)};
  if (date->year < 2000 || date->year > 2099)
    return Fault{"out of range; expected a year from 2000 to 2099", ""};
  return *date;
}

Read<double> readDateTime(std::string_view text) {
  const auto time = parseDateTime(text);
  if (!time)
    return Fault{"no date with a time; expected such as 2026-07-18 17:00", ""};
  const auto date = readDate(text.substr(0, 10));
  if (const auto* fault = std::get_if<Fault>(&date))
    return *fault;
  return *time;
}

Read<ClockSpan> readSpan(std::string_view text) {
  if (const auto span = parseClockSpan(text))
    return *span;
  const std::size_t dash = text.find('-');
  if (dash != std::string_view::npos && parseClock(text.substr(0, dash)) &&
      text.substr(0, dash) == text.substr(dash + 1))
    return Fault{"a span with equal ends; the whole day is '00:00-24:00'", ""};
  const std::string_view fault = dash == 5 ? spanFault(text) : "no span of the clock";
  return Fault{fmt::format("{}; expected such as '22:00-07:00'", fault), mendedSpan(text)};
}

}  // namespace nightbank::scenario
