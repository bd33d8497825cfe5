// Reads a scenario from standard input, answers it, and prints the level.
#include <iostream>
#include <iterator>
#include <string>
#include <variant>
#include <vector>

#include <nightbank/report/words.h>
#include <nightbank/scenario/reader.h>
#include <nightbank/study/answer.h>

int main() {
  const std::string text((std::istreambuf_iterator<char>(std::cin)), {});
  const auto parsed = nightbank::scenario::parseDocument(text, "standard input");
  const auto* document = std::get_if<nightbank::scenario::Document>(&parsed);
  if (document == nullptr)
    return 2;
  const auto read = nightbank::scenario::readScenario(*document);
  if (!read.scenario)
    return 2;
  const auto answer = nightbank::answerNight(*read.scenario);
  const auto* night = std::get_if<nightbank::Answer>(&answer);
  if (night == nullptr)
    return 2;
  std::cout << nightbank::report::levelWord(night->level) << '\n';
}
