#include <set>

#include "../member.h"
#include "rules.h"
#include <fmt/format.h>

#include "nightbank/scenario/fields.h"

namespace nightbank::scenario {
namespace {

constexpr std::size_t kMostChoices = 8, kMostOptions = 32;

void checkOption(const Rules& rules, const SizingOption& option, const std::string& path) {
  const Sizing& sizing = *rules.given.sizing;
  if (sizing.mostMass_kg.given && !option.mass_kg.given)
    rules.error(path, "sizing.most_mass",
                fmt::format("{} has no mass, but sizing.most_mass limits it", path));
  for (const NamedEdit& edit : option.set)
    if (edit.path.starts_with("weather"))
      rules.error(
          path + ".set." + edit.path, "",
          fmt::format("{}.set.{} changes the weather, which nobody can buy", path, edit.path));
  if (!option.units)
    return;
  const SizingUnits& units = *option.units;
  if (units.from.known() && units.to.known() && units.to.value < units.from.value)
    rules.error(path + ".units.to", path + ".units.from",
                fmt::format("{}.units.to is below {}.units.from", path, path));
}

void checkOptions(const Rules& rules, std::size_t index) {
  const Sizing& sizing = *rules.given.sizing;
  const SizingChoice& choice = sizing.choose[index];
  const std::string path = choicePath(sizing, index);
  if (choice.options.size() > kMostOptions)
    return rules.error(path + ".options", "",
                       fmt::format("{}.options has {} items; at most {}", path,
                                   choice.options.size(), kMostOptions));
  std::set<std::string_view> names;
  for (std::size_t i = 0; i < choice.options.size(); ++i) {
    const std::string at = optionPath(sizing, index, i);
    if (!names.insert(choice.options[i].name).second)
      rules.error(at + ".name", "",
                  fmt::format("{}.name is '{}', the name of another one; names must differ", at,
                              choice.options[i].name));
    checkOption(rules, choice.options[i], at);
  }
}

}  // namespace

std::string choicePath(const Sizing& sizing, std::size_t choice) {
  return itemPath("sizing.choose", specOf<Sizing>().find("choose").front(), &sizing, choice);
}

std::string optionPath(const Sizing& sizing, std::size_t choice, std::size_t option) {
  return itemPath(choicePath(sizing, choice) + ".options",
                  specOf<SizingChoice>().find("options").front(), &sizing.choose[choice], option);
}

void checkSizing(const Rules& rules) {
  if (!rules.given.sizing)
    return;
  const Sizing& sizing = *rules.given.sizing;
  if (sizing.nights.given && !(rules.given.weather && rules.given.weather->file))
    rules.error("sizing.nights", "weather",
                "sizing.nights is a share of the nights of a weather file, but weather.file is "
                "not there");
  if (sizing.choose.size() > kMostChoices)
    return rules.error(
        "sizing.choose", "",
        fmt::format("sizing.choose has {} items; at most {}", sizing.choose.size(), kMostChoices));
  std::set<std::string_view> names;
  for (std::size_t i = 0; i < sizing.choose.size(); ++i) {
    const std::string at = choicePath(sizing, i);
    if (!names.insert(sizing.choose[i].name).second)
      rules.error(at + ".name", "",
                  fmt::format("{}.name is '{}', the name of another one; names must differ", at,
                              sizing.choose[i].name));
    checkOptions(rules, i);
  }
}

}  // namespace nightbank::scenario
