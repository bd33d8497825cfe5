#include "nightbank/study/parallel.h"

#include <stdexcept>
#include <string>
#include <vector>

#include <gtest/gtest.h>

namespace nightbank {
namespace {

TEST(InParallel, CallsEveryIndexOnceWhateverTheThreads) {
  for (const int threads : {-1, 0, 1, 2, 7, 200}) {
    std::vector<int> calls(101, 0);
    inParallel(calls.size(), threads, [&](std::size_t i) { ++calls[i]; });
    EXPECT_EQ(calls, std::vector<int>(101, 1)) << threads;
  }
}

TEST(InParallel, NothingToDoCallsNothing) {
  inParallel(0, 4, [](std::size_t) { FAIL(); });
}

TEST(InParallel, ThrowsOnWhatACallThrewAndBeginsNoMore) {
  std::vector<int> calls(1000, 0);
  try {
    inParallel(calls.size(), 1, [&](std::size_t i) {
      ++calls[i];
      if (i == 3)
        throw std::runtime_error("three");
    });
    FAIL() << "did not throw";
  } catch (const std::runtime_error& error) {
    EXPECT_EQ(error.what(), std::string("three"));
  }
  EXPECT_EQ(calls[3], 1);
  EXPECT_EQ(calls[4], 0);
  EXPECT_THROW(inParallel(8, 4, [](std::size_t) { throw std::runtime_error("each"); }),
               std::runtime_error);
}

TEST(InParallel, ThisMachineHasAThread) {
  EXPECT_GE(threadsHere(), 1);
}

}  // namespace
}  // namespace nightbank
