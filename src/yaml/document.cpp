#include "yaml/document.h"

#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/parser.h>

#include <algorithm>
#include <array>
#include <map>
#include <sstream>

#include "base/text.h"
#include "base/unseen.h"
#include "yaml/tree.h"

namespace pommel::yaml {

namespace {

constexpr int kMostProblems = 100;  // a file of aliases must not make a file of messages

struct Stop {};  // leaves the library's parser; caught in read()

/// Builds the tree from the library's events. The library calls itself once a level; the builder stops it at kMaxDepth.
class Builder : public YAML::EventHandler {
 public:
  Builder(Tree& tree, Sink& sink) : tree_(tree), sink_(sink) {}

  bool has_root() const { return root_.has_value(); }
  std::size_t root() const { return *root_; }
  void report(std::size_t offset, std::size_t size, std::string id, std::string message, std::string remedy);
  std::size_t offset_of(const YAML::Mark& mark) const {
    return mark.pos < 0 ? tree_.text.size() : std::min(static_cast<std::size_t>(mark.pos), tree_.text.size());
  }

  void OnDocumentStart(const YAML::Mark& mark) override;
  void OnDocumentEnd() override {}
  void OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) override;
  void OnAlias(const YAML::Mark& mark, YAML::anchor_t anchor) override;
  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                const std::string& value) override;
  void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                       YAML::EmitterStyle::value) override {
    open(mark, tag, anchor, Kind::list);
  }
  void OnSequenceEnd() override { close(); }
  void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                  YAML::EmitterStyle::value) override {
    open(mark, tag, anchor, Kind::map);
  }
  void OnMapEnd() override { close(); }

 private:
  struct Level {
    std::uint32_t item;
    std::optional<std::uint32_t> key;  // of a map: waits for its value
    bool drop_value = false;           // the waiting key was refused
    std::map<std::string, int> lines;  // of a map: where each key stands
  };

  std::uint32_t add(Item item);
  void attach(std::uint32_t index);
  void take_key(Level& level, std::uint32_t index);
  void open(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor, Kind kind);
  void close();
  void check(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor);
  void locate(Item& item);
  void take_out_hidden(Item& item);

  Tree& tree_;
  Sink& sink_;
  std::vector<Level> levels_;
  std::optional<std::size_t> root_;
  int problems_ = 0, documents_ = 0;
  std::size_t last_offset_ = 0;  // events come in the order of the file: columns are counted on from the last
  int last_line_ = 1, last_column_ = 1;
};

void Builder::locate(Item& item) {
  const std::size_t offset = item.offset;
  const auto after = std::upper_bound(tree_.line_starts.begin(), tree_.line_starts.end(), offset);
  const int line = static_cast<int>(after - tree_.line_starts.begin());
  if (line != last_line_ || offset < last_offset_) {
    last_offset_ = *(after - 1);
    last_column_ = 1;
  }
  last_column_ += character_count(std::string_view(tree_.text).substr(last_offset_, offset - last_offset_));
  last_offset_ = offset;
  last_line_ = line;
  item.line = last_line_;
  item.column = last_column_;
}

void Builder::report(std::size_t offset, std::size_t size, std::string id, std::string message, std::string remedy) {
  Item here;
  here.offset = offset;
  locate(here);
  Diagnostic what;
  what.id = std::move(id);
  what.message = std::move(message);
  what.remedy = std::move(remedy);
  what.place = {tree_.file, here.line, here.column};
  what.read = tree_.text.substr(offset, std::min<std::size_t>(size, 200));
  what.source_line = tree_.line_text(here.line);
  sink_.add(std::move(what));
  if (++problems_ >= kMostProblems) throw Stop();
}

void Builder::check(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor) {
  if (anchor != 0) {
    report(offset_of(mark), 1, "yaml.anchor", "anchors and aliases (& and *) are not used here",
           "write the value out in each place");
  }
  if (!tag.empty() && tag != "?" && tag != "!") {
    report(offset_of(mark), 1, "yaml.tag", "tags (!) are not used here", "take it out");
  }
}

std::uint32_t Builder::add(Item item) {
  if (tree_.items.size() >= static_cast<std::size_t>(kMaxNodes)) {
    report(item.offset, 1, "yaml.too-many", "this file has more than " + std::to_string(kMaxNodes) + " entries",
           "split it, or check that it is the right file");
    throw Stop();
  }
  locate(item);
  tree_.items.push_back(std::move(item));
  return static_cast<std::uint32_t>(tree_.items.size() - 1);
}

void Builder::take_key(Level& level, std::uint32_t index) {
  const Item& key = tree_.items[index];
  level.key = index;
  level.drop_value = true;
  if (key.kind != Kind::scalar || key.nothing) {
    report(key.offset, 1, "yaml.key-kind", "a key must be a word, not a list, a map or nothing",
           "write it as 'word: value'");
    return;
  }
  if (key.text == "<<" && !key.quoted) {
    report(key.offset, 2, "yaml.merge-key", "merge keys (<<) are not used here", "write the entries out");
    return;
  }
  const auto [first, fresh] = level.lines.emplace(key.text, key.line);
  level.drop_value = !fresh;
  if (!fresh) {
    const std::size_t end = end_of(tree_, key).value_or(key.offset + 1);
    report(key.offset, end - key.offset, "yaml.doubled-key",
           in_quotes(key.text) + " stands here twice: first in line " + std::to_string(first->second),
           "keep one of them");
  }
}

void Builder::attach(std::uint32_t index) {
  if (levels_.empty()) {
    root_ = index;
    return;
  }
  Level& level = levels_.back();
  Item& parent = tree_.items[level.item];
  if (parent.kind == Kind::list) {
    parent.children.push_back(index);
  } else if (!level.key) {
    take_key(level, index);
  } else {
    if (!level.drop_value) parent.children.insert(parent.children.end(), {*level.key, index});
    level.key.reset();
  }
}

void Builder::open(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor, Kind kind) {
  check(mark, tag, anchor);
  Item item;
  item.kind = kind;
  item.offset = offset_of(mark);
  if (levels_.size() >= static_cast<std::size_t>(kMaxDepth)) {
    report(item.offset, 1, "yaml.too-deep", "this is nested more than " + std::to_string(kMaxDepth) + " levels deep",
           "write it flatter");
    throw Stop();
  }
  levels_.push_back({add(std::move(item)), std::nullopt, false, {}});
}

void Builder::close() {
  const std::uint32_t index = levels_.back().item;
  levels_.pop_back();
  attach(index);
}

void Builder::OnDocumentStart(const YAML::Mark& mark) {
  if (++documents_ < 2) return;
  if (!std::string_view(tree_.text).substr(offset_of(mark)).starts_with("---")) {
    // the library begins a document of its own with whatever does not continue the first
    report(offset_of(mark), 1, "yaml.syntax", "this line does not belong to what stands above it",
           "give the entries of one group the same indent, or close what is open above");
    throw Stop();
  }
  report(offset_of(mark), 3, "yaml.documents", "a second document begins here; a file holds one",
         "take out the line '---', or make two files");
  throw Stop();
}

void Builder::OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) {
  check(mark, {}, anchor);
  Item item;
  item.nothing = true;
  item.offset = offset_of(mark);
  const std::string_view here = std::string_view(tree_.text).substr(item.offset);
  item.written = here.starts_with('~') || lowered(here.substr(0, 4)) == "null";
  if (!item.written) {
    // the mark is that of whatever comes next; the key, or the dash before it, is what the maker looks for
    const bool has_key = !levels_.empty() && levels_.back().key;
    const std::size_t before =
        item.offset == 0 ? std::string::npos : tree_.text.find_last_not_of(" \r\n", item.offset - 1);
    if (has_key)
      item.offset = tree_.items[*levels_.back().key].offset;
    else if (before != std::string::npos)
      item.offset = before;
  }
  attach(add(std::move(item)));
}

void Builder::OnAlias(const YAML::Mark& mark, YAML::anchor_t anchor) {
  check(mark, {}, anchor);
  Item item;
  item.nothing = true;
  item.written = false;
  item.offset = offset_of(mark);
  attach(add(std::move(item)));
}

// What double quotes write with a backslash has not been seen in the bytes: "\x1B", "\u202E". Ends of lines and tabs are a text's own.
void Builder::take_out_hidden(Item& item) {
  const bool control = std::any_of(item.text.begin(), item.text.end(), [](char c) { return (static_cast<unsigned char>(c) < 0x20 && c != '\n' && c != '\t') || c == 0x7F; });
  const Unseen unseen = first_unseen(item.text);
  if (!control && unseen.size == 0) return;
  if (item.offset < tree_.text.size() && tree_.text[item.offset] == '"') {
    report(item.offset, 1, "yaml.control", control ? "an escape in this text is a control character" : "an escape in this text is a character that nobody sees, " + unseen.name,
           "write the text without it");
  }
  item.text = printable(item.text);
}

void Builder::OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                       const std::string& value) {
  check(mark, tag, anchor);
  Item item;
  item.text = value;
  item.offset = offset_of(mark);
  const char first = item.offset < tree_.text.size() ? tree_.text[item.offset] : ' ';
  take_out_hidden(item);
  item.quoted = tag == "!" && (first == '"' || first == '\'' || first == '|' || first == '>');
  if (tag == "!" && !item.quoted) check(mark, "!tag", 0);
  const bool in_quotes_here = item.quoted && (first == '"' || first == '\'');
  if (in_quotes_here && !end_of(tree_, item)) {  // the library is content with the end of the file
    report(item.offset, 1, "yaml.syntax", "a quoted text is not closed", "add the closing quote");
  }
  attach(add(std::move(item)));
}

// The library's messages in bench words; the rest say that the line cannot be read.
struct Wording {
  const char* library;
  const char* message;
  const char* remedy;
};
constexpr const char* kClose = "close it, and check the lines before";
const std::array kWordings = {
    Wording{YAML::ErrorMsg::END_OF_MAP, "this line does not fit into the entries above it",
            "give the entries of one group the same indent, each as 'word: value'"},
    Wording{YAML::ErrorMsg::END_OF_SEQ, "this line does not fit into the list above it",
            "give the items of a list the same indent, each beginning with '- '"},
    Wording{YAML::ErrorMsg::END_OF_MAP_FLOW, "a group in { } is not closed, or a comma is missing in it", kClose},
    Wording{YAML::ErrorMsg::END_OF_SEQ_FLOW, "a list in [ ] is not closed, or a comma is missing in it", kClose},
    Wording{YAML::ErrorMsg::FLOW_END, "this bracket closes nothing", "take it out, or put the text in quotes"},
    Wording{YAML::ErrorMsg::EOF_IN_SCALAR, "a quoted text is not closed", "add the closing quote"},
    Wording{YAML::ErrorMsg::DOC_IN_SCALAR, "a quoted text is not closed", "add the closing quote"},
    Wording{YAML::ErrorMsg::BLOCK_ENTRY, "a list item cannot begin here", "put '- ' on a line of its own indent"},
    Wording{YAML::ErrorMsg::MAP_KEY, "a key cannot begin here", "put it on a line of its own"},
    Wording{YAML::ErrorMsg::UNKNOWN_TOKEN, "a text cannot begin with this sign", "put the text in quotes"},
};

// A colon that begins no value: either the second in its line, or the first after a line that was not finished.
void report_colon(const Tree& tree, Builder& builder, std::size_t offset) {
  const std::size_t line_end = offset == 0 ? std::string::npos : tree.text.rfind('\n', offset - 1);
  const std::size_t begin = line_end == std::string::npos ? 0 : line_end + 1;
  if (std::string_view(tree.text).substr(begin, offset - begin).find(": ") != std::string_view::npos) {
    builder.report(offset, 1, "yaml.syntax", "a second ': ' stands in this line",
                   "put the text in quotes, or the entry on a line of its own");
  } else {
    builder.report(offset, 1, "yaml.syntax", "this entry does not follow from the line above it",
                   "look there for a missing colon, or give both lines the same indent");
  }
}

void report_syntax(const Tree& tree, Builder& builder, const YAML::ParserException& error) {
  std::size_t offset = builder.offset_of(error.mark);
  if (tree.text.find_first_not_of(" \r\n", offset) == std::string::npos) {
    // at the end of the file there is nothing to show: point at the last sign
    offset = std::min(offset, tree.text.find_last_not_of(" \r\n"));
    while (offset > 0 && (static_cast<unsigned char>(tree.text[offset]) & 0xC0) == 0x80) --offset;  // of more bytes than one
  }
  if (error.msg == YAML::ErrorMsg::MAP_VALUE) return report_colon(tree, builder, offset);
  if (error.msg.starts_with(YAML::ErrorMsg::UNKNOWN_ANCHOR) || error.msg.starts_with(YAML::ErrorMsg::ALIAS_NOT_FOUND) ||
      error.msg.starts_with(YAML::ErrorMsg::ANCHOR_NOT_FOUND) || error.msg.starts_with(YAML::ErrorMsg::CHAR_IN_ALIAS) ||
      error.msg.starts_with(YAML::ErrorMsg::CHAR_IN_ANCHOR)) {
    builder.report(offset, 1, "yaml.anchor", "anchors and aliases (& and *) are not used here",
                   "put the text in quotes, or write the value out in each place");
    return;
  }
  if (error.msg.starts_with(YAML::ErrorMsg::INVALID_ESCAPE) || error.msg.starts_with(YAML::ErrorMsg::INVALID_HEX) ||
      error.msg.starts_with(YAML::ErrorMsg::INVALID_UNICODE)) {
    builder.report(offset, 1, "yaml.syntax", "a backslash in double quotes begins a special sign, and this is none",
                   "write the text in single quotes");
    return;
  }
  for (const Wording& one : kWordings) {
    if (error.msg != one.library) continue;
    builder.report(offset, 1, "yaml.syntax", one.message, one.remedy);
    return;
  }
  builder.report(offset, 1, "yaml.syntax", "this cannot be read as an entry, a list item or a text",
                 "check indents, colons, brackets and quotes here and in the line before");
}

// What is looked for in the bytes before the library sees them. False when it must not.
bool is_readable(const Tree& tree, Builder& builder) {
  const std::string& text = tree.text;
  if (!is_utf8(text)) {
    std::size_t good = 0;  // the longest well-formed beginning, by halving
    for (std::size_t step = text.size(); step > 0; step /= 2) {
      while (good + step <= text.size()) {
        std::size_t end = good + step;
        while (end < text.size() && (static_cast<unsigned char>(text[end]) & 0xC0) == 0x80) ++end;
        if (!is_utf8(std::string_view(text).substr(good, end - good))) break;
        good = end;
      }
    }
    builder.report(good, 1, "yaml.not-utf8", "this file is not UTF-8 text", "save it as UTF-8 in your editor");
    return false;
  }
  bool good = true;
  std::size_t tab_line = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto c = static_cast<unsigned char>(text[i]);
    if ((c >= 0x20 && c != 0x7F) || c == '\n' || (c == '\r' && i + 1 < text.size() && text[i + 1] == '\n')) continue;
    if (c != '\t') {
      builder.report(i, 1, "yaml.control", "there is a control character here", "delete it; text files have none");
      return false;
    }
    const auto line = static_cast<std::size_t>(std::upper_bound(tree.line_starts.begin(), tree.line_starts.end(), i) -
                                               tree.line_starts.begin());
    if (line == tab_line) continue;
    tab_line = line;
    good = false;
    builder.report(i, 1, "yaml.tab", "there is a tab here",
                   "use blanks; most editors can be told to write them for the tab key");
  }
  constexpr int kMostUnseen = 20;
  Unseen unseen = first_unseen(text);
  for (int i = 0; unseen.size > 0 && i < kMostUnseen; ++i) {
    builder.report(unseen.at, unseen.size, "yaml.unseen", "a character that nobody sees stands here, " + unseen.name, "delete it, and type the word again; it may have been copied in with the text");
    unseen = first_unseen(text, unseen.at + unseen.size);
    good = false;
  }
  return good;
}

void parse(const Tree& tree, Builder& builder) {
  std::istringstream stream(tree.text);
  try {
    YAML::Parser parser(stream);
    while (parser.HandleNextDocument(builder)) {
    }
  } catch (const YAML::ParserException& error) {
    report_syntax(tree, builder, error);
    throw Stop();
  }
}

}  // namespace

std::optional<Node> read(std::string_view text, const std::string& file, Sink& sink) {
  if (text.size() > kMaxBytes) {
    sink.add(fail("yaml.too-large", "this file is larger than 1 MiB", "split it, or check that it is the right file",
                  {file, 0, 0})
                 .reasons);
    return std::nullopt;
  }
  if (text.starts_with("\xEF\xBB\xBF"))
    text.remove_prefix(3);  // the library leaves a byte order mark out of its positions
  const auto tree = std::make_shared<Tree>();
  tree->file = file;
  tree->text = text;
  tree->line_starts.push_back(0);
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '\n') tree->line_starts.push_back(i + 1);
  }
  Builder builder(*tree, sink);
  try {
    if (!is_readable(*tree, builder)) return std::nullopt;
    parse(*tree, builder);
    if (!builder.has_root()) {
      sink.add(fail("yaml.empty", "there is nothing in this file", {}, {file, 0, 0}).reasons);
      return std::nullopt;
    }
    return Node(tree, builder.root());
  } catch (const Stop&) {
  } catch (const std::exception&) {
    sink.add(fail("yaml.syntax", "this file cannot be read as YAML", "check indents, colons, brackets and quotes",
                  {file, 0, 0})
                 .reasons);
  }
  return std::nullopt;
}

std::optional<Node> read_file(const FileSystem& files, const std::filesystem::path& path, Sink& sink) {
  const auto text = files.read(path, kMaxBytes + 3);
  if (!text) {
    sink.add(text.reasons());
    return std::nullopt;
  }
  return read(*text, path.generic_string(), sink);
}

}  // namespace pommel::yaml
