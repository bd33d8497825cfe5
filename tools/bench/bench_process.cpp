#include <array>
#include <stdexcept>
#include <string>

#include "bench.h"
#include <benchmark/benchmark.h>
#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

namespace nightbank::bench {
namespace {

/// The whole program once, its output thrown away.
/// @throws std::runtime_error unless it answers
void answerOnce() {
  std::string program = NIGHTBANK_PROGRAM, command = "run", quiet = "--quiet",
              scenario = NIGHTBANK_SCENARIO;
  std::array<char*, 5> words{program.data(), command.data(), quiet.data(), scenario.data(),
                             nullptr};
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
  pid_t child = 0;
  const int failed = posix_spawn(&child, program.c_str(), &actions, nullptr, words.data(), environ);
  posix_spawn_file_actions_destroy(&actions);
  int status = 0;
  if (failed != 0 || waitpid(child, &status, 0) != child || status != 0)
    throw std::runtime_error("bench: " + program + " run --quiet " + scenario + " did not answer");
}

}  // namespace

void registerProcess() {
  benchmark::RegisterBenchmark("process",
                               [](benchmark::State& state) {
                                 for (auto round : state) {
                                   (void)round;
                                   answerOnce();
                                 }
                               })
      ->Repetitions(50)
      ->Iterations(1)
      ->UseRealTime();
}

}  // namespace nightbank::bench
