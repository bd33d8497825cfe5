#include <algorithm>
#include <string>

#include "finding.h"
#include "lines.h"
#include "shown.h"
#include "strip.h"
#include <fmt/format.h>

namespace nightbank::scenario {

namespace {

std::string_view lineAt(std::string_view text, std::size_t offset) {
  const std::size_t start = lineStart(text, offset);
  return text.substr(start, lineEnd(text, offset) - start);
}

std::string trimmed(std::string line) {
  line.erase(line.find_last_not_of(' ') + 1);
  return line + '\n';
}

std::size_t byteOf(const Place& place) {
  return static_cast<std::size_t>(place.column - 1);
}

// A line of source around a place.
struct View {
  Strip strip;
  Window window;

  bool shows(const Place& place) const {
    const int column = strip.columnOf(byteOf(place));
    return column >= window.first && column < window.last;
  }
};

View viewOf(std::string_view text, const Place& place) {
  Strip strip = stripAround(lineAt(text, place.offset), byteOf(place));
  const Window window = windowAround(strip, strip.columnOf(byteOf(place)));
  return {std::move(strip), window};
}

std::string marks(Underline underline) {
  return std::string(static_cast<std::size_t>(underline.column), ' ') + '^' +
         std::string(static_cast<std::size_t>(underline.length - 1), '~');
}

struct ExcerptWriter {
  std::string_view text;
  std::size_t digits;  // of the highest line number
  std::string out = {};

  void source(char sign, int number, const std::string& shown) {
    out += trimmed(fmt::format(" {} {:>{}} | {}", sign, number, digits, shown));
  }

  void below(const std::string& shown) {
    out += trimmed(fmt::format("   {:{}} | {}", "", digits, shown));
  }

  void before(const Place& place, Window window) {
    const std::size_t start = lineStart(text, place.offset);
    if (place.line <= 1 || start == 0) {
      return;
    }
    const Strip strip = stripAround(lineAt(text, start - 1), 0);
    if (window.first == 0 || strip.endColumn > window.first) {
      source(' ', place.line - 1, shownIn(strip, window));
    }
  }

  // The note stands behind the marks, or below them where it would run over the edge.
  void marked(Underline underline, const std::string& rawNote) {
    const std::string note = printable(rawNote, kExcerptColumns);
    const int end = underline.column + underline.length;
    if (note.empty() || end + 2 + displayWidth(note) <= kExcerptColumns) {
      below(marks(underline) + "  " + note);
      return;
    }
    below(marks(underline));
    below(note);
  }
};

}  // namespace

std::string excerptOf(std::string_view text, const Caret& at, const std::optional<Caret>& other) {
  const int highest = std::max(at.place.line, other ? other->place.line : 0);
  ExcerptWriter writer{text, std::to_string(highest).size()};
  const View view = viewOf(text, at.place);
  writer.before(at.place, view.window);
  writer.source('>', at.place.line, shownIn(view.strip, view.window));
  writer.marked(underlineOf(at.place, view.strip, view.window), at.note);
  if (!other) {
    return writer.out;
  }
  if (other->place.line == at.place.line && view.shows(other->place)) {
    writer.marked(underlineOf(other->place, view.strip, view.window), other->note);
    return writer.out;
  }
  const View second = viewOf(text, other->place);
  writer.source('>', other->place.line, shownIn(second.strip, second.window));
  writer.marked(underlineOf(other->place, second.strip, second.window), other->note);
  return writer.out;
}

}  // namespace nightbank::scenario
