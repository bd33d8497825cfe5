#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "nightbank/simulate/plant.h"

/// The cycle of an air conditioner by its duty, and what breaks of its supply do to it. Private to
/// the room.
namespace nightbank {

/// Of one stretch of hours with one duty: it begins with its "on" part.
struct CyclePiece {
  double from_s = 0.0, to_s = 0.0;
  double on_s = 0.0, off_s = 0.0;
};

/// A break lets the compressor rest for its restart delay; then the cycle goes on where it was. So
/// it runs behind the undisturbed one until the next piece begins, and what it is behind is lost.
struct PlanCycle {
  double delay_s = 0.0;
  double above_W = 0.0;  ///< compressor on, above the fan alone
  double soc_1_s = 0.0;  ///< of the bank's charge, for each second of that
  std::vector<CyclePiece> pieces;
  std::vector<std::int32_t> at;  ///< by edge of cells: the piece that goes on from there; -1: none

  bool isEmpty() const { return pieces.empty(); }
};

/// Of a plant with one air conditioner, by a duty, that the generator takes over from the inverter;
/// else empty.
PlanCycle planCycle(const Plant& plant);

/// Finds the pieces of the edges of cells.
void alignCycle(PlanCycle& cycle, std::size_t cells, double cell_s);

/// Time on since the piece began, undisturbed; 0 before it.
double onTime_s(const CyclePiece& piece, double since_s);

/// What a break adds to the time behind, `since_s` into the undisturbed cycle. `since_s` less this
/// never falls as `since_s` grows: who is behind stays behind.
double addedDelay_s(const PlanCycle& cycle, const CyclePiece& piece, double since_s);

}  // namespace nightbank
