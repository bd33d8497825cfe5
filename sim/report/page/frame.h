#pragma once

#include <string>
#include <vector>

#include "picture.h"

#include "nightbank/report/page.h"
#include "nightbank/report/sections.h"

/// What every page is made of. Private to the page; a command's page fills it.
namespace nightbank::report {

/// The top of a page.
struct PageHead {
  std::string title;     ///< of the scenario, as it was written
  std::string question;  ///< "Will it start?"; "" for the night itself
  std::string when;      ///< and where, see whenText(); "": not told
  std::string weather;   ///< a line on it below the verdict
  Level mark{};          ///< how the verdict is framed
  std::string word;      ///< of the verdict, in large
  std::string sentence;
  std::string turn;                ///< the smallest change that turns it; "": none is told
  std::string sleepers;            ///< the caution of an engine while people sleep; "": none
  std::vector<std::string> notes;  ///< below the sentence
};

/// A part that the list of contents leads to; "" as html: there is none.
struct PagePart {
  std::string id, link, html;
};

/// The page: verdict, contents, pictures, parts in their order.
std::string pageOf(const PageHead& head, const PagePictures& pictures,
                   const std::vector<PagePart>& parts);

/// Sections one after the other.
std::string sectionsHtml(const std::vector<Section>& sections);

/// Inputs with their grade.
PagePart inputsPart(std::span<const scenario::EchoRow> inputs);

/// What to look at again, and the limits of the model.
std::string warningsHtml(std::span<const Warning> ofReader, const std::vector<Warning>& ofAnswer);

/// Warnings as above, then the cautions as a list.
PagePart cautionsPart(std::span<const Warning> ofReader, const std::vector<Warning>& ofAnswer,
                      const std::vector<std::string>& cautions);

/// "15 Jul 17:00 to ..., 410 m; times on the clock of the place"
std::string whenText(const Plant& plant, const scenario::Scenario& resolved, UnitSystem units);

/// One line of what is wrapped for a terminal.
std::string oneLine(std::string text);

}  // namespace nightbank::report
