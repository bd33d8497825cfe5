#include <array>

#include <gtest/gtest.h>

#include "nightbank/devices/ocv.h"

// "seen": the printed figure was read in the text named. "computed": interpolated in a seen table.
namespace nightbank {
namespace {

struct Point {
  double soc, voltage_V;
};

// Open data set of rested 12 V lead-acid batteries, row 80 degF (seen); voltages in mV.
TEST(PublishedOpenCircuit, WetLeadAcidAt80degF) {
  for (const Point& point :
       {Point{1.0, 12.650}, {0.75, 12.450}, {0.50, 12.240}, {0.25, 12.060}, {0.0, 11.890}})
    EXPECT_NEAR(openCircuit_V(floodedOcv(), point.soc), point.voltage_V, 1e-9);
}

TEST(PublishedOpenCircuit, GelAt80degF) {
  for (const Point& point :
       {Point{1.0, 12.800}, {0.75, 12.600}, {0.50, 12.400}, {0.25, 12.000}, {0.0, 11.800}})
    EXPECT_NEAR(openCircuit_V(gelOcv(), point.soc), point.voltage_V, 1e-9);
}

TEST(PublishedOpenCircuit, WetLeadAcidBetweenItsPoints) {
  EXPECT_NEAR(openCircuit_V(floodedOcv(), 0.625), 12.345, 1e-9);  // computed
  EXPECT_NEAR(socAt(floodedOcv(), 12.345), 0.625, 1e-9);
}

// A magazine's column on travel trailers (seen) prints other voltages: up to 90 mV higher low down.
TEST(PublishedOpenCircuit, AnotherTableOfWetLeadAcidIsWithinNinetyMillivolts) {
  for (const Point& point : {Point{1.0, 12.66}, {0.75, 12.45}, {0.50, 12.30}, {0.25, 12.15}})
    EXPECT_NEAR(openCircuit_V(floodedOcv(), point.soc), point.voltage_V, 0.0901);
}

// Sunil, Pattipati, Balasingam, IEEE Trans. Instrum. Meas. (2025): pseudo-OCV at C/32 of an 18650
// LFP cell, knots of the published data (seen), to 0.1 mV.
TEST(PublishedOpenCircuit, FourLfpCellsGoThroughTheirKnots) {
  for (const Point& cell : {Point{0.0, 2.0102},
                            {0.0033, 2.4177},
                            {0.0117, 2.7405},
                            {0.0267, 2.9299},
                            Point{0.0534, 3.0872},
                            {0.0885, 3.1942},
                            {0.2972, 3.2772},
                            {0.9833, 3.3511},
                            Point{0.9950, 3.4180},
                            {1.0, 3.5981}})
    EXPECT_NEAR(openCircuit_V(lfpOcv(), cell.soc), 4.0 * cell.voltage_V, 1e-9);
}

TEST(PublishedOpenCircuit, FourLfpCellsBetweenTheirKnots) {
  for (const Point& point : {Point{0.10, 12.7951}, {0.50, 13.1962}, {0.80, 13.3254}})
    EXPECT_NEAR(openCircuit_V(lfpOcv(), point.soc), point.voltage_V, 1e-4);  // computed
}

TEST(PublishedOpenCircuit, LfpPlateauIsAlmostLevel) {
  const double rise_V = openCircuit_V(lfpOcv(), 0.98) - openCircuit_V(lfpOcv(), 0.30);
  EXPECT_NEAR(1000.0 * rise_V / 4.0 / 68.0, 1.077, 1e-3);  // mV per percent and cell, computed
}

}  // namespace
}  // namespace nightbank
