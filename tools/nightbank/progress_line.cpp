#include "progress_line.h"

#include <string>

#include "files.h"
#include "terminal.h"
#include <fmt/format.h>
#include <unistd.h>

namespace nightbank::tool {
namespace {

void showProgress(std::size_t done, std::size_t all) {
  constexpr std::size_t kBar = 40;
  const std::size_t filled = kBar * done / all;
  writeStream(STDERR_FILENO, done == all
                                 ? "\r\x1b[K"
                                 : fmt::format("\r[{}{}] {} of {}", std::string(filled, '#'),
                                               std::string(kBar - filled, '.'), done, all));
}

}  // namespace

Progress progressLine() {
  if (!isErrorTerminal())
    return {};
  // A thousand times at most: a terminal is slow.
  return [told = std::size_t{0}](std::size_t done, std::size_t all) mutable {
    const std::size_t now = 1 + 1000 * done / all;
    if (now != told || done == all)
      showProgress(done, all);
    told = now;
  };
}

}  // namespace nightbank::tool
