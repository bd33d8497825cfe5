// Weather files as the program meets them: beside the scenario, wrong in every way, and not to be
// written over. Exit code 2, the reason on standard error, nothing else.

#include "process.h"

namespace nightbank::cli {
namespace {

constexpr const char* kCsv =
    "time,outdoor degC\n2032-06-01 17:00,30\n2032-06-01 18:00,29\n2032-06-01 19:00,28\n";

std::string withFile(const std::string& path, const std::string& keys = "") {
  return smallScenario() + "weather: {file: {path: '" + path + "'" + keys + "}}\n";
}

// 40 hours from noon, 30 degC and falling.
std::string longCsv() {
  std::string text = "# made up\ntime,outdoor degC\n";
  for (int hour = 12; hour < 52; ++hour)
    text += "2032-06-0" + std::to_string(1 + hour / 24) + " " + (hour % 24 < 10 ? "0" : "") +
            std::to_string(hour % 24) + ":00," + std::to_string(42 - hour / 2) + "\n";
  return text;
}

TEST(Weather, IsReadFromTheScenariosFolder) {
  const Folder folder;
  writeFile(folder.file("air.csv"), longCsv());
  writeFile(folder.file("shed.yaml"), withFile("air.csv"));
  const Ran ran = run({"run", folder.file("shed.yaml")});
  EXPECT_EQ(ran.code, 0) << ran.err;
  EXPECT_EQ(ran.err, "");
  EXPECT_NE(ran.out.find("Weather of 1 Jun 2032 from air.csv\n"), std::string::npos) << ran.out;
  const Ran checked = run({"check", folder.file("shed.yaml")});
  EXPECT_EQ(checked.code, 0);
  EXPECT_NE(checked.out.find("Weather of 1 Jun 2032 from air.csv\n"), std::string::npos);
  writeFile(folder.file("bare.yaml"), smallScenario() + "weather: {file: air.csv}\n");
  EXPECT_EQ(run({"run", folder.file("bare.yaml")}).out, ran.out);
  const Ran missing = run({"run", "-"}, smallScenario() + "weather: {file: missing.csv}\n");
  const Ran missingPath = run({"run", "-"}, withFile("missing.csv"));
  EXPECT_EQ(missing.code, 2);
  EXPECT_EQ(missing.err, missingPath.err);
  EXPECT_NE(missing.err, "");
  const Ran edited = run({"run", "--json", "--set", "weather.file.path=" + folder.file("air.csv"),
                          "--set", "weather.file.hottest=100 %", "-"},
                         withFile("missing.csv"));
  EXPECT_EQ(edited.code, 0) << edited.err;
  EXPECT_NE(edited.out.find("\"from_date\": \"2032-06-01\""), std::string::npos);
  EXPECT_NE(edited.out.find("\"nights\": 1\n"), std::string::npos);
}

TEST(Weather, WhatIsWrongIsToldAtItsLine) {
  const Folder folder;
  const std::string scenario = folder.file("shed.yaml");
  writeFile(scenario, withFile("air.csv"));
  const std::string air = folder.file("air.csv");
  const std::string noFile =
      " begins no weather file; expected EPW (first line LOCATION,...), TMY3 csv (second line Date "
      "(MM/DD/YYYY),...) or a csv whose header begins with time,\n";
  const std::vector<std::pair<std::string, std::string>> cases = {
      {"", ":1:1: error: an empty text" + noFile},
      {std::string("\0\1\x1b", 3), ":1:1: error: '\\x00\\x01\\x1b'" + noFile},
      {"time,outdoor K\n",
       ":1:6: error: column outdoor has the unit 'K'; expected a temperature (degC, degF)\n"},
      {"time,outdoor degC\n2032-06-01 17:00,hot\n2032-06-01 18:00,29\n",
       ":2:18: error: outdoor is 'hot'; expected a number\n"},
  };
  for (const auto& [text, expected] : cases) {
    writeFile(air, text);
    for (const char* command : {"run", "check"}) {
      const Ran ran = run({command, scenario});
      EXPECT_EQ(ran.code, 2);
      EXPECT_EQ(ran.out, "");
      EXPECT_EQ(ran.err, air + expected);
    }
  }
}

TEST(Weather, AFileThatEndsTooSoonIsToldInTheScenario) {
  const Folder folder;
  writeFile(folder.file("air.csv"), kCsv);
  writeFile(folder.file("shed.yaml"), withFile("air.csv"));
  const Ran ran = run({"run", folder.file("shed.yaml")});
  EXPECT_EQ(ran.code, 2);
  EXPECT_EQ(ran.out, "");
  EXPECT_NE(
      ran.err.find("shed.yaml:8:17: error: weather.file has the weather from 2032-06-01 17:00 "
                   "to 2032-06-01 19:00; expected 2032-06-01 17:00 to 2032-06-02 09:00, the "
                   "scenario's period on the clock of the file\n"),
      std::string::npos)
      << ran.err;
}

TEST(Weather, WhatCannotBeReadIsAnErrorOfTheFile) {
  const Folder folder;
  const auto errorWith = [&](const std::string& path) {
    writeFile(folder.file("shed.yaml"), withFile(path));
    const Ran ran = run({"run", folder.file("shed.yaml")});
    EXPECT_EQ(ran.code, 2);
    EXPECT_EQ(ran.out, "");
    return ran.err;
  };
  EXPECT_EQ(errorWith("none.epw"),
            folder.file("none.epw") + ": error: cannot be read: No such file or directory\n");
  EXPECT_EQ(errorWith("."),
            folder.file(".") + ": error: is a directory; expected a weather file\n");
  EXPECT_EQ(errorWith("/dev/zero"),
            "/dev/zero: error: is over 64000000 bytes; a year by the minute has fewer\n");
}

TEST(Weather, TheTableIsNotWrittenOverTheFile) {
  const Folder folder;
  writeFile(folder.file("air.csv"), longCsv());
  writeFile(folder.file("shed.yaml"), withFile("air.csv"));
  const Ran ran = run({"run", "--csv", folder.file("air.csv"), folder.file("shed.yaml")});
  EXPECT_EQ(ran.code, 2);
  EXPECT_EQ(ran.err, folder.file("air.csv") +
                         ": error: is the weather file itself; name another file for --csv\n");
  EXPECT_EQ(fileText(folder.file("air.csv")), longCsv());
}

TEST(Weather, GapsThatWereFilledAreAWarning) {
  const Folder folder;
  std::string text = longCsv();
  text.replace(text.find("20:00,32"), 8, "20:00,");
  writeFile(folder.file("air.csv"), text);
  writeFile(folder.file("shed.yaml"), withFile("air.csv"));
  const Ran ran = run({"run", "--quiet", folder.file("shed.yaml")});
  EXPECT_EQ(ran.code, 0);
  EXPECT_NE(ran.err.find("warning: weather.file lacks 1 value in gaps of up to 3 h; straight lines "
                         "stand there\n"),
            std::string::npos)
      << ran.err;
}

}  // namespace
}  // namespace nightbank::cli
