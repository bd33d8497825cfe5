#include "nightbank/devices/wiring.h"

#include <algorithm>
#include <array>
#include <limits>

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

struct Gauge {
  std::string_view name;
  double resistance_ohm_kft;  // of 1000 ft
};

// NEC chapter 9 table 8, uncoated copper at 75 degC; 14 to 8 are its solid rows.
constexpr std::array kGauges{Gauge{"14", 3.07},   Gauge{"12", 1.93},    Gauge{"10", 1.21},
                             Gauge{"8", 0.764},   Gauge{"6", 0.491},    Gauge{"4", 0.308},
                             Gauge{"3", 0.245},   Gauge{"2", 0.194},    Gauge{"1", 0.154},
                             Gauge{"1/0", 0.122}, Gauge{"2/0", 0.0967}, Gauge{"3/0", 0.0766},
                             Gauge{"4/0", 0.0608}};

struct MetricSize {
  std::string_view name;
  double area_mm2;
};

// Nominal cross-sections of IEC 60228.
constexpr std::array kMetricSizes{
    MetricSize{"1.5", 1.5}, MetricSize{"2.5", 2.5}, MetricSize{"4", 4},    MetricSize{"6", 6},
    MetricSize{"10", 10},   MetricSize{"16", 16},   MetricSize{"25", 25},  MetricSize{"35", 35},
    MetricSize{"50", 50},   MetricSize{"70", 70},   MetricSize{"95", 95},  MetricSize{"120", 120},
    MetricSize{"150", 150}, MetricSize{"185", 185}, MetricSize{"240", 240}};

// "4/0" of "4/0 AWG"; nullopt where `text` does not end in `unit`.
std::optional<std::string_view> numberBefore(std::string_view text, std::string_view unit) {
  if (!text.ends_with(unit))
    return std::nullopt;
  text.remove_suffix(unit.size());
  if (text.ends_with(' '))
    text.remove_suffix(1);
  return text;
}

constexpr std::array kFuses_A{15,   20,   25,   30,   35,   40,   45,  50,  60,   70,
                              80,   90,   100,  110,  125,  150,  175, 200, 225,  250,
                              300,  350,  400,  450,  500,  600,  700, 800, 1000, 1200,
                              1600, 2000, 2500, 3000, 4000, 5000, 6000};

double copperAt75_ohm_m(double area_mm2) {
  constexpr double kResistivityAt20_ohm_m = 17.241e-9;
  constexpr double kRise_1_K = 0.00393;
  constexpr double kSquareMetre_mm2 = 1e6;
  return kResistivityAt20_ohm_m * (1.0 + kRise_1_K * (75.0 - 20.0)) / area_mm2 * kSquareMetre_mm2;
}

}  // namespace

std::optional<double> conductorResistance_ohm_m(std::string_view size) {
  if (const auto number = numberBefore(size, "AWG")) {
    for (const Gauge& gauge : kGauges)
      if (gauge.name == *number)
        return gauge.resistance_ohm_kft / (1000.0 * kFoot_m);
  }
  if (const auto number = numberBefore(size, "mm2")) {
    for (const MetricSize& metric : kMetricSizes)
      if (metric.name == *number)
        return copperAt75_ohm_m(metric.area_mm2);
  }
  return std::nullopt;
}

double atTemperature_ohm_m(double at75_ohm_m, double conductor_degC) noexcept {
  constexpr double kRiseFrom75_1_K = 0.00323;
  return at75_ohm_m * (1.0 + kRiseFrom75_1_K * (conductor_degC - 75.0));
}

double loopResistance_ohm(double resistance_ohm_m, double oneWay_m) noexcept {
  return 2.0 * resistance_ohm_m * oneWay_m;
}

double fuseResistance_ohm(double rating_A, double dropAtRating_V) noexcept {
  return dropAtRating_V / rating_A;
}

double nextFuse_A(double atLeast_A) noexcept {
  const auto* next = std::lower_bound(kFuses_A.begin(), kFuses_A.end(), atLeast_A);
  return next == kFuses_A.end() ? std::numeric_limits<double>::quiet_NaN() : *next;
}

}  // namespace nightbank
