#pragma once

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

/// The program as a process of its own.
namespace nightbank::cli {

inline std::string fileText(const std::filesystem::path& path) {
  std::ifstream stream(path, std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

inline void writeFile(const std::filesystem::path& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
}

/// A folder of its own, gone with its scope.
class Folder {
 public:
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "nightbank-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr)
      throw std::runtime_error("no temporary folder");
    path_ = name;
  }

  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  ~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }

  std::string file(const std::string& name) const { return (path_ / name).string(); }

  std::size_t files() const {
    std::size_t count = 0;
    for ([[maybe_unused]] const auto& entry : std::filesystem::directory_iterator(path_))
      ++count;
    return count;
  }

 private:
  std::filesystem::path path_;
};

/// How a process is to be started.
struct Start {
  std::vector<std::string> arguments;
  std::string input = {};                   ///< for standard input
  std::string output = {};                  ///< a file to open as standard output; "" the usual one
  bool closedOutput = false;                ///< without standard output
  bool asNobody = false;                    ///< of the superuser: with the rights of none
  std::vector<std::string> variables = {};  ///< "NAME=value"
};

struct Ran {
  int code = -1;  ///< 128 + signal where it was killed
  std::string out, err;
};

/// In the child: puts `path` in the place of a descriptor.
inline void redirect(int descriptor, const std::string& path, int flags) {
  const int file = ::open(path.c_str(), flags, 0600);
  if (file < 0 || ::dup2(file, descriptor) < 0)
    ::_exit(126);
  ::close(file);
}

constexpr uid_t kNobody = 65534;

/// In the child: the program, never back.
[[noreturn]] inline void execute(const Start& start) {
  std::vector<char*> words;
  std::string program = NIGHTBANK_PROGRAM;
  words.push_back(program.data());
  std::vector<std::string> arguments = start.arguments;
  for (std::string& word : arguments)
    words.push_back(word.data());
  words.push_back(nullptr);
  for (const std::string& variable : start.variables) {
    const std::size_t sign = variable.find('=');
    ::setenv(variable.substr(0, sign).c_str(), variable.c_str() + sign + 1, 1);
  }
  // By descriptor, which needs no way to the program that nobody may go.
  const int file = ::open(program.c_str(), O_RDONLY | O_CLOEXEC);
  if (start.asNobody && ::setuid(kNobody) != 0)
    ::_exit(126);
  ::fexecve(file, words.data(), environ);
  ::_exit(127);
}

inline int exitCodeOf(pid_t child) {
  int status = 0;
  ::waitpid(child, &status, 0);
  return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

inline Ran run(const Start& start) {
  const Folder folder;
  const std::string in = folder.file("in"), out = folder.file("out"), err = folder.file("err");
  writeFile(in, start.input);
  const pid_t child = ::fork();
  if (child == 0) {
    redirect(STDIN_FILENO, in, O_RDONLY);
    redirect(STDERR_FILENO, err, O_WRONLY | O_CREAT | O_TRUNC);
    if (start.closedOutput)
      ::close(STDOUT_FILENO);
    else
      redirect(STDOUT_FILENO, start.output.empty() ? out : start.output,
               O_WRONLY | O_CREAT | (start.output.empty() ? O_TRUNC : 0));
    execute(start);
  }
  const int code = exitCodeOf(child);
  return {code, fileText(out), fileText(err)};
}

inline Ran run(std::vector<std::string> arguments, std::string input = "") {
  return run(Start{std::move(arguments), std::move(input)});
}

inline std::string scenarioFile(const std::string& name) {
  return std::string(NIGHTBANK_SOURCE_DIR "/scenarios/") + name;
}

/// One that quickly answers.
inline const std::string kStall = scenarioFile("food_stall.yaml");

/// A small scenario whose bank keeps plenty, or with `capacity: 40 Ah` far too little.
inline std::string smallScenario(const std::string& capacity = "400 Ah") {
  return "title: Shed\n"
         "period: {night_of: 2032-06-01}\n"
         "air_conditioners:\n"
         "  - {name: wall, hours: [\"21:00-23:00\"], duty: 50 %, running: {power: 400 W "
         "measured},\n"
         "     fan: {power: 40 W measured}}\n"
         "bank: {chemistry: lfp, voltage: 12.8 V, capacity: " +
         capacity +
         ", start_at: 100 % measured}\n"
         "inverter: {continuous: 1000 W, efficiency: 90 % measured, idle: 6 W measured}\n";
}

}  // namespace nightbank::cli
