#pragma once

#include <string>
#include <string_view>
#include <vector>

/// Rules of the tree that no compiler checks: which room may include which, what the core may not
/// touch, how long a file may be, and that each source is named to the build.
namespace nightbank::structure {

/// One file of the tree.
struct File {
  std::string path;  ///< from the top of the tree: "sim/devices/bank.cpp"
  std::string text;
};

/// Findings in one file, each "path: what is wrong"; empty where there are none.
std::vector<std::string> includeFindings(const File& file);
std::vector<std::string> coreFindings(const File& file);
std::vector<std::string> lengthFindings(const File& file);

/// `list` is the CMakeLists.txt beside `file`.
std::vector<std::string> listFindings(const File& file, const File& list);

/// The text with comments blanked and the contents of string and character literals removed.
std::string codeOnly(std::string_view text);

}  // namespace nightbank::structure
