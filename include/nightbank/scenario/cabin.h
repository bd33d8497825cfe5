#pragma once

#include <optional>
#include <vector>

#include "nightbank/scenario/graded.h"

/// What the air conditioner cools. As written, see scenario.h.
namespace nightbank::scenario {

enum class BuiltFor { plainVan, insulatedVan, threeSeason, fourSeason };
enum class InShade { no, partly, fully };
enum class RoofColour { light, middle, dark };

/// Heat from whatever else is inside.
struct Gain {
  Graded heat_W;
  Hours hours;
};

/// A fan that draws outdoor air through while that cools.
struct Ventilation {
  Graded flow_m3_s;
  Graded power_W;
  Graded coolerBy_K;          ///< outdoors below indoors
  Graded dewPointBelow_degC;  ///< of the outdoor air
  Hours hours;
};

struct Cabin {
  Word<BuiltFor> builtFor;
  Graded length_m, width_m, height_m;
  Graded windowArea_m2;
  Word<InShade> inShade;
  Graded nosePoints_deg;  ///< clockwise from north
  Word<RoofColour> roof;
  Graded heatLoss_W_K;  ///< steady, infiltration at sea level included
  Graded heatStorage_J_K;
  Graded walls_m2_K_W, roofInsulation_m2_K_W, floor_m2_K_W, glass_m2_K_W;
  Graded sunThroughGlass;  ///< solar heat gain coefficient, 0..1
  Graded airChanges_1_h;
  Graded startAt_degC;  ///< not known: from the day before
  std::vector<Gain> gains;
  Graded coolingBuildsUp_s;
  std::optional<Ventilation> ventilation;
};

/// An entry of a thermostat: from then on, until the next.
struct ThermostatSpan {
  std::optional<double> from_s;  ///< after midnight; nullopt: the whole day
  Graded coolTo_degC;            ///< middle of the band
};

enum class Curves { window, packaged, split, flat };

/// Of an air conditioner with a thermostat.
struct CoolingUnit {
  Word<Curves> curves;
  Graded sensibleShare;  ///< at the rating, 0..1
  Graded band_K, sensorReads_K;
  Graded leastOn_s, leastOff_s;
  Graded ductLoss;     ///< share of the cooling that does not reach the cabin
  Graded fouling_K;    ///< what dirt or a hot shroud adds to the outdoor temperature
  Graded coilHolds_s;  ///< water on its coil: the time in which it condenses, at the rating
  Graded coilDries;    ///< with the fan on, compressor off: evaporation at first / condensation
};

}  // namespace nightbank::scenario
