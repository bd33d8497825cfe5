#include <algorithm>
#include <cmath>
#include <limits>

#include "../fit_parts.h"
#include "frame.h"
#include <fmt/format.h>

#include "nightbank/report/figures.h"
#include "nightbank/report/pages.h"
#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

using OfMinute = double (*)(const FitMinute& minute);

/// What log, plan and fit have of one quantity.
struct ThreeCurves {
  std::string id, title, unit;
  OfMinute logged, planned, fitted;
};

/// The mean around each edge; NaN where nothing is.
Layer minuteLayer(const FitNight& night, const std::vector<double>& edges, std::string word,
                  std::string name, OfMinute value) {
  Layer layer{std::move(word), std::move(name), {}};
  const double half_s = edges.size() > 1 ? 0.5 * (edges[1] - edges[0]) : kMinute_s;
  for (const double edge_s : edges) {
    double sum = 0.0;
    int count = 0;
    const auto from = static_cast<std::size_t>(std::max(0.0, edge_s - half_s) / kMinute_s);
    const auto to = static_cast<std::size_t>((edge_s + half_s) / kMinute_s);
    for (std::size_t i = from; i < std::min(to, night.minutes.size()); ++i)
      if (const double now = value(night.minutes[i]); !std::isnan(now)) {
        sum += now;
        ++count;
      }
    layer.values.push_back(count > 0 ? sum / count : std::nan(""));
  }
  return layer;
}

bool isThere(const Layer& layer) {
  return std::ranges::any_of(layer.values, [](double value) { return std::isfinite(value); });
}

/// The scale that holds every curve.
void settleScale(Picture& picture) {
  double low = std::numeric_limits<double>::infinity(), high = -low;
  for (const Layer& layer : picture.layers)
    for (const double value : layer.values)
      if (std::isfinite(value)) {
        low = std::min(low, value);
        high = std::max(high, value);
      }
  const std::vector<double> steps = roundSteps(low, std::max(high, low + 1.0), 4);
  picture.low = std::min(steps.front(), low);
  picture.high = std::max(steps.back(), high);
}

/// Log, plan and fit on one clock; without layers where the log has nothing of it.
Picture curvesPicture(const FitNight& night, const std::string& number, const ThreeCurves& what) {
  Picture picture;
  picture.id = what.id + number;
  picture.title = fmt::format("{}, night of {}", what.title, dayAndClockText(night.start_s));
  picture.unit = what.unit;
  picture.kind = PictureKind::lines;
  picture.start_s = night.start_s;
  const double span_s = kMinute_s * static_cast<double>(night.minutes.size());
  const double step_s = pictureStep_s(span_s);
  for (double edge_s = 0.0; edge_s < span_s + 1e-6; edge_s += step_s)
    picture.edges.push_back(edge_s);
  Layer logged = minuteLayer(night, picture.edges, "log", "log", what.logged);
  if (!isThere(logged))
    return picture;
  picture.layers.push_back(std::move(logged));
  picture.layers.push_back(minuteLayer(night, picture.edges, "without", "plan", what.planned));
  picture.layers.push_back(minuteLayer(night, picture.edges, "charge", "fit", what.fitted));
  std::erase_if(picture.layers, [](const Layer& layer) { return !isThere(layer); });
  settleScale(picture);
  picture.description =
      "The log where it covers the night, the plan as it was written, and the plan with what the "
      "log corrects.";
  return picture;
}

double loggedPower_W(const FitMinute& minute) {
  return minute.logged_A * (std::isnan(minute.logged_V) ? minute.planned_V : minute.logged_V);
}

std::vector<Picture> nightPictures(const FitNight& night, const std::string& number) {
  const ThreeCurves all[] = {
      {"charge", "State of charge, the log's by the monitor", "%",
       [](const FitMinute& minute) { return 100.0 * minute.shownSoc; },
       [](const FitMinute& minute) { return 100.0 * minute.plannedSoc; },
       [](const FitMinute& minute) { return 100.0 * minute.fittedSoc; }},
      {"power", "Power out of the bank", "W", loggedPower_W,
       [](const FitMinute& minute) { return minute.planned_A * minute.planned_V; },
       [](const FitMinute& minute) { return minute.fitted_A * minute.fitted_V; }},
      {"indoor", "Indoor temperature", "degC",
       [](const FitMinute& minute) { return minute.loggedIndoor_degC; },
       [](const FitMinute& minute) { return minute.plannedIndoor_degC; },
       [](const FitMinute& minute) { return minute.fittedIndoor_degC; }},
      {"outdoor", "Outdoor temperature", "degC",
       [](const FitMinute& minute) { return minute.loggedOutdoor_degC; },
       [](const FitMinute& minute) { return minute.plannedOutdoor_degC; },
       [](const FitMinute& minute) { return minute.fittedOutdoor_degC; }}};
  std::vector<Picture> pictures;
  for (const ThreeCurves& one : all)
    if (Picture picture = curvesPicture(night, number, one); !picture.layers.empty())
      pictures.push_back(std::move(picture));
  return pictures;
}

/// Bars from what was planned to what was logged, each part from where the one before ends.
class GapBars {
 public:
  void whole(const std::string& name, double energy_J) {
    add(name, fitEnergy(energy_J), 0.0, energy_J, "bank");
    now_J_ = energy_J;
  }

  void part(const std::string& name, double energy_J) {
    if (std::abs(energy_J) < 0.5 * kWattHour_J)  // would be told as 0 Wh
      return;
    add(name, fitEnergy(energy_J, true), now_J_, now_J_ + energy_J,
        energy_J > 0.0 ? "generator" : "solar");
    now_J_ += energy_J;
  }

  RowPicture done() {
    const double edge = 0.02 * std::max(1e-3, high_ - low_);
    picture_.id = "gap";
    picture_.title = "From the plan to the log, out of the bank";
    picture_.unit = "kWh";
    picture_.low = low_ - edge;
    picture_.high = high_ + edge;
    picture_.patterns = {
        {"bank", "the whole"}, {"generator", "more than planned"}, {"solar", "less than planned"}};
    picture_.description =
        "Each part begins where the one before it ends; together they lead from the plan to the "
        "log.";
    return std::move(picture_);
  }

 private:
  static double kWh(double energy_J) { return energy_J / kKilowattHour_J; }

  void add(const std::string& name, std::string text, double from_J, double to_J,
           const std::string& word) {
    picture_.rows.push_back({name, std::move(text), kWh(from_J), kWh(to_J), word});
    low_ = std::min({low_, kWh(from_J), kWh(to_J)});
    high_ = std::max({high_, kWh(from_J), kWh(to_J)});
  }

  RowPicture picture_;
  double now_J_ = 0.0, low_ = 0.0, high_ = 0.0;
};

/// Of all nights together.
RowPicture gapPicture(const Fit& fit) {
  const FitTotals totals = fitTotals(fit);
  GapBars bars;
  bars.whole("plan", totals.planned_J);
  bars.part("hours of the engine", totals.engine_J);
  bars.part("weather", totals.weather_J);
  constexpr double kLeast_J = 5.0 * kWattHour_J;
  double small_J = 0.0;
  for (std::size_t i = 0; i < fit.inputs.size(); ++i) {
    const double moved_J = fitMoved_J(fit, i);
    if (std::abs(moved_J) < kLeast_J)
      small_J += moved_J;
    else
      bars.part(fitName(fit, fit.inputs[i]), moved_J);
  }
  bars.part("other inputs", small_J);
  bars.part("not explained", totals.left_J);
  bars.whole("log", totals.logged_J);
  return bars.done();
}

PagePictures fitPictures(const Fit& fit) {
  constexpr std::size_t kMostNights = 3;
  PagePictures pictures;
  for (std::size_t k = 0; k < std::min(fit.nights.size(), kMostNights); ++k)
    for (Picture& picture : nightPictures(fit.nights[k], fmt::format("{}", k + 1)))
      pictures.drawn.push_back(std::move(picture));
  if (fitTotals(fit).covered_s > 0.0)
    pictures.rows.push_back(gapPicture(fit));
  return pictures;
}

}  // namespace

std::string fitPage(const Fit& fit, std::span<const FitSource> sources, const PageSource& source) {
  PageHead head;
  head.title = fit.given.title;
  head.question = "Why did it go otherwise than planned?";
  head.when = fitWhen(fit);
  head.word = fitWord(fit);
  head.mark = head.word == "DIFFERS" ? Level::marginal : Level::holds;
  head.sentence = fitSentence(fit);
  if (const std::string quality = fitQuality(fit); !quality.empty())
    head.notes.push_back(quality);
  return pageOf(head, fitPictures(fit),
                {{"tables", "Tables", sectionsHtml(fitSections(fit, sources))},
                 inputsPart(source.inputs),
                 cautionsPart(source.ofReader, {}, fitCautions())});
}

}  // namespace nightbank::report
