#pragma once

#include <array>

/// A cabin as two nodes of heat, its air and its mass, and one of moisture. Between switches the
/// equations are linear, and are stepped exactly: no step length enters the answer.
///
///     C_a dTa/dt = H_oa (To - Ta) + H_am (Tm - Ta) - S (Ta - T_s) + Q_a(t)
///     C_m dTm/dt = H_am (Ta - Tm) + H_om (To - Tm)                + Q_m(t)
///
/// Form: the two-node (second-order) lumped network of building physics, e.g. R. C. Sonderegger,
/// "Diagnostic tests determining the thermal response of a house", ASHRAE Transactions 84(1)
/// (1978), from memory.
namespace nightbank {

struct CabinParams {
  double air_J_K = 0.0;          ///< heat held by air and what follows it at once, > 0
  double mass_J_K = 0.0;         ///< by walls and things, > 0
  double outdoorAir_W_K = 0.0;   ///< glass and the sensible share of infiltration, >= 0
  double airMass_W_K = 0.0;      ///< > 0
  double outdoorMass_W_K = 0.0;  ///< walls, roof, floor; > 0
  double moist_kg = 0.0;         ///< dry air that takes up moisture, with what buffers it; > 0
  double outdoorAir_kg_s = 0.0;  ///< infiltration of dry air, >= 0
};

/// @throws std::invalid_argument outside the ranges above
void validate(const CabinParams& params);

struct CabinTemperatures {
  double air_degC = 0.0, mass_degC = 0.0;
};

/// A supply that follows a cubic in time: at + perSecond t + perSecond2 t^2 + perSecond3 t^3.
struct Supply {
  double at = 0.0, perSecond = 0.0, perSecond2 = 0.0, perSecond3 = 0.0;
};

/// What drives the network over a span, beside the temperatures themselves, less a part that fades
/// from the air, fading exp(-t/fade). [W], [W/s], ...
struct CabinHeat {
  Supply toAir, toMass;   ///< the outdoor terms H To included
  double fading_W = 0.0;  ///< of the air
};

/// The network's two rates and what turns temperatures into them and back.
struct CabinModes {
  std::array<double, 2> rate_1_s;  ///< both below 0
  double cosine, sine;             ///< of the turn between nodes and modes
  double rootAir, rootMass;        ///< sqrt of the heat capacities
  double perRootAir, perRootMass;  ///< 1 over them
};

/// @param slope_W_K  what the air loses besides for every kelvin: S above; >= 0
CabinModes modesOf(const CabinParams& params, double slope_W_K) noexcept;

/// Weights of what drives a node over a span, x' = -rate x + drive: of its start, of a constant, of
/// a straight line, of a square, of a cube and of a fading supply.
struct NodeWeights {
  double start, constant, linear, square, cube, fading;
};

/// The same at the end of a span and in its mean.
struct NodeSpan {
  NodeWeights atEnd, inTheMean;
};

/// How a supply fades over a span: e^(-span/fade), and the mean of that on the way.
struct Fade {
  double fade_s, atEnd, mean;
};

/// @param fade_s, span_s  > 0
Fade fadeOver(double fade_s, double span_s) noexcept;

/// @param rate_1_s  >= 0
/// @param fade      over the same span
NodeSpan nodeSpan(double rate_1_s, const Fade& fade, double span_s) noexcept;

/// Both modes over one span.
struct CabinSpan {
  std::array<NodeSpan, 2> modes;
};

CabinSpan cabinSpan(const CabinModes& modes, const Fade& fade, double span_s) noexcept;

/// The end of a span, and the mean over it.
struct CabinCourse {
  CabinTemperatures end, mean;
};

/// Where the temperatures go, exactly.
CabinCourse course(const CabinModes& modes, const CabinSpan& span, const CabinTemperatures& start,
                   const CabinHeat& heat) noexcept;

struct NodeCourse {
  double end, mean;
};

/// One first-order node, dx/dt = -rate x + supply(t) - fading exp(-t/fade).
NodeCourse course(const NodeSpan& span, double start, const Supply& supply, double fading) noexcept;

}  // namespace nightbank
