#include "nightbank/report/csv.h"

#include <algorithm>
#include <limits>

#include "sample_answer.h"
#include <gtest/gtest.h>

#include "nightbank/simulate/simulate.h"

namespace nightbank::report {
namespace {

using testing_support::sampleNight;

TEST(Csv, HasAHeaderWithUnitsAndOneRowPerInterval) {
  const std::string text = csv(sampleNight());
  EXPECT_TRUE(text.starts_with(
      "time,interval_s,outdoor_degC,soc,bank_V,bank_A,solar_W,generator_W,shore_W,alternator_W,"
      "air_conditioners_W,loads_W,losses_W,unserved_W,compressor_s,engine_s,generator_loaded_s,"
      "quiet,inverter_lowest_V\r\n"
      "2030-05-11T18:00:00-05:00,1800,33.00,1.000000,25.000,0.000,0.000,1000.000,0.000,0.000,"
      "0.000,80.000,25.000,0.000,0.0,1800.0,1620.0,0,\r\n"))
      << text.substr(0, 500);
  EXPECT_EQ(std::count(text.begin(), text.end(), '\n'), 29);
  EXPECT_TRUE(text.ends_with("\r\n"));
}

// RFC 4180, section 2: every line ends with CRLF and has the same number of fields.
TEST(Csv, EveryRowHasTheSameNumberOfFields) {
  const std::string text = csv(sampleNight());
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = text.find("\r\n", at);
    ASSERT_NE(end, std::string::npos);
    EXPECT_EQ(std::count(text.begin() + static_cast<std::ptrdiff_t>(at),
                         text.begin() + static_cast<std::ptrdiff_t>(end), ','),
              18);
    at = end + 2;
  }
}

TEST(Csv, AMonitorHasAColumn) {
  const std::string text = csv(testing_support::watchedNight());
  EXPECT_NE(text.find(",quiet,inverter_lowest_V,monitor_soc\r\n"), std::string::npos);
  EXPECT_NE(text.find(",1800.0,1620.0,0,,0.750000\r\n"), std::string::npos) << text.substr(0, 500);
  EXPECT_EQ(std::count(text.begin(), text.end(), ','), 29 * 19);
}

TEST(Csv, InverterHasNoVoltageWhereItIsOff) {
  Night night = sampleNight();
  night.recorder.samples[0].inverterLowest_V = 23.4567;
  EXPECT_NE(csv(night).find("1620.0,0,23.457\r\n"), std::string::npos);
}

TEST(Csv, RefusesToWriteWhatIsNotFinite) {
  Night night = sampleNight();
  night.recorder.samples[1].losses_J = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW(csv(night), InternalError);
}

}  // namespace
}  // namespace nightbank::report
