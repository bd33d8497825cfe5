#include <atomic>
#include <cstddef>
#include <cstdlib>
#include <memory>
#include <new>

#include "plants.h"
#include <gtest/gtest.h>

#include "nightbank/simulate/simulate.h"

namespace {

std::atomic<std::size_t> allocations = 0;

void* counted(std::size_t bytes) {
  ++allocations;
  if (void* memory = std::malloc(bytes == 0 ? 1 : bytes)) {
    return memory;
  }
  throw std::bad_alloc();
}

}  // namespace

// Every form of new of this program comes by here; the other forms of the library call these.
void* operator new(std::size_t bytes) {
  return counted(bytes);
}

void* operator new[](std::size_t bytes) {
  return counted(bytes);
}

void operator delete(void* memory) noexcept {
  std::free(memory);
}

void operator delete[](void* memory) noexcept {
  std::free(memory);
}

void operator delete(void* memory, std::size_t /*bytes*/) noexcept {
  std::free(memory);
}

void operator delete[](void* memory, std::size_t /*bytes*/) noexcept {
  std::free(memory);
}

namespace nightbank::structure {
namespace {

TEST(Allocation, IsCounted) {
  const std::size_t before = allocations;
  const auto number = std::make_unique<int>(1);
  EXPECT_EQ(allocations - before, 1U) << *number;
}

TEST(Allocation, ARunMakesNone) {
  const auto plants = committedPlants();
  ASSERT_FALSE(plants.empty());
  for (const auto& [file, plant] : plants) {
    for (const bool keepPieces : {false, true}) {
      auto recorder = makeRecorder(plant, keepPieces);
      const std::size_t before = allocations;
      const Outcome outcome = simulate(plant, recorder);
      EXPECT_EQ(allocations - before, 0U) << file;
      EXPECT_GT(outcome.pieces, 0U) << file;
      EXPECT_EQ(recorder.dropped, 0U) << file;
    }
  }
}

TEST(Allocation, AResetMakesNone) {
  for (const auto& [file, plant] : committedPlants()) {
    auto recorder = makeRecorder(plant, true);
    simulate(plant, recorder);
    const std::size_t before = allocations;
    reset(recorder, plant);
    EXPECT_EQ(allocations - before, 0U) << file;
  }
}

}  // namespace
}  // namespace nightbank::structure
