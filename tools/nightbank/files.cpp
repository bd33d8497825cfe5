#include "files.h"

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <utility>

#include "errors.h"
#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

namespace nightbank::tool {
namespace {

std::string reason(int error) {
  return std::strerror(error);
}

// An open file, closed with its scope.
class Descriptor {
 public:
  explicit Descriptor(int value) : value_(value) {}

  Descriptor(Descriptor&& other) noexcept : value_(std::exchange(other.value_, -1)) {}

  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;

  ~Descriptor() {
    if (value_ >= 0)
      ::close(value_);
  }

  int value() const { return value_; }

  // 0 or an error; a network file system tells of a full disk only here.
  int close() { return ::close(std::exchange(value_, -1)) == 0 ? 0 : errno; }

 private:
  int value_;
};

// 0 or the error that stopped it.
int writeAll(int descriptor, std::string_view text) {
  while (!text.empty()) {
    const ssize_t count = ::write(descriptor, text.data(), text.size());
    if (count < 0 && errno == EINTR)
      continue;
    if (count < 0)
      return errno;
    text.remove_prefix(static_cast<std::size_t>(count));
  }
  return 0;
}

void passOn(int descriptor, const std::string& shown,
            const std::function<void(std::string_view)>& take) {
  char buffer[65536];
  for (;;) {
    const ssize_t count = ::read(descriptor, buffer, sizeof buffer);
    if (count < 0 && errno == EINTR)
      continue;
    if (count < 0)
      throw UserError(fmt::format("{}: error: cannot be read: {}", shown, reason(errno)));
    if (count == 0)
      return;
    take({buffer, static_cast<std::size_t>(count)});
  }
}

std::string readAll(int descriptor, const std::string& shown, const TextKind& kind) {
  std::string text;
  passOn(descriptor, shown, [&](std::string_view block) {
    text.append(block);
    if (text.size() > kind.most)
      throw UserError(fmt::format("{}: error: is over {} bytes; {}", shown, kind.most, kind.size));
  });
  return text;
}

// The file that a chain of links leads to, so that a rename replaces that and not the link.
std::string resolved(const std::string& file) {
  std::error_code error;
  const auto target = std::filesystem::weakly_canonical(file, error);
  return error ? file : target.string();
}

void writeDirectly(const std::string& file, std::string_view text) {
  Descriptor target(::open(file.c_str(), O_WRONLY | O_CLOEXEC));
  if (target.value() < 0)
    throw UserError(fmt::format("{}: error: cannot be written: {}", file, reason(errno)));
  const int error = writeAll(target.value(), text);
  if (error != 0 && error != EPIPE)
    throw OutputError(fmt::format("{}: error: cannot be written: {}", file, reason(error)));
}

// Writes beside `target` and renames; `mode` is of the file that is replaced.
void replaceFile(const std::string& shown, const std::string& target, std::string_view text,
                 mode_t mode) {
  const std::string part = fmt::format("{}.{}.part", target, ::getpid());
  Descriptor file(::open(part.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, mode));
  if (file.value() < 0)
    throw UserError(fmt::format("{}: error: cannot be created: {}", shown, reason(errno)));
  int error = writeAll(file.value(), text);
  const int closing = file.close();
  error = error != 0 ? error : closing;
  if (error == 0 && ::rename(part.c_str(), target.c_str()) != 0)
    error = errno;
  if (error != 0) {
    ::unlink(part.c_str());
    throw OutputError(fmt::format("{}: error: cannot be written: {}", shown, reason(error)));
  }
}

// A file to read.
Descriptor opened(const std::string& file, std::string_view name) {
  Descriptor source(::open(file.c_str(), O_RDONLY | O_CLOEXEC));
  if (source.value() < 0)
    throw UserError(fmt::format("{}: error: cannot be read: {}", file, reason(errno)));

  struct stat status {};

  if (::fstat(source.value(), &status) == 0 && S_ISDIR(status.st_mode))
    throw UserError(fmt::format("{}: error: is a directory; expected a {} file", file, name));
  return source;
}

}  // namespace

std::string readText(const std::string& file, const TextKind& kind) {
  if (file == "-")
    return readAll(STDIN_FILENO, "standard input", kind);
  const Descriptor source = opened(file, kind.name);
  return readAll(source.value(), file, kind);
}

void readBlocks(const std::string& file, std::string_view name,
                const std::function<void(std::string_view)>& take) {
  if (file == "-")
    return passOn(STDIN_FILENO, "standard input", take);
  const Descriptor source = opened(file, name);
  passOn(source.value(), file, take);
}

void writeWhole(const std::string& file, std::string_view text) {
  constexpr mode_t kNewFile = 0666;
  const std::string target = resolved(file);

  struct stat status {};

  const bool exists = ::stat(target.c_str(), &status) == 0;
  if (exists && S_ISDIR(status.st_mode))
    throw UserError(fmt::format("{}: error: is a directory; expected a file to write", file));
  if (exists && !S_ISREG(status.st_mode))
    writeDirectly(file, text);
  else
    replaceFile(file, target, text, exists ? status.st_mode & 0777 : kNewFile);
}

void writeNew(const std::string& file, std::string_view text) {
  // Taken first, so that nobody else's file can come between the look and the rename.
  Descriptor taken(::open(file.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666));
  if (taken.value() < 0 && errno == EEXIST)
    throw UserError(fmt::format("{}: error: is there already; nothing is overwritten", file));
  if (taken.value() < 0)
    throw UserError(fmt::format("{}: error: cannot be created: {}", file, reason(errno)));
  int error = writeAll(taken.value(), text);
  const int closing = taken.close();
  error = error != 0 ? error : closing;
  if (error != 0) {
    ::unlink(file.c_str());
    throw OutputError(fmt::format("{}: error: cannot be written: {}", file, reason(error)));
  }
}

bool isSameFile(const std::string& a, const std::string& b) {
  std::error_code error;
  return std::filesystem::equivalent(a, b, error) && !error;
}

void writeStream(int descriptor, std::string_view text) {
  const int error = writeAll(descriptor, text);
  if (error != 0 && error != EPIPE)
    throw OutputError(
        fmt::format("nightbank: error: standard output cannot be written: {}", reason(error)));
}

}  // namespace nightbank::tool
