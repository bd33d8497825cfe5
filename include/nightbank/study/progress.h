#pragma once

#include <cstddef>
#include <functional>
#include <mutex>

/// How far long work is.
namespace nightbank {

/// Told after every step; nothing: nobody asks.
using Progress = std::function<void(std::size_t done, std::size_t all)>;

/// Tells how far it is, one call at a time and never backwards. From any thread.
class ProgressCounter {
 public:
  /// @param all  steps that there will be at most
  ProgressCounter(const Progress& progress, std::size_t all) : progress_(progress), all_(all) {}

  void add(std::size_t steps = 1) {
    if (!progress_)
      return;
    const std::lock_guard lock(mutex_);
    done_ += steps;
    progress_(done_, all_);
  }

  /// Nothing more comes, though less may have been done than was thought.
  void finish() {
    if (progress_ && done_ < all_)
      add(all_ - done_);
  }

 private:
  const Progress& progress_;
  std::size_t all_, done_ = 0;
  std::mutex mutex_;
};

}  // namespace nightbank
