#pragma once

// Two heat capacities, the cabin's air and its mass, by the classical Runge-Kutta method: slow and
// with nothing of the library in it.
namespace nightbank::test {

struct TwoNodes {
  double air_J_K, mass_J_K;
  double airToOutdoor_W_K, airToMass_W_K, massToOutdoor_W_K;
};

struct TwoTemperatures {
  double air_degC, mass_degC;
};

// Outdoors and heats constant for `time_s`, in `steps` equal steps.
inline TwoTemperatures after(const TwoNodes& nodes, TwoTemperatures start, double outdoor_degC,
                             double airHeat_W, double massHeat_W, double time_s, int steps) {
  const auto slope = [&](const TwoTemperatures& t) {
    const double toMass_W = nodes.airToMass_W_K * (t.air_degC - t.mass_degC);
    return TwoTemperatures{
        (nodes.airToOutdoor_W_K * (outdoor_degC - t.air_degC) - toMass_W + airHeat_W) /
            nodes.air_J_K,
        (nodes.massToOutdoor_W_K * (outdoor_degC - t.mass_degC) + toMass_W + massHeat_W) /
            nodes.mass_J_K};
  };
  const auto moved = [](const TwoTemperatures& t, const TwoTemperatures& by, double factor) {
    return TwoTemperatures{t.air_degC + factor * by.air_degC, t.mass_degC + factor * by.mass_degC};
  };
  const double h = time_s / steps;
  for (int i = 0; i < steps; ++i) {
    const TwoTemperatures a = slope(start), b = slope(moved(start, a, h / 2)),
                          c = slope(moved(start, b, h / 2)), d = slope(moved(start, c, h));
    start = moved(moved(moved(moved(start, a, h / 6), b, h / 3), c, h / 3), d, h / 6);
  }
  return start;
}

}  // namespace nightbank::test
