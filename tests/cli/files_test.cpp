#include <algorithm>
#include <csignal>

#include "process.h"
#include <sys/stat.h>

namespace nightbank::cli {
namespace {

TEST(Files, WhatCannotBeReadIsAnErrorOfTheFile) {
  const Folder folder;
  const std::string missing = folder.file("missing.yaml");
  const Ran absent = run({"run", missing});
  EXPECT_EQ(absent.code, 2);
  EXPECT_EQ(absent.out, "");
  EXPECT_EQ(absent.err, missing + ": error: cannot be read: No such file or directory\n");
  const std::string directory = folder.file("");
  const Ran isDirectory = run({"check", directory});
  EXPECT_EQ(isDirectory.code, 2);
  EXPECT_EQ(isDirectory.err, directory + ": error: is a directory; expected a scenario file\n");
}

TEST(Files, TooLongATextIsRefusedAndNotReadToItsEnd) {
  const Ran endless = run({"run", "/dev/zero"});
  EXPECT_EQ(endless.code, 2);
  EXPECT_EQ(endless.err, "/dev/zero: error: is over 1000000 bytes; a scenario is a short text\n");
  const Folder folder;
  writeFile(folder.file("long.yaml"), std::string(1'000'001, '#'));
  EXPECT_EQ(run({"run", folder.file("long.yaml")}).code, 2);
  const Ran input = run({"run", "-"}, std::string(1'000'001, '#'));
  EXPECT_EQ(input.code, 2);
  EXPECT_EQ(input.err,
            "standard input: error: is over 1000000 bytes; a scenario is a short text\n");
}

TEST(Files, JunkIsAnErrorAndNoCrash) {
  for (const std::string& junk : {std::string(), std::string("\0\1\2", 3), std::string("\xff\xfe"),
                                  std::string(5000, '['), std::string("a: &x [*x]\n")}) {
    const Ran ran = run({"run", "-"}, junk);
    EXPECT_EQ(ran.code, 2);
    EXPECT_EQ(ran.out, "");
    EXPECT_NE(ran.err.find("standard input"), std::string::npos) << ran.err;
  }
}

TEST(Files, TheTableIsWholeAndReplacesAnOldOne) {
  const Folder folder;
  const std::string file = folder.file("night.csv");
  writeFile(file, "old");
  ::chmod(file.c_str(), 0640);
  const Ran ran = run({"run", "--quiet", "--csv", file, "-"}, smallScenario());
  EXPECT_EQ(ran.code, 0);
  EXPECT_NE(ran.out.find("HOLDS"), std::string::npos);
  const std::string text = fileText(file);
  EXPECT_EQ(text, run({"run", "--csv", "-", "-"}, smallScenario()).out);
  EXPECT_EQ(std::count(text.begin(), text.end(), '\n'), 1 + 16 * 12);  // 16 h by 5 min
  EXPECT_EQ(folder.files(), 1u);

  struct stat status {};

  ASSERT_EQ(::stat(file.c_str(), &status), 0);
  EXPECT_EQ(status.st_mode & 0777, 0640u);
}

TEST(Files, NothingIsWrittenWhenTheInputIsWrong) {
  const Folder folder;
  const std::string file = folder.file("night.csv");
  EXPECT_EQ(run({"run", "--csv", file, "-"}, "bank: 3\n").code, 2);
  EXPECT_EQ(run({"run", "--csv", file, "--set", "bank.capacity=x", "-"}, smallScenario()).code, 2);
  EXPECT_EQ(folder.files(), 0u);
  writeFile(file, "old");
  EXPECT_EQ(run({"run", "--csv", file, "-"}, "bank: 3\n").code, 2);
  EXPECT_EQ(fileText(file), "old");
}

TEST(Files, TheScenarioItselfIsNeverOverwritten) {
  const Folder folder;
  const std::string file = folder.file("night.yaml"), link = folder.file("link.yaml");
  writeFile(file, smallScenario());
  std::filesystem::create_symlink(file, link);
  for (const std::string& target : {file, link}) {
    const Ran ran = run({"run", "--csv", target, file});
    EXPECT_EQ(ran.code, 2);
    EXPECT_EQ(ran.out, "");
    EXPECT_EQ(ran.err, target + ": error: is the scenario itself; name another file for --csv\n");
    EXPECT_EQ(fileText(file), smallScenario());
  }
}

TEST(Files, ALinkKeepsPointingToTheNewTable) {
  const Folder folder;
  const std::string file = folder.file("night.csv"), link = folder.file("link.csv");
  writeFile(file, "old");
  std::filesystem::create_symlink(file, link);
  EXPECT_EQ(run({"run", "--csv", link, "-"}, smallScenario()).code, 0);
  EXPECT_TRUE(std::filesystem::is_symlink(link));
  EXPECT_TRUE(fileText(file).starts_with("time,"));
}

TEST(Files, ATargetThatCannotBeIsAnErrorBeforeAnythingIsShown) {
  const Folder folder;
  const std::string nowhere = folder.file("none/night.csv"), directory = folder.file("");
  const Ran absent = run({"run", "--csv", nowhere, "-"}, smallScenario());
  EXPECT_EQ(absent.code, 2);
  EXPECT_EQ(absent.out, "");
  EXPECT_EQ(absent.err, nowhere + ": error: cannot be created: No such file or directory\n");
  EXPECT_EQ(run({"run", "--csv", directory, "-"}, smallScenario()).code, 2);
  const Ran full = run({"run", "--csv", "/dev/full", "-"}, smallScenario());
  EXPECT_EQ(full.code, 70);
  EXPECT_EQ(full.out, "");
  EXPECT_EQ(full.err, "/dev/full: error: cannot be written: No space left on device\n");
  EXPECT_EQ(run({"run", "--csv", "/dev/null", "-"}, smallScenario()).code, 0);
  EXPECT_TRUE(std::filesystem::is_character_file("/dev/null"));
}

TEST(Files, AnOutputThatCannotBeWrittenIsToldAndEndsWith70) {
  Start start{{"run", "-"}, smallScenario()};
  start.output = "/dev/full";
  const Ran full = run(start);
  EXPECT_EQ(full.code, 70);
  EXPECT_EQ(full.err,
            "nightbank: error: standard output cannot be written: No space left on device\n");
  start.output = "";
  start.closedOutput = true;
  EXPECT_EQ(run(start).code, 70);
}

TEST(Files, AReaderThatGoesAwayIsNoError) {
  int ends[2];
  ASSERT_EQ(::pipe(ends), 0);
  const Folder folder;
  writeFile(folder.file("in"), smallScenario());
  const pid_t child = ::fork();
  if (child == 0) {
    std::signal(SIGPIPE, SIG_DFL);
    redirect(STDIN_FILENO, folder.file("in"), O_RDONLY);
    redirect(STDERR_FILENO, folder.file("err"), O_WRONLY | O_CREAT);
    ::close(ends[0]);
    ::dup2(ends[1], STDOUT_FILENO);
    ::close(ends[1]);
    execute({{"run", "-"}});
  }
  ::close(ends[0]);
  ::close(ends[1]);
  EXPECT_EQ(exitCodeOf(child), 0);
  EXPECT_EQ(fileText(folder.file("err")), "");
}

}  // namespace
}  // namespace nightbank::cli
