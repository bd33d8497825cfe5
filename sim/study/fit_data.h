#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "nightbank/simulate/plant.h"
#include "nightbank/simulate/simulate.h"
#include "nightbank/study/log_reader.h"

/// Logs on the minutes of a plan, and what of them is compared. Private to the room.
namespace nightbank {

/// One night's logs, minute by minute; NaN where they say nothing.
struct NightLog {
  int days = 0;  ///< from the plan's date
  std::array<std::vector<double>, kLogChannels> values;
  std::vector<LogReading> readings;
  double interval_s = 0.0;        ///< the shortest of the logs with a current
  std::vector<std::size_t> rows;  ///< minutes in which a row with a current begins; none of a
                                  ///< counter's, whose current is a mean

  const std::vector<double>& of(LogChannel channel) const {
    return values[static_cast<std::size_t>(channel)];
  }

  bool has(LogChannel channel) const;
};

/// Cuts logs into nights of the plan's hours. What covers the same night goes together.
/// @param start_s  of the plan, local
std::vector<NightLog> nightLogs(const std::vector<Log>& logs, double start_s, double span_s);

/// A run, minute by minute.
struct MinuteRun {
  std::vector<double> current_A, voltage_V, soc, indoor_degC, outdoor_degC;
  std::vector<double> compressor;  ///< share of the minute on
  std::vector<double> cooler_W;    ///< of the air conditioners
  std::vector<double> engine;      ///< share of the minute in which it charges
  std::vector<double> unserved;    ///< 1 where something was not fed
  double fuel_m3 = 0.0;
  double startSoc = 0.0;
  double lowestSoc = 0.0, margin_J = 0.0;
};

/// @param plant  derived; its output grid is set to a minute
MinuteRun minuteRun(Plant plant);

/// What is compared.
struct Reading {
  enum class Kind : std::uint8_t {
    mean_A,  ///< of a block
    on_A,    ///< while a compressor runs
    off_A,
    duty,  ///< share of the time on
    mean_V,
    on_V,
    off_V,
    on_W,  ///< of the air conditioner
    indoor_degC,
    soc,      ///< at a moment
    fuel_m3,  ///< of the whole period
  };

  Kind kind{};
  std::size_t block = 0;  ///< of NightBlocks; for a moment: the minute
  double value = 0.0;
  double deviation = 1.0;              ///< of the reading
  std::vector<std::size_t> minutes{};  ///< of one of two levels: those that it is the mean of
};

/// Minutes [from, to) of one way to run; those with `counts` are compared.
struct Block {
  std::size_t from = 0, to = 0;
  bool cycles = false;    ///< current comes in two levels
  bool known = false;     ///< one unit with a given duty is in its hours
  std::size_t unit = 0;   ///< the one that is
  std::uint8_t duty = 0;  ///< of its duties
  bool charges = false;   ///< an engine does
};

struct NightReadings {
  std::vector<Block> blocks;
  std::vector<Reading> readings;
  bool areMoments = false;  ///< coarse rows tell a moment each, not the mean between them
  double momentsOff = 0.0;  ///< what they leave open of the compressor's time, as a share of it
};

/// @param plan  the run as planned: it settles which hours belong together
NightReadings readingsOf(const NightLog& log, const Plant& plant, const MinuteRun& plan);

/// The schedules at an instant.
const Segment& segmentAt(const Plant& plant, double time_s);

/// Adds the monitor's charge: where no current is there, every hour; else only how the night
/// begins, and where rows tell moments how it ends.
void addCharge(const NightLog& log, NightReadings& out);

/// Adds a reading typed by hand.
void addTyped(const LogReading& typed, const Plant& plant, NightReadings& out);

/// What a run has in the place of each reading.
std::vector<double> simulated(const NightReadings& readings, const NightLog& log,
                              const Plant& plant, const MinuteRun& run);

/// Whether an engine charges by the log in a minute.
bool chargesByLog(const NightLog& log, const Plant& plant, std::size_t minute);

}  // namespace nightbank
