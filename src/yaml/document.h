// A YAML document as an immutable tree of places and texts. This room is the only one that knows the YAML library.
//
// Of YAML 1.2 we use lists, maps with text keys, and scalars; block or flow style, quoted or not. Everything a maker
// could trip over is refused with a reason: anchors and aliases, merge keys, tags, tabs, doubled keys, several
// documents in a file. Limits: 1 MiB, 40 levels, 100,000 nodes.
//
// A Node is a light handle on the shared tree: copy it freely; it keeps the tree alive. No scalar is interpreted here:
// `yes` and `3` are texts until a reader asks (yaml/map_reader.h).
//
// Thread rule: the tree never changes; nodes may be used from any thread.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "base/files.h"
#include "base/result.h"

namespace pommel::yaml {

inline constexpr std::size_t kMaxBytes = 1u << 20;
inline constexpr int kMaxDepth = 40;
inline constexpr int kMaxNodes = 100'000;

enum class Kind { scalar, list, map };

struct Tree;  // yaml/tree.h, for this room only

class Node {
 public:
  Node(std::shared_ptr<const Tree> tree, std::size_t index) : tree_(std::move(tree)), index_(index) {}

  Kind kind() const;
  bool is_scalar() const { return kind() == Kind::scalar; }
  bool is_list() const { return kind() == Kind::list; }
  bool is_map() const { return kind() == Kind::map; }

  /// The scalar's text, escapes and folding undone; empty for lists and maps and where nothing (or `~`, `null`) is
  /// written.
  const std::string& text() const;
  /// Written in single or double quotes or as a block (| or >): never to be taken for a formula or a number by mistake.
  bool quoted() const;
  /// True for a scalar whose place was left empty, as in `height:`, or says `~` or `null`.
  bool nothing() const;

  /// Where it begins; of a place left empty, its key.
  Place place() const;
  /// The whole line it begins in, for a caret; empty for lines over 2,000 bytes.
  std::string source_line() const;
  /// As it stands in the file, quotes included, at most 200 bytes; empty for lists, maps and blocks.
  std::string as_written() const;
  /// Whether text() stands in one line of the file as it is.
  bool is_literal() const;
  /// Place of the `index`-th byte of text() where it is_literal(); otherwise place().
  Place place_within(std::size_t index) const;

  /// Items of a list or entries of a map; 0 for scalars.
  std::size_t size() const;
  /// REQUIRES: is_list() and i < size().
  Node item(std::size_t i) const;
  std::vector<Node> items() const;
  /// REQUIRES: is_map() and i < size(). Entries are in the order of the file; keys are scalars.
  Node key(std::size_t i) const;
  Node value(std::size_t i) const;
  std::optional<Node> find(std::string_view key) const;

  /// The whole file as it was read.
  const std::string& document_text() const;

 private:
  friend Result<std::string> patched(std::string_view, const Node&, std::string_view);

  std::shared_ptr<const Tree> tree_;
  std::size_t index_;
};

/// Reads a text into a tree. All problems go to `sink`; `file` is how places name it. A tree is returned whenever its
/// structure could be read, even when problems were found (a doubled key, an alias read as an empty scalar), so that a
/// reader can go on and report more; what was read is to be used only when the sink has no errors. Ids: yaml.too-large,
/// .not-utf8, .control, .tab, .empty, .syntax, .too-deep, .too-many, .anchor, .merge-key, .tag, .key-kind,
/// .doubled-key, .documents.
std::optional<Node> read(std::string_view text, const std::string& file, Sink& sink);

/// The same for a file; one that cannot be read is reported, too.
std::optional<Node> read_file(const FileSystem& files, const std::filesystem::path& path, Sink& sink);

/// A diagnostic at a node: with its place, its text as written and its line.
Diagnostic at(const Node& node, std::string id, std::string message, std::string remedy = {},
              Severity severity = Severity::error);

}  // namespace pommel::yaml
