#include <string>

#include "reading.h"
#include "value.h"
#include <fmt/format.h>

namespace nightbank::scenario {
namespace {

constexpr std::size_t kMostSpans = 48;
constexpr std::size_t kMostPoints = 16;

bool isScalar(const Node& node, const std::string& path, const std::string& expected,
              Reading& reading) {
  if (node.kind == Node::Kind::scalar)
    return true;
  reading.error(path, fmt::format("{} is no single value; expected {}", path, expected));
  return false;
}

void tell(const Fault& fault, const Node& node, const std::string& path, Reading& reading) {
  reading.error(path, fmt::format("{} is {}, {}", path, quote(node.text), fault.message),
                didYouMean(fault.suggestion));
}

void readHours(Hours& hours, const Node& node, const std::string& path, Reading& reading) {
  if (node.items.size() > kMostSpans)
    return reading.error(path, fmt::format("{} has over {} spans", path, kMostSpans));
  std::vector<ClockSpan> spans;
  for (std::size_t i = 0; i < node.items.size(); ++i) {
    const Node& item = node.items[i];
    const std::string itemPath = joinPath(path, i);
    if (!isScalar(item, itemPath, "a span such as '22:00-07:00'", reading))
      continue;
    const auto span = readSpan(item.text);
    if (const auto* fault = std::get_if<Fault>(&span))
      tell(*fault, item, itemPath, reading);
    else
      spans.push_back(std::get<ClockSpan>(span));
  }
  if (!spans.empty())
    hours = std::move(spans);
}

void readFeeds(FedFrom& feeds, const Node& node, const std::string& path, Reading& reading) {
  for (std::size_t i = 0; i < node.items.size(); ++i) {
    const Node& item = node.items[i];
    const std::string itemPath = joinPath(path, i);
    if (!isScalar(item, itemPath, alternatives(feedWords()), reading))
      continue;
    if (const auto fault = addFeed(feeds, item.text))
      tell(*fault, item, itemPath, reading);
  }
}

// One number of a point; NaN where it is none.
double readShare(const Node& node, const std::string& path, const Range& range, Reading& reading) {
  if (!isScalar(node, path, "a percentage", reading))
    return std::numeric_limits<double>::quiet_NaN();
  const auto read = readGraded(node.text, Dim::fraction, range);
  if (const auto* fault = std::get_if<Fault>(&read)) {
    tell(*fault, node, path, reading);
    return std::numeric_limits<double>::quiet_NaN();
  }
  return std::get<Graded>(read).value;
}

void readPoints(const Field& field, void* part, const Node& node, const std::string& path,
                Reading& reading) {
  auto& points = field.in<std::vector<EfficiencyPoint>>(part);
  if (node.items.size() > kMostPoints)
    return reading.error(path, fmt::format("{} has over {} points", path, kMostPoints));
  for (std::size_t i = 0; i < node.items.size(); ++i) {
    const std::string itemPath = joinPath(path, i);
    const Node& item = node.items[i];
    if (item.kind != Node::Kind::list || item.items.size() != 2) {
      reading.error(itemPath, fmt::format("{} is no point; expected [load, efficiency], such as "
                                          "[50 %, 93 %]",
                                          itemPath));
      continue;
    }
    const double load = readShare(item.items[0], joinPath(itemPath, 0), {0.0, 1.5, true}, reading);
    const double efficiency = readShare(item.items[1], joinPath(itemPath, 1), field.range, reading);
    points.push_back({load, efficiency});
  }
  auto& grade = *static_cast<Graded*>(field.second(part));
  grade.grade = Grade::nameplate;
  grade.given = true;
}

}  // namespace

void readPlainList(const Field& field, void* part, const Node& node, const std::string& path,
                   Reading& reading) {
  switch (field.kind) {
    case Kind::hours:
      return readHours(field.in<Hours>(part), node, path, reading);
    case Kind::fedFrom:
      return readFeeds(field.in<FedFrom>(part), node, path, reading);
    default:
      return readPoints(field, part, node, path, reading);
  }
}

}  // namespace nightbank::scenario
