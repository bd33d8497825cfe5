#include "nightbank/report/derived.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "nightbank/devices/wiring.h"
#include "nightbank/report/figures.h"
#include "nightbank/report/text.h"
#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

// Lines of what a part comes to, under its name.
struct Lines {
  std::string text;

  void say(std::string_view part, std::string_view what) {
    constexpr int kPart = 22;
    const std::string first = padRight(cut(part, kPart - 2), kPart);
    text += wrapped(what, first, std::string(kPart, ' '));
  }
};

std::string powerText(double power_W) {
  return format(power_W, Dim::power);
}

void addBank(const Plant& plant, Lines& lines) {
  const BankParams& bank = plant.bank;
  const double all_J = storedEnergy_J(bank, 1.0);
  const double usable_J =
      storedEnergy_J(bank, plant.startSoc) - storedEnergy_J(bank, plant.floorSoc);
  lines.say("bank", fmt::format("{} usable from {} down to {} (of {} in all)",
                                format(usable_J, Dim::energy), socText(plant.startSoc),
                                socText(plant.floorSoc), format(all_J, Dim::energy)));
  if (bank.hasWells) {
    lines.say("",
              fmt::format("two wells: {:.0f} % of {} at hand at once, the rest within {}",
                          100.0 * bank.wells.fastShare, format(bank.wells.total_Ah, Dim::charge),
                          durationText(1.0 / bank.wells.rate_1_s)));
  } else if (bank.peukert.exponent > 1.0) {
    lines.say("", fmt::format("Peukert exponent {:.3f} above {}", bank.peukert.exponent,
                              format(bank.peukert.ratedCurrent_A, Dim::current)));
  }
  if (hasOvervoltage(bank.overvoltage)) {
    const double tenth_A = 0.1 * bank.capacity_Ah;
    lines.say("", fmt::format("at {} for hours it loses {:.2g} V under load beside its resistance",
                              format(tenth_A, Dim::current),
                              steadyOvervoltage_V(bank.overvoltage, tenth_A)));
  }
  lines.say(
      "", fmt::format("{} inside, {:.1f} % of charged ampere-hours kept",
                      format(bank.resistance_ohm, Dim::resistance), 100.0 * bank.chargeEfficiency));
}

void addMonitor(const Plant& plant, Lines& lines) {
  if (!plant.hasMonitor)
    return;
  const MonitorParams& monitor = plant.monitor;
  lines.say("monitor", fmt::format("counts {} as 100 %, and {:.1f} % of a charge",
                                   format(monitor.capacity_Ah, Dim::charge),
                                   100.0 * monitor.chargeEfficiency));
  lines.say("",
            fmt::format("goes to 100 % after {} at {} and {} or less",
                        durationText(monitor.resetAfter_s), format(monitor.reset_V, Dim::voltage),
                        format(monitor.resetCurrent_A, Dim::current)));
}

std::string cycleText(const DutyTimes& duty) {
  if (!(duty.share > 0.0))
    return "never on";
  if (!(duty.share < 1.0))
    return "never rests";
  return fmt::format("on {}, off {} ({})", durationText(duty.on_s), durationText(duty.off_s),
                     socText(duty.share));
}

// Amperes that the bank gives for it: through the inverter, or straight.
double bankCurrent_A(const Plant& plant, const AirConditionerPlant& unit) {
  const bool direct = unit.feeds.battery && !unit.feeds.inverter;
  const double power_W =
      direct ? unit.running.real_W : inverterDcPower_W(plant.inverter, unit.running.real_W);
  return power_W / plant.nominal_V;
}

void addAirConditioners(const Plant& plant, Lines& lines) {
  for (const AirConditionerPlant& unit : plant.airConditioners) {
    const double apparent_VA = std::hypot(unit.running.real_W, unit.running.reactive_VA);
    std::string text = fmt::format("{}, {} running", powerText(unit.running.real_W),
                                   format(apparent_VA, Dim::apparent));
    if (unit.feeds.battery || (unit.feeds.inverter && plant.hasInverter)) {
      text += fmt::format("; about {} out of the bank at {}",
                          format(bankCurrent_A(plant, unit), Dim::current),
                          format(plant.nominal_V, Dim::voltage));
    }
    lines.say(printable(unit.name), text);
    for (const DutyTimes& duty : unit.duties)
      lines.say("", "compressor " + cycleText(duty));
  }
}

// What full load does to the cable, and the fuse that it asks for at the lowest voltage.
void addCable(const Plant& plant, Lines& lines) {
  const double full_W = inverterDcPower_W(plant.inverter, plant.inverter.continuous_W);
  const double current_A = currentThroughCable_A(plant.nominal_V, plant.cableLoop_ohm, full_W);
  if (plant.cableLoop_ohm > 0.0 && std::isfinite(current_A)) {
    const double drop_V = current_A * plant.cableLoop_ohm;
    lines.say(
        "cable",
        fmt::format("{} there and back; at full load {}, and of {} it loses {:.1f} "
                    "%, {}: {:.2f} V at the inverter",
                    format(plant.cableLoop_ohm, Dim::resistance), format(current_A, Dim::current),
                    format(plant.nominal_V, Dim::voltage), 100.0 * drop_V / plant.nominal_V,
                    powerText(current_A * drop_V), plant.nominal_V - drop_V));
  }
  const double most_A = mostInverterCurrent_A(plant);
  const double fuse_A = nextFuse_A(kContinuousLoadFactor * most_A);
  if (std::isfinite(fuse_A)) {
    lines.say("", fmt::format("full load at the cut-off draws {:.0f} A: times {} the next standard "
                              "fuse is {:.0f} A. The cable must be good for that fuse by your code",
                              most_A, kContinuousLoadFactor, fuse_A));
  }
}

void addInverter(const Plant& plant, Lines& lines) {
  if (!plant.hasInverter)
    return;
  const InverterParams& inverter = plant.inverter;
  lines.say("inverter", fmt::format("loses {} + {:.2f} % of P + {:.2f} % of P^2 / {}",
                                    powerText(inverter.idle_W), 100.0 * inverter.linear,
                                    100.0 * inverter.quadratic, powerText(inverter.continuous_W)));
  const auto efficiency = [&](double load) {
    const double power_W = load * inverter.continuous_W;
    return 100.0 * power_W / inverterDcPower_W(inverter, power_W);
  };
  lines.say("", fmt::format("{:.1f} % at a tenth of its load, {:.1f} % at half, {:.1f} % at full",
                            efficiency(0.1), efficiency(0.5), efficiency(1.0)));
  if (inverter.searchBelow_W > 0.0) {
    lines.say("", fmt::format("searching it draws {}; loads under {} in all get nothing",
                              powerText(inverter.searchDraw_W), powerText(inverter.searchBelow_W)));
  }
  addCable(plant, lines);
}

void addCharger(const Plant& plant, Lines& lines) {
  if (!plant.hasCharger)
    return;
  const ChargerParams& charger = plant.charger;
  const double output_W =
      std::min(outputLimit_W(charger), charger.outputCurrent_A * plant.nominal_V);
  lines.say("charger", fmt::format("{} into the bank at {}, which takes {} and {} off its source",
                                   powerText(output_W), format(plant.nominal_V, Dim::voltage),
                                   powerText(inputPower_W(charger, output_W)),
                                   format(inputApparent_VA(charger, output_W), Dim::apparent)));
}

// The integral of one array's straight lines: joules, or coulombs of a tied one.
double totalOf(const Plant& plant, std::size_t array) {
  double total = 0.0;
  for (std::size_t i = 0; i < plant.sun.size(); ++i) {
    const double end_s = i + 1 < plant.sun.size() ? plant.sun[i + 1].start_s : plant.span_s;
    const double span_s = std::max(0.0, std::min(end_s, plant.span_s) - plant.sun[i].start_s);
    const ArrayPiece& piece = plant.sunOfArrays[i * plant.arrays.size() + array];
    total += (piece.start + 0.5 * piece.slope_1_s * span_s) * span_s;
  }
  return total;
}

void addSun(const Plant& plant, Lines& lines) {
  for (std::size_t i = 0; i < plant.arrays.size(); ++i) {
    const double total = totalOf(plant, i);
    const std::string what =
        plant.arrays[i].isTied
            ? fmt::format("{} at the bank's own voltage", format(total / kHour_s, Dim::charge))
            : fmt::format("{} at the array", format(total, Dim::energy));
    if (total > 0.0)
      lines.say("solar " + printable(plant.arrays[i].name),
                what + " in this period, if all of it is taken");
  }
}

void addGenerator(const Plant& plant, UnitSystem units, Lines& lines) {
  if (!plant.hasGenerator)
    return;
  const GeneratorParams& generator = plant.generator;
  const auto [least, most] =
      std::minmax_element(plant.generatorLimit_VA.begin(), plant.generatorLimit_VA.end());
  if (least != plant.generatorLimit_VA.end()) {
    lines.say("generator",
              fmt::format("{} are worth {:.0f} to {:.0f} VA in the heat of this period at {}",
                          powerText(generator.continuous_W), *least, *most,
                          heightText(generator.elevation_m, units)));
  }
  const double full_m3_s = fuelRate_m3_s(generator.fuel, generator.continuous_W);
  lines.say("", fmt::format("burns {} without load, {} at {}",
                            format(generator.fuel.noLoad_m3_s, Dim::volumeRate, units),
                            format(full_m3_s, Dim::volumeRate, units),
                            powerText(generator.continuous_W)));
}

}  // namespace

std::string derivedTable(const Plant& plant, UnitSystem units) {
  Lines lines{"What follows from it\n"};
  lines.say("period", periodText(plant));
  addBank(plant, lines);
  addMonitor(plant, lines);
  addAirConditioners(plant, lines);
  addInverter(plant, lines);
  addCharger(plant, lines);
  addSun(plant, lines);
  addGenerator(plant, units, lines);
  return lines.text;
}

}  // namespace nightbank::report
