#include "nightbank/report/strip.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <functional>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "nightbank/report/figures.h"
#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

constexpr int kColumns = 64;
constexpr int kStripRows = 10;  // 10 % each
constexpr int kLabel = 8;       // left of the drawing

// From empty to full within one cell.
constexpr std::array<std::string_view, 4> kPlain{" ", ".", ":", "#"};
constexpr std::array<std::string_view, 9> kBlocks{" ", "▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"};

struct Canvas {
  const Night& night;
  const TextStyle& style;

  double at_s(double column) const { return night.plant.span_s * column / kColumns; }
};

std::string trimmed(std::string line) {
  line.erase(line.find_last_not_of(' ') + 1);
  return line;
}

// The cell of one row (0 at the bottom) where the charge stands at `soc`.
std::string_view cell(const TextStyle& style, double soc, int row) {
  const double filled = std::clamp(soc * kStripRows - row, 0.0, 1.0);
  if (style.blocks)
    return kBlocks.at(static_cast<std::size_t>(std::lround(filled * (kBlocks.size() - 1))));
  return kPlain.at(static_cast<std::size_t>(std::lround(filled * (kPlain.size() - 1))));
}

// The lowest state of charge within each column, so that no short visit to the floor is lost.
std::vector<double> lowestSocs(const Canvas& canvas) {
  const Plant& plant = canvas.night.plant;
  const auto& samples = canvas.night.recorder.samples;
  std::vector<double> lowest;
  lowest.reserve(kColumns);
  for (int column = 0; column < kColumns; ++column)
    lowest.push_back(std::min(socAt(plant, samples, canvas.at_s(column)),
                              socAt(plant, samples, canvas.at_s(column + 1))));
  for (const Sample& sample : samples) {
    const double share = (sample.start_s + sample.span_s) / plant.span_s;
    const auto column = static_cast<std::size_t>(std::clamp(share * kColumns, 0.0, kColumns - 1.0));
    lowest[column] = std::min(lowest[column], sample.socEnd);
  }
  return lowest;
}

std::string chargeRow(const Canvas& canvas, const std::vector<double>& socs, int row) {
  const double floor = canvas.night.plant.floorSoc;
  const bool holdsFloor = static_cast<int>(std::floor(floor * kStripRows - 1e-9)) == row;
  std::string text = row % 2 == 1 ? fmt::format("{:>5} % ", (row + 1) * 10) : "        ";
  for (const double soc : socs) {
    const std::string_view drawn = cell(canvas.style, soc, row);
    text += drawn == " " && holdsFloor ? "-" : drawn;
  }
  text += holdsFloor ? " < floor" : "";
  return trimmed(std::move(text)) + '\n';
}

// Hours between two labels, so that they stand at least eight columns apart.
int hoursApart(double span_s) {
  constexpr std::array kSteps{1, 2, 3, 4, 6, 12, 24, 48, 96, 168, 336, 720, 1440, 2880, 8760};
  for (const int hours : kSteps) {
    if (hours * kHour_s * kColumns / span_s >= 8.0)
      return hours;
  }
  return kSteps.back();
}

// The axis with a mark at each label, and the labels: clock times, or dates a day or more apart.
std::string axis(const Plant& plant) {
  const int hours = hoursApart(plant.span_s);
  std::string line(kColumns, '-');
  std::string labels(kLabel + kColumns, ' ');
  const double step_s = hours * kHour_s;
  const double first_s = std::ceil(plant.start_s / step_s - 1e-9) * step_s;
  for (int i = 0;; ++i) {
    const double local_s = first_s + i * step_s;
    const auto column = static_cast<std::size_t>(
        std::floor((local_s - plant.start_s) / plant.span_s * kColumns + 1e-9));
    const std::string when = dayAndClockText(local_s);
    const std::string label = hours < 24 ? clockText(local_s) : when.substr(0, when.rfind(' '));
    if (column >= kColumns || column + label.size() > kColumns)
      break;
    line[column] = '+';
    labels.replace(kLabel + column, label.size(), label);
  }
  return std::string(kLabel, ' ') + line + '\n' + trimmed(std::move(labels)) + '\n';
}

// One row below the axis: a column is marked where `share` of it, 0..1, is at least a half, and
// with a dot where it is more than nothing. "" where nothing is.
std::string bandRow(const Canvas& canvas, std::string_view name, char mark,
                    const std::function<double(double from_s, double to_s)>& share) {
  std::string cells;
  for (int column = 0; column < kColumns; ++column) {
    const double part = share(canvas.at_s(column), canvas.at_s(column + 1));
    cells += part >= 0.5 ? mark : part > 1e-6 ? '.' : ' ';
  }
  cells = trimmed(std::move(cells));
  return cells.empty() ? "" : fmt::format("{:<8}{}\n", name, cells);
}

double overlap_s(double from_s, double to_s, double first_s, double last_s) {
  return std::max(0.0, std::min(to_s, last_s) - std::max(from_s, first_s));
}

template <class Holds>
double segmentShare(const Plant& plant, double from_s, double to_s, const Holds& holds) {
  double held_s = 0.0;
  for (std::size_t i = 0; i < plant.segments.size(); ++i) {
    const double end_s =
        i + 1 < plant.segments.size() ? plant.segments[i + 1].start_s : plant.span_s;
    if (holds(plant.segments[i]))
      held_s += overlap_s(from_s, to_s, plant.segments[i].start_s, end_s);
  }
  return held_s / (to_s - from_s);
}

std::string bands(const Canvas& canvas) {
  const Plant& plant = canvas.night.plant;
  const auto bySegment = [&](std::string_view name, char mark, auto holds) {
    return bandRow(canvas, name, mark, [&, holds](double from_s, double to_s) {
      return segmentShare(plant, from_s, to_s, holds);
    });
  };
  const auto engine = [&](double from_s, double to_s) {
    double on_s = 0.0;
    for (const GeneratorRun& run : canvas.night.recorder.runs)
      on_s += overlap_s(from_s, to_s, run.from_s, run.to_s);
    return on_s / (to_s - from_s);
  };
  return bySegment("A/C", 'c', [](const Segment& s) { return s.airConditioners != 0; }) +
         bySegment("quiet", 'q', [](const Segment& s) { return !s.mayRun; }) +
         bySegment("asleep", 'z', [](const Segment& s) { return s.asleep; }) +
         bandRow(canvas, "engine", 'E', engine) +
         bySegment("shore", 's', [](const Segment& s) { return s.shore; });
}

}  // namespace

std::string chargeStrip(const Night& night, const TextStyle& style) {
  if (night.recorder.samples.empty() || !(night.plant.span_s > 0.0))
    return "";
  const Canvas canvas{night, style};
  const std::vector<double> socs = lowestSocs(canvas);
  std::string text = "State of charge\n";
  for (int row = kStripRows - 1; row >= 0; --row)
    text += chargeRow(canvas, socs, row);
  return text + axis(night.plant) + bands(canvas);
}

}  // namespace nightbank::report
