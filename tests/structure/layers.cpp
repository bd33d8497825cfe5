#include "layers.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cstddef>
#include <filesystem>
#include <optional>

namespace nightbank::structure {
namespace {

// Each room with the rooms below it. `simulate` sees `scenario` in derive* alone.
struct Room {
  std::string_view name;
  std::vector<std::string_view> below;
};

const std::vector<Room>& rooms() {
  static const std::vector<Room> table = {
      {"units", {}},
      {"numerics", {"units"}},
      {"weather", {"numerics", "units"}},
      {"devices", {"weather", "numerics", "units"}},
      {"control", {"devices", "weather", "numerics", "units"}},
      {"scenario", {"numerics", "units"}},
      {"simulate", {"control", "devices", "weather", "numerics", "units"}},
      {"study", {"simulate", "scenario", "control", "devices", "weather", "numerics", "units"}},
      {"report",
       {"study", "simulate", "scenario", "control", "devices", "weather", "numerics", "units"}},
  };
  return table;
}

std::optional<std::string_view> afterPrefix(std::string_view text, std::string_view prefix) {
  if (!text.starts_with(prefix)) {
    return std::nullopt;
  }
  return text.substr(prefix.size());
}

// "devices" of "sim/devices/bank.cpp"; "" where the file belongs to no room.
std::string_view roomOf(std::string_view path) {
  for (const std::string_view top : {"include/nightbank/", "sim/"}) {
    if (const auto rest = afterPrefix(path, top)) {
      const std::size_t slash = rest->find('/');
      return slash == std::string_view::npos ? std::string_view() : rest->substr(0, slash);
    }
  }
  return {};
}

std::string_view baseName(std::string_view path) {
  return path.substr(path.rfind('/') + 1);
}

bool isWordCharacter(char c) {
  return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_';
}

bool containsWord(std::string_view code, std::string_view word) {
  for (std::size_t at = code.find(word); at != std::string_view::npos;
       at = code.find(word, at + 1)) {
    const std::size_t end = at + word.size();
    const bool startsHere = at == 0 || !isWordCharacter(code[at - 1]);
    const bool endsHere = end == code.size() || !isWordCharacter(code[end]);
    if (startsHere && endsHere) {
      return true;
    }
  }
  return false;
}

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view kBlank = " \t\r";
  const std::size_t first = text.find_first_not_of(kBlank);
  if (first == std::string_view::npos) {
    return {};
  }
  return text.substr(first, text.find_last_not_of(kBlank) - first + 1);
}

// What the file includes, without quotes or brackets.
std::vector<std::string_view> includesOf(std::string_view text) {
  std::vector<std::string_view> found;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    const auto directive = afterPrefix(trimmed(text.substr(at, end - at)), "#");
    const auto target = directive ? afterPrefix(trimmed(*directive), "include") : std::nullopt;
    if (target) {
      const std::size_t open = target->find_first_of("<\"");
      const std::size_t close = target->find_first_of(">\"", open + 1);
      if (open != std::string_view::npos && close != std::string_view::npos) {
        found.push_back(target->substr(open + 1, close - open - 1));
      }
    }
    at = end + 1;
  }
  return found;
}

bool maySee(std::string_view path, std::string_view from, std::string_view to) {
  if (from == to) {
    return true;
  }
  if (from == "simulate" && to == "scenario") {
    return baseName(path).starts_with("derive");
  }
  const auto& table = rooms();
  const auto room = std::find_if(table.begin(), table.end(),
                                 [&](const Room& candidate) { return candidate.name == from; });
  return room != table.end() &&
         std::find(room->below.begin(), room->below.end(), to) != room->below.end();
}

std::string finding(const File& file, std::string_view what) {
  return file.path + ": " + std::string(what);
}

// Path from the top of what an include names: "include/nightbank/units/a.h", or beside the file.
std::string included(std::string_view path, std::string_view include) {
  const std::filesystem::path named(include);
  if (include.starts_with("nightbank/")) {
    return ("include" / named).generic_string();
  }
  return (std::filesystem::path(path).parent_path() / named).lexically_normal().generic_string();
}

// A library that one place alone may include.
struct Kept {
  std::string_view prefix;
  std::string_view place;
};

constexpr std::array kKept = {Kept{"yaml-cpp/", "sim/scenario/"}, Kept{"CLI/", "tools/nightbank/"}};

bool isCore(std::string_view room) {
  return !room.empty() && room != "study" && room != "report";
}

}  // namespace

std::vector<std::string> includeFindings(const File& file) {
  std::vector<std::string> findings;
  const std::string_view room = roomOf(file.path);
  for (const std::string_view include : includesOf(file.text)) {
    const std::string named = included(file.path, include);
    const std::string_view target = roomOf(named);
    if (!room.empty() && !target.empty() && !maySee(file.path, room, target)) {
      findings.push_back(finding(file, "must not see " + std::string(include)));
    }
    for (const Kept& kept : kKept) {
      if (include.starts_with(kept.prefix) && !file.path.starts_with(kept.place)) {
        findings.push_back(
            finding(file, std::string(include) + " belongs to " + std::string(kept.place)));
      }
    }
    // The full header takes seconds to compile; json_fwd.hpp serves a declaration.
    if (include == "nlohmann/json.hpp" && file.path.ends_with(".h")) {
      findings.push_back(finding(file, "includes nlohmann/json.hpp in a header"));
    }
  }
  return findings;
}

std::vector<std::string> coreFindings(const File& file) {
  // <chrono> may stay for its calendar; its clocks may not.
  constexpr std::array<std::string_view, 13> kHeaders = {
      "fstream", "iostream", "filesystem", "thread", "mutex",   "future", "condition_variable",
      "atomic",  "ctime",    "time.h",     "random", "stdio.h", "cstdio"};
  constexpr std::array<std::string_view, 15> kNames = {"getenv",
                                                       "setenv",
                                                       "std::cout",
                                                       "std::cerr",
                                                       "std::clog",
                                                       "printf",
                                                       "fprintf",
                                                       "puts",
                                                       "fopen",
                                                       "fmt::print",
                                                       "system_clock",
                                                       "steady_clock",
                                                       "high_resolution_clock",
                                                       "std::time",
                                                       "std::rand"};
  std::vector<std::string> findings;
  if (!isCore(roomOf(file.path))) {
    return findings;
  }
  for (const std::string_view include : includesOf(file.text)) {
    if (std::find(kHeaders.begin(), kHeaders.end(), include) != kHeaders.end()) {
      findings.push_back(finding(file, "includes <" + std::string(include) + "> below study"));
    }
  }
  const std::string code = codeOnly(file.text);
  for (const std::string_view name : kNames) {
    if (containsWord(code, name)) {
      findings.push_back(finding(file, "uses " + std::string(name) + " below study"));
    }
  }
  return findings;
}

std::vector<std::string> lengthFindings(const File& file) {
  const auto lines = std::count(file.text.begin(), file.text.end(), '\n');
  const std::ptrdiff_t most = file.path.ends_with(".h") ? 250 : 350;
  if (lines <= most) {
    return {};
  }
  return {finding(file, std::to_string(lines) + " lines, more than " + std::to_string(most))};
}

std::vector<std::string> listFindings(const File& file, const File& list) {
  if (!file.path.ends_with(".cpp") || containsWord(list.text, baseName(file.path))) {
    return {};
  }
  return {finding(file, "is not named in " + list.path)};
}

}  // namespace nightbank::structure
