#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <functional>

#include "picture.h"
#include <fmt/format.h>

#include "nightbank/report/figures.h"
#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

// What every picture of a night is made from.
struct Course {
  const Answer& answer;
  const Night& night;
  std::vector<ClockRow> rows;
  UnitSystem units;

  double edge_s(std::size_t i) const {
    return i < rows.size() ? rows[i].total.start_s : night.plant.span_s;
  }

  std::string at(double time_s) const { return momentText(night.plant, time_s); }
};

Picture begun(const Course& course, std::string id, std::string title, PictureKind kind) {
  Picture picture;
  picture.id = std::move(id);
  picture.title = std::move(title);
  picture.kind = kind;
  picture.start_s = course.night.plant.start_s;
  for (std::size_t i = 0; i <= course.rows.size(); ++i)
    picture.edges.push_back(course.edge_s(i));
  return picture;
}

using OfRow = std::function<double(const Sample& row)>;

Layer layerOf(const Course& course, std::string word, std::string name, const OfRow& value) {
  Layer layer{std::move(word), std::move(name), {}};
  for (const ClockRow& row : course.rows)
    layer.values.push_back(value(row.total));
  return layer;
}

// The same with a value at the start.
Layer curveOf(const Course& course, std::string word, std::string name, double first,
              const OfRow& value) {
  Layer layer{std::move(word), std::move(name), {}};
  layer.values.reserve(course.rows.size() + 1);
  layer.values.push_back(first);
  for (const ClockRow& row : course.rows)
    layer.values.push_back(value(row.total));
  return layer;
}

Stripes quietHours(const Plant& plant) {
  Stripes quiet{"quiet", "quiet hours: no engine may run", {}, false};
  for (std::size_t i = 0; i < plant.segments.size(); ++i) {
    if (plant.segments[i].mayRun)
      continue;
    const double from_s = plant.segments[i].start_s;
    const double to_s =
        i + 1 < plant.segments.size() ? plant.segments[i + 1].start_s : plant.span_s;
    if (!quiet.spans.empty() && quiet.spans.back().to_s == from_s)
      quiet.spans.back().to_s = to_s;
    else
      quiet.spans.push_back({from_s, to_s});
  }
  return quiet;
}

Stripes engineRuns(const Night& night) {
  Stripes runs{"engine", "the engine runs", {}, true};
  for (const GeneratorRun& run : night.recorder.runs)
    runs.spans.push_back({run.from_s, run.to_s});
  return runs;
}

std::string spansText(const Course& course, const Stripes& stripes) {
  constexpr std::size_t kMostSpans = 6;
  std::string text;
  for (std::size_t i = 0; i < std::min(stripes.spans.size(), kMostSpans); ++i)
    text += fmt::format("{}{} to {}", i == 0 ? "" : ", ", course.at(stripes.spans[i].from_s),
                        course.at(stripes.spans[i].to_s));
  return stripes.spans.size() > kMostSpans ? text + " and more" : text;
}

Picture chargePicture(const Course& course) {
  const Plant& plant = course.night.plant;
  const BankOutcome& bank = course.night.outcome.bank;
  Picture picture = begun(course, "charge", "State of charge", PictureKind::lines);
  picture.unit = "%";
  picture.high = 100.0;
  const auto charge = [](const Sample& row) { return 100.0 * row.socEnd; };
  picture.layers.push_back(
      curveOf(course, "charge", "state of charge of the bank", 100.0 * plant.startSoc, charge));
  if (const auto& resting = course.answer.restingEnd) {
    picture.layers.front().name += ", the compressor never rests";
    const Course other{
        course.answer, *resting,
        clockRows(resting->plant, resting->recorder.samples, pictureStep_s(resting->plant.span_s)),
        course.units};
    picture.layers.push_back(curveOf(other, "resting", "the same, it rests 60 % of the time",
                                     100.0 * plant.startSoc, charge));
  }
  picture.levels.push_back({"floor " + socText(bank.floorSoc), 100.0 * bank.floorSoc});
  picture.marks.push_back(
      {bank.lowestAt_s, 100.0 * bank.lowestSoc,
       fmt::format("{}, {}", socText(bank.lowestSoc), course.at(bank.lowestAt_s))});
  picture.stripes.push_back(quietHours(plant));
  picture.stripes.push_back(engineRuns(course.night));
  std::erase_if(picture.stripes, [](const Stripes& stripes) { return stripes.spans.empty(); });
  picture.description =
      fmt::format("Begins at {}, lowest {} at {}, ends at {}; the floor is {}.",
                  socText(bank.startSoc), socText(bank.lowestSoc), course.at(bank.lowestAt_s),
                  socText(bank.endSoc), socText(bank.floorSoc));
  for (const Stripes& stripes : picture.stripes)
    picture.description +=
        fmt::format(" {}{}: {}.", static_cast<char>(std::toupper(stripes.name.front())),
                    stripes.name.substr(1), spansText(course, stripes));
  return picture;
}

// Out of the bank, at its open-circuit voltage: what all uses and losses took and no source gave.
double fromBank_J(const Sample& row) {
  return row.airConditioners_J + row.loads_J + row.losses_J -
         (row.solar_J + row.generator_J + row.shore_J + row.alternator_J);
}

OfRow meanPower(double (*energy_J)(const Sample& row)) {
  return [energy_J](const Sample& row) {
    return row.span_s > 0.0 ? std::max(0.0, energy_J(row)) / row.span_s : 0.0;
  };
}

// Leaves out layers that are nothing, and describes the rest by energy and highest sum.
void finishStack(const Course& course, Picture& picture) {
  std::string energies;
  std::vector<double> sums(course.rows.size(), 0.0);
  std::erase_if(picture.layers, [&](const Layer& layer) {
    double energy_J = 0.0;
    for (std::size_t i = 0; i < sums.size(); ++i) {
      sums[i] += layer.values[i];
      energy_J += layer.values[i] * course.rows[i].total.span_s;
    }
    if (energy_J < 0.05 * kWattHour_J)
      return true;
    energies += fmt::format("{}{} {}", energies.empty() ? "" : ", ", layer.name,
                            format(energy_J, Dim::energy));
    return false;
  });
  const auto highest = std::max_element(sums.begin(), sums.end());
  const double time_s = course.edge_s(static_cast<std::size_t>(highest - sums.begin()));
  picture.description = fmt::format("In all: {}. Most from {} on: {}.", energies, course.at(time_s),
                                    format(*highest, Dim::power));
  picture.unit = "W";
  picture.high = roundSteps(0.0, std::max(*highest, 10.0), 4).back();
}

Picture sourcePicture(const Course& course) {
  Picture picture = begun(course, "sources", "Power by source", PictureKind::stack);
  const auto add = [&](std::string word, std::string name, double (*energy_J)(const Sample&)) {
    picture.layers.push_back(
        layerOf(course, std::move(word), std::move(name), meanPower(energy_J)));
  };
  add("bank", "out of the bank", fromBank_J);
  add("generator", "generator", [](const Sample& row) { return row.generator_J; });
  add("shore", "shore power", [](const Sample& row) { return row.shore_J; });
  add("alternator", "alternator", [](const Sample& row) { return row.alternator_J; });
  add("solar", "solar", [](const Sample& row) { return row.solar_J; });
  finishStack(course, picture);
  return picture;
}

Picture usePicture(const Course& course) {
  Picture picture = begun(course, "uses", "Power by use", PictureKind::stack);
  const auto add = [&](std::string word, std::string name, double (*energy_J)(const Sample&)) {
    picture.layers.push_back(
        layerOf(course, std::move(word), std::move(name), meanPower(energy_J)));
  };
  add("unit", "air conditioners", [](const Sample& row) { return row.airConditioners_J; });
  add("loads", "other loads", [](const Sample& row) { return row.loads_J; });
  add("losses", "losses", [](const Sample& row) { return row.losses_J; });
  add("bank", "into the bank", [](const Sample& row) { return -fromBank_J(row); });
  finishStack(course, picture);
  return picture;
}

Picture heatPicture(const Course& course) {
  const Plant& plant = course.night.plant;
  const CabinOutcome& cabin = course.night.outcome.cabin;
  const std::string unit = course.units == UnitSystem::us ? "degF" : "degC";
  const auto shown = [&](double value_degC) { return inUnit(value_degC, Dim::temperature, unit); };
  Picture picture = begun(course, "heat", "Temperature", PictureKind::lines);
  picture.unit = unit;
  picture.layers.push_back(curveOf(course, "inside", "air in the cabin",
                                   shown(cabin.start.temperatures.air_degC),
                                   [&](const Sample& row) { return shown(row.indoor_degC); }));
  Layer outside{"outside", "outdoors", {}};
  for (std::size_t i = 0; i <= course.rows.size(); ++i) {
    const std::size_t cell = std::min(outdoorCell(course.edge_s(i)), plant.outdoor_degC.size() - 1);
    outside.values.push_back(shown(plant.outdoor_degC[cell]));
  }
  picture.layers.push_back(std::move(outside));
  double low = picture.layers[0].values[0], high = low;
  for (const Layer& layer : picture.layers)
    for (const double value : layer.values) {
      low = std::min(low, value);
      high = std::max(high, value);
    }
  const double limit_degC = plant.cabin.tooWarmAbove_degC;
  if (std::isfinite(limit_degC)) {
    picture.levels.push_back({format(limit_degC, Dim::temperature, course.units), shown(limit_degC),
                              "too warm while somebody is at home"});
    high = std::max(high, shown(limit_degC) + 1.0);
    low = std::min(low, shown(limit_degC) - 1.0);
  }
  const std::vector<double> steps = roundSteps(low, high, 4);
  picture.low = steps.front();
  picture.high = steps.back();
  picture.description =
      fmt::format("Inside between {} and {}, outdoors from {} at the beginning to {} at the end.",
                  format(cabin.lowest_degC, Dim::temperature, course.units),
                  format(cabin.highest_degC, Dim::temperature, course.units),
                  format(plant.outdoor_degC.front(), Dim::temperature, course.units),
                  format(plant.outdoor_degC.back(), Dim::temperature, course.units));
  return picture;
}

Picture dutyPicture(const Course& course) {
  Picture picture = begun(course, "duty", "Duty of the compressors", PictureKind::bars);
  picture.unit = "%";
  picture.high = 100.0;
  picture.layers.push_back(
      layerOf(course, "unit", "compressor on, share of its hours", [](const Sample& row) {
        return row.wanted_s > 0.0 ? 100.0 * row.compressor_s / row.wanted_s : kNever_s;
      }));
  double on_s = 0.0, wanted_s = 0.0;
  int starts = 0;
  for (const AirConditionerOutcome& unit : course.night.recorder.airConditioners) {
    on_s += unit.compressor_s;
    wanted_s += unit.wanted_s;
    starts += unit.starts;
  }
  picture.description =
      fmt::format("Compressors are on for {} of {}, with {} start{}.", durationText(on_s),
                  durationText(wanted_s), starts, starts == 1 ? "" : "s");
  return picture;
}

}  // namespace

Layer chargeLayer(const Night& night, std::string word, std::string name,
                  const std::vector<double>& edges) {
  Layer layer{std::move(word), std::move(name), {}};
  for (const double edge_s : edges)
    layer.values.push_back(edge_s > night.plant.span_s + 1.0
                               ? kNever_s
                               : 100.0 * socAt(night.plant, night.recorder.samples, edge_s));
  return layer;
}

double pictureStep_s(double span_s) {
  constexpr std::array kSteps_min{5, 10, 15, 30, 60, 180, 360, 720, 1440, 2880, 5760, 11520};
  for (const int step_min : kSteps_min)
    if (span_s <= 50.0 * step_min * kMinute_s)
      return step_min * kMinute_s;
  return kSteps_min.back() * kMinute_s;
}

std::vector<Picture> picturesOf(const Answer& answer, UnitSystem units) {
  const Night& night = answer.night;
  const Course course{
      answer, night,
      clockRows(night.plant, night.recorder.samples, pictureStep_s(night.plant.span_s)), units};
  if (course.rows.empty())
    return {};
  std::vector<Picture> pictures;
  pictures.push_back(chargePicture(course));
  pictures.push_back(sourcePicture(course));
  pictures.push_back(usePicture(course));
  if (night.plant.hasCabin)
    pictures.push_back(heatPicture(course));
  if (!night.plant.airConditioners.empty())
    pictures.push_back(dutyPicture(course));
  return pictures;
}

}  // namespace nightbank::report
