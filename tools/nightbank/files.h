#pragma once

#include <functional>
#include <string>
#include <string_view>

/// Text from and to files and the standard streams.
namespace nightbank::tool {

/// What a text should be, for messages.
struct TextKind {
  std::string_view name;
  std::size_t most;       ///< bytes
  std::string_view size;  ///< why that is enough
};

/// The whole text of a file, or of standard input for "-". Refuses directories, and more bytes than
/// the kind has at most without reading on.
/// @throws UserError "file: error: ..."
std::string readText(const std::string& file, const TextKind& kind);

/// Hands a file, or standard input for "-", on in blocks, so that it may be of any size.
/// @param name  of what it should be, for messages: "log"
/// @throws UserError "file: error: ..."
void readBlocks(const std::string& file, std::string_view name,
                const std::function<void(std::string_view)>& take);

/// Puts a file in place whole or not at all: written beside it, then renamed. What is no regular
/// file (a device, a pipe) is written directly.
/// @throws UserError where it cannot be created, OutputError where it cannot be finished
void writeWhole(const std::string& file, std::string_view text);

/// As writeWhole, but never over a file that is there.
/// @throws UserError also where it exists
void writeNew(const std::string& file, std::string_view text);

/// Whether both names lead to the same file.
bool isSameFile(const std::string& a, const std::string& b);

/// Writes to an open stream (1 or 2). A reader that has gone (`| head`) is no error.
/// @throws OutputError
void writeStream(int descriptor, std::string_view text);

}  // namespace nightbank::tool
