#include <array>
#include <cstdio>
#include <memory>

#include "process.h"

namespace nightbank::cli {
namespace {

// What a shell prints for a script.
std::string shellSays(const std::string& shell, const std::string& script) {
  const Folder folder;
  const std::string file = folder.file("script");
  writeFile(file, script);

  struct Close {
    void operator()(std::FILE* pipe) const { ::pclose(pipe); }
  };

  const std::unique_ptr<std::FILE, Close> pipe(
      ::popen((shell + " " + file + " 2>&1 </dev/null").c_str(), "r"));
  std::string said;
  std::array<char, 4096> buffer{};
  while (pipe && std::fgets(buffer.data(), buffer.size(), pipe.get()) != nullptr)
    said += buffer.data();
  return said;
}

// What bash offers after these words; the last one is being typed.
std::string bashOffers(const std::string& words, int at) {
  return shellSays("bash", run({"completion", "bash"}).out + "\nCOMP_WORDS=(" + words +
                               ")\nCOMP_CWORD=" + std::to_string(at) +
                               "\n_nightbank\necho \"${COMPREPLY[*]}\"\n");
}

TEST(Completion, BashOffersCommandsOptionsAndValues) {
  EXPECT_EQ(bashOffers("nightbank st", 1), "start\n");
  EXPECT_EQ(bashOffers("nightbank run --qu", 2), "--quiet\n");
  EXPECT_EQ(bashOffers("nightbank run --units ''", 3), "metric us\n");
  EXPECT_EQ(bashOffers("nightbank start --require m", 3), "marginal\n");
  EXPECT_EQ(bashOffers("nightbank completion ''", 2), "bash zsh fish\n");
  EXPECT_EQ(bashOffers("nightbank check --js", 2), "\n");
}

TEST(Completion, BashOffersFiles) {
  const std::string folder = NIGHTBANK_SOURCE_DIR "/scenarios/";
  EXPECT_EQ(bashOffers("nightbank run " + folder + "bunk", 2), folder + "bunk_trailer.yaml\n");
}

TEST(Completion, EveryShellKnowsEveryCommandAndLongOption) {
  const std::string help = run({"--help"}).out;
  for (const std::string shell : {"bash", "zsh", "fish"}) {
    const std::string script = run({"completion", shell}).out;
    for (const std::string word : {"run", "start", "check", "keys", "new", "page", "completion"}) {
      EXPECT_NE(help.find("\n  " + word + " "), std::string::npos) << word;
      EXPECT_NE(script.find(word), std::string::npos) << shell << ' ' << word;
    }
    for (const std::string option : {"set", "csv", "output", "schema", "ask", "require"})
      EXPECT_NE(script.find((shell == "fish" ? "-l " : "--") + option), std::string::npos)
          << shell << ' ' << option;
  }
}

// Where the shell is installed it must be able to read the script.
TEST(Completion, ShellsReadTheirScripts) {
  EXPECT_EQ(shellSays("bash -n", run({"completion", "bash"}).out), "");
  int read = 1;
  for (const std::string shell : {"zsh", "fish"}) {
    if (shellSays("command -v " + shell + " #", "").empty())
      continue;
    EXPECT_EQ(shellSays(shell + " -n", run({"completion", shell}).out), "") << shell;
    ++read;
  }
  RecordProperty("shells", read);
}

}  // namespace
}  // namespace nightbank::cli
