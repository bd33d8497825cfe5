#pragma once

#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

/// Weather read from the text of a file, in even steps.
namespace nightbank {

/// What a file says of one step. NaN: it does not say.
struct WeatherRow {
  static constexpr double kUnknown = std::numeric_limits<double>::quiet_NaN();

  // At the stamp.
  double outdoor_degC = kUnknown;
  double dewPoint_degC = kUnknown;
  double humidity = kUnknown;  ///< relative, 0..1; only serves where the dew point is not said
  double wind_m_s = kUnknown;
  double pressure_Pa = kUnknown;
  double opaqueCloud = kUnknown;  ///< share of the sky, 0..1
  // Means of the step that ends at the stamp.
  double global_W_m2 = kUnknown;   ///< on the horizontal
  double direct_W_m2 = kUnknown;   ///< facing the sun
  double diffuse_W_m2 = kUnknown;  ///< on the horizontal
};

struct WeatherSeries {
  /// The rows are those of one year, made up of months of different years, and stand for any year:
  /// the last is followed by the first. Else they stand for their own dates alone.
  bool isTypicalYear = false;
  double firstStamp_s = 0.0;  ///< since 1970 on the file's clock; of a typical year: one step
  double step_s = 3600.0;
  /// Clock of the file minus UTC, fixed, no summer time; nullopt: it is the clock of the reader.
  std::optional<double> utcOffset_s;
  double latitude_deg = WeatherRow::kUnknown;
  double longitude_deg = WeatherRow::kUnknown;
  int firstLine = 1;  ///< of rows[0]; each row has its line
  std::vector<WeatherRow> rows;
  int filled = 0;  ///< values that stood for short gaps: straight lines between their neighbours
};

/// Something wrong in the text, at a line and a column from 1.
struct SeriesFault {
  int line, column;
  std::string message;  ///< no full stop; may hold bytes of the text
};

/// Gaps up to this length are filled in. [s]
inline constexpr double kLongestGap_s = 3.0 * 3600.0;

/// Reads whichever of three formats the text is in:
///
/// - EPW: D. B. Crawley, J. W. Hand, L. K. Lawrie, "Improving the weather information available to
///   simulation programs", Building Simulation '99; 8 header lines, 35 columns.
/// - TMY3 csv: S. Wilcox, W. Marion, "Users Manual for TMY3 Data Sets", NREL/TP-581-43156 (2008);
///   columns found by their names, so that files of 68 and of 71 columns are read.
/// - csv of one's own: a header such as `time,outdoor degC,global W/m2`, then rows at even steps of
///   1 min to 1 h. `time` is a local date and clock time, with an offset from UTC ("-06:00") or on
///   the scenario's clock. Lines before the header that begin with # are passed over.
///
/// In all three a stamp ends its step: irradiance is the mean of the step before it, all else holds
/// at it. In the first two the hours are 1 to 24 of local standard time; their years are not looked
/// at, and there are 8760 rows, or 8784 with 29 February. Only the columns of WeatherRow are
/// looked at.
/// @returns the series, or up to 20 faults in their order
std::variant<WeatherSeries, std::vector<SeriesFault>> parseWeather(std::string_view text);

/// From the place of the series to another, on a sphere of the earth's mean radius. 0 where either
/// is not known.
double distance_km(const WeatherSeries& series, double latitude_deg, double longitude_deg);

/// A stretch of a series, without a hole: row i is stamped at firstStamp_s + i step_s.
struct WeatherWindow {
  double firstStamp_s = 0.0;  ///< on the file's clock, at or before the stretch
  double step_s = 3600.0;
  std::vector<WeatherRow> rows;  ///< the last is stamped at or after the end of the stretch
  std::vector<int> lines;        ///< of the text, by row
};

/// The rows around [from, to] of the file's clock, seconds since 1970. A typical year serves for
/// any; on its 29 February, where it has none, the 28th once more.
/// @returns nullopt where the series does not reach that far
std::optional<WeatherWindow> windowOf(const WeatherSeries& series, double from_s, double to_s);

/// The value of a window at an instant of the file's clock, straight between the stamps.
double valueAt(const WeatherWindow& window, double WeatherRow::*what, double file_s);

}  // namespace nightbank
