#include <array>
#include <string>

#include "tables.h"
#include <fmt/format.h>

#include "nightbank/units/constants.h"

namespace nightbank::bench {
namespace {

constexpr const char* kRow = "{:<18}{:>20}{:>20}{:>20}{:>20}\n";

void printRow(const std::string& what, const std::array<std::string, 4>& texts) {
  fmt::print(kRow, what, texts[0], texts[1], texts[2], texts[3]);
}

template <class Text>
std::array<std::string, 4> ofEach(const Cases& cases, Text&& text) {
  return {text(cases.night), text(cases.ruled), text(cases.warm), text(cases.month)};
}

std::string energyText(const Case& compared, Energy energy) {
  const double engine_J = compared.engine.of(energy);
  if (engine_J == 0.0 && compared.exact.of(energy) == 0.0)
    return "-";
  return fmt::format("{:.2f} {:+.1e}", engine_J / kKilowattHour_J,
                     (engine_J - compared.exact.of(energy)) / kKilowattHour_J);
}

}  // namespace

void printAgreement(const Cases& cases) {
  fmt::print("The engine, and its difference from CVODE at a tolerance of 1e-12. [kWh]\n\n");
  printRow("", {"hot night", "with rule and sun", "on a thermostat", "30 days"});
  printRow("compressor starts", ofEach(cases, [](const Case& compared) {
             return fmt::format("{} {:+d}", compared.engine.starts,
                                compared.engine.starts - compared.exact.starts);
           }));
  printRow("charge at the end", ofEach(cases, [](const Case& compared) {
             return fmt::format("{:.4f} {:+.1e}", compared.engine.endSoc,
                                compared.engine.endSoc - compared.exact.endSoc);
           }));
  printRow("engine, s", ofEach(cases, [](const Case& compared) {
             if (!compared.plant.hasGenerator)
               return std::string("-");
             return fmt::format("{:.0f} {:+.1e}", compared.engine.engine_s,
                                compared.engine.engine_s - compared.exact.engine_s);
           }));
  for (std::size_t i = 0; i < kEnergies; ++i) {
    const auto energy = static_cast<Energy>(i);
    printRow(nameOf(energy), ofEach(cases, [energy](const Case& compared) {
               return energyText(compared, energy);
             }));
  }
  fmt::print("\n");
}

}  // namespace nightbank::bench
