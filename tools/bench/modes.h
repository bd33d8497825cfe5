#pragma once

#include <array>
#include <cstddef>
#include <limits>

#include "cabin_law.h"
#include "law.h"

#include "nightbank/simulate/plant.h"

/// Switching of the reference runs, written apart from the engine from the same rules: compressor
/// cycle or thermostat, cut-off and reconnection, floor, spent and full bank, generator rule,
/// transfer switch.
namespace nightbank::bench {

/// What evolves in the bank.
struct BankPoint {
  double soc = 1.0, mean_A = 0.0, excess_Ah = 0.0;
};

struct Point {
  BankPoint bank;
  CabinPoint cabin;
};

enum class Engine { off, warmingUp, running, coolingDown };
enum class UnitFeed { none, inverter, generator };

inline constexpr double kNoInstant_s = std::numeric_limits<double>::infinity();

struct Modes {
  std::size_t segment = 0, sun = 0;
  bool floorReached = false, spent = false, cutOff = false, full = false;
  double fullSoc = 0.0, spentShare = 0.0, reconnectFrom_s = 0.0;

  bool inHours = false, calls = false, compressorOn = false;
  double phaseEnd_s = kNoInstant_s, phaseLeft_s = 0.0, lockedUntil_s = 0.0;
  UnitFeed feed = UnitFeed::none;
  CoolingRun cooling;  ///< of a compressor that runs by its thermostat

  Engine engine = Engine::off;
  bool reachedStop = false;
  double engineModeEnd_s = kNoInstant_s, unloadAt_s = kNoInstant_s, leastUntil_s = 0.0;

  int starts = 0;
  double engineStarted_s = 0.0, engine_s = 0.0;
};

/// What hangs on bank or cabin; in the order in which it is done.
enum class Crossing {
  cutOff,
  spent,
  floor,
  full,
  takesCharge,
  recovered,
  reconnect,
  engineStop,
  engineStart,
  thermostat
};
inline constexpr int kCrossings = 10;

Modes initialModes(const Plant& plant);

/// Sum of the direct-current loads that are in their hours. [W]
double batteryLoads_W(const Plant& plant, std::size_t segment);

/// @param running_W  what the air conditioner draws while its compressor runs
Circuit circuitOf(const Plant& plant, const Modes& modes, double running_W);

/// Each crossing happens where its margin is 0 or below; 1 where it is not watched.
std::array<double, kCrossings> margins(const Plant& plant, const Modes& modes, double time_s,
                                       const Point& at, const Rates& rates);

void happen(Crossing crossing, const Plant& plant, Modes& modes, double time_s,
            const BankPoint& bank);

/// Does the first thing that is due by the clock or follows from another. False: nothing was.
bool doNextDue(const Plant& plant, Modes& modes, double time_s, const CabinPoint& cabin);

/// When the next thing by the clock is due, a bend of sun or weather among it.
double nextInstant_s(const Plant& plant, const Modes& modes, double time_s);

}  // namespace nightbank::bench
