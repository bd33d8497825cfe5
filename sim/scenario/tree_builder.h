#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "finding.h"
#include "lines.h"
#include <yaml-cpp/eventhandler.h>

#include "nightbank/scenario/document.h"

/// Private to the room: the tree from the parser's events.
namespace nightbank::scenario {

/// Thrown out of the events to end the reading; the reason is among the findings.
struct StopReading {};

class TreeBuilder : public YAML::EventHandler {
 public:
  /// Both must outlive the builder.
  TreeBuilder(std::string_view text, const Lines& lines) : text_(text), lines_(lines) {}

  void OnDocumentStart(const YAML::Mark& mark) override;

  void OnDocumentEnd() override {}

  void OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) override;
  void OnAlias(const YAML::Mark& mark, YAML::anchor_t anchor) override;
  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                const std::string& value) override;
  void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                       YAML::EmitterStyle::value style) override;
  void OnSequenceEnd() override;
  void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                  YAML::EmitterStyle::value style) override;
  void OnMapEnd() override;
  void OnAnchor(const YAML::Mark& mark, const std::string& name) override;

  /// Keeps a finding; ends the reading when there are very many.
  void add(Finding finding);

  /// The same after the reading.
  void addLast(Finding finding) { findings_.push_back(std::move(finding)); }

  std::vector<Finding> takeFindings() { return std::move(findings_); }

  /// The one value of the text; null where there was none.
  Node takeRoot() { return std::move(root_); }

  /// The innermost bracket that is still open, while reading.
  std::optional<std::size_t> openBracket() const;

  /// Past the last value that was read.
  std::size_t reached() const { return reached_; }

  /// Where the last text in quotes began.
  std::optional<std::size_t> lastQuote() const { return lastQuote_; }

 private:
  // A map or list that is being read.
  struct Frame {
    Node node;
    bool isBracketed = false;
    bool wantsKey = false;    // of a map: the next value is a key
    bool dropsValue = false;  // its key was refused
    std::string key;
    Place keyPlace;
    std::size_t keyEnd = 0;
    std::unordered_map<std::string, Place> keys;
  };

  std::size_t offsetOf(const YAML::Mark& mark) const;
  void refuse(std::size_t begin, std::size_t end, std::string message, std::string hint = "");
  void refuseTag(std::size_t begin, const std::string& tag);
  void open(Node::Kind kind, const YAML::Mark& mark, const std::string& tag,
            YAML::EmitterStyle::value style);
  void close();
  void deliver(Node node);
  void takeKey(Frame& frame, const Node& key);
  void takeUsableKey(Frame& frame, const Node& key);
  Node nullAt(std::size_t begin);
  void placeMissingValue(Node& node, const Frame& frame);
  std::string path() const;

  std::string_view text_;
  const Lines& lines_;
  std::vector<Frame> frames_;
  std::vector<Finding> findings_;
  Node root_;
  std::size_t reached_ = 0;
  std::optional<std::size_t> lastQuote_;
  bool hasDocument_ = false;
};

}  // namespace nightbank::scenario
