#include "nightbank/report/csv.h"

#include <cmath>
#include <cstddef>
#include <string_view>

#include <fmt/format.h>

#include "nightbank/simulate/simulate.h"
#include "nightbank/units/calendar.h"

namespace nightbank::report {
namespace {

constexpr std::string_view kHeader =
    "time,interval_s,outdoor_degC,soc,bank_V,bank_A,solar_W,generator_W,shore_W,alternator_W,"
    "air_conditioners_W,loads_W,losses_W,unserved_W,compressor_s,engine_s,generator_loaded_s,"
    "quiet,inverter_lowest_V";

std::string cell(double value, int decimals) {
  if (!std::isfinite(value))
    throw InternalError("a number of the table is not finite");
  const std::string text = fmt::format("{:.{}f}", value, decimals);
  const bool negativeZero = text.find_first_not_of("-0.") == std::string::npos;
  return ',' + (negativeZero ? fmt::format("{:.{}f}", 0.0, decimals) : text);
}

std::string row(const Plant& plant, const Sample& sample) {
  std::string line = iso8601(plant.start_s + sample.start_s, plant.utcOffset_s);
  const auto meanOf = [&](double total) { return cell(total / sample.span_s, 3); };
  line += cell(sample.span_s, 0);
  line += cell(sample.outdoor_degC, 2);
  line += cell(sample.socEnd, 6);
  line += cell(sample.bankVoltage_V, 3);
  line += meanOf(sample.bankCharge_As);
  for (const double energy_J :
       {sample.solar_J, sample.generator_J, sample.shore_J, sample.alternator_J,
        sample.airConditioners_J, sample.loads_J, sample.losses_J, sample.unserved_J})
    line += meanOf(energy_J);
  line += cell(sample.compressor_s, 1);
  line += cell(sample.engine_s, 1);
  line += cell(sample.connected_s, 1);
  line += sample.quiet ? ",1" : ",0";
  const bool wasOn = !std::isnan(sample.inverterLowest_V);
  return line + (wasOn ? cell(sample.inverterLowest_V, 3) : ",");
}

}  // namespace

std::string csv(const Night& night) {
  std::string text(kHeader);
  if (night.monitor)
    text += ",monitor_soc";
  if (night.plant.hasCabin)
    text += ",indoor_degC,humidity_g_kg";
  text += "\r\n";
  for (std::size_t i = 0; i < night.recorder.samples.size(); ++i) {
    text += row(night.plant, night.recorder.samples[i]);
    if (night.monitor)
      text += cell(night.monitor->shownAtSampleEnd.at(i), 6);
    if (night.plant.hasCabin) {
      text += cell(night.recorder.samples[i].indoor_degC, 3);
      text += cell(1000.0 * night.recorder.samples[i].humidityRatio, 3);
    }
    text += "\r\n";
  }
  return text;
}

}  // namespace nightbank::report
