#include "nightbank/study/parallel.h"

#include <algorithm>
#include <atomic>
#include <exception>
#include <limits>
#include <mutex>
#include <thread>
#include <vector>

namespace nightbank {
namespace {

// What is left to do, shared by the threads.
struct Queue {
  std::atomic<std::size_t> next{0};
  std::atomic<bool> stopped{false};
  std::mutex mutex;
  std::exception_ptr error;
  std::size_t errorAt = std::numeric_limits<std::size_t>::max();

  void keep(std::size_t index, std::exception_ptr thrown) {
    const std::lock_guard lock(mutex);
    stopped = true;
    if (index < errorAt) {
      errorAt = index;
      error = std::move(thrown);
    }
  }
};

void takeFrom(Queue& queue, std::size_t count, const std::function<void(std::size_t)>& work) {
  while (!queue.stopped) {
    const std::size_t index = queue.next++;
    if (index >= count)
      return;
    try {
      work(index);
    } catch (...) {
      queue.keep(index, std::current_exception());
    }
  }
}

}  // namespace

int threadsHere() {
  return std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
}

void inParallel(std::size_t count, int threads, const std::function<void(std::size_t)>& work) {
  Queue queue;
  {
    std::vector<std::jthread> helpers;
    for (std::size_t i = 1; i < std::min(count, static_cast<std::size_t>(std::max(1, threads)));
         ++i)
      helpers.emplace_back([&] { takeFrom(queue, count, work); });
    takeFrom(queue, count, work);
  }
  if (queue.error)
    std::rethrow_exception(queue.error);
}

}  // namespace nightbank
