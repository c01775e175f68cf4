// What the tool says when something is wrong, and where.
//
// A Diagnostic is a value: a stable id for tests and scripts ("sheet.cycle"), a sentence for the maker, what to do
// about it, the place in the maker's file and the text that stood there. Readers take a Sink and go on after each
// problem, so that one run reports all of them; everything else returns Result<T> (base/result.h).
//
// Thread rule: values are free to cross threads; a Sink belongs to one thread at a time.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace pommel {

/// A position in a file. Lines and columns count from 1; 0 means "not known". Columns count characters of UTF-8 text.
struct Place {
  std::string file;
  int line = 0;
  int column = 0;

  bool operator==(const Place&) const = default;
};

enum class Severity { note, warning, error };

struct Diagnostic {
  Severity severity = Severity::error;
  std::string id;       ///< stable, "room.what": "yaml.unknown-key"
  std::string message;  ///< one sentence, plain bench words, no full stop
  std::string remedy;   ///< what to do; may be empty where the message says it
  Place place;
  std::string read;         ///< the offending text as it was read; drives the length of the caret
  std::string source_line;  ///< the whole line it stood in, for the caret; may be empty

  bool operator==(const Diagnostic&) const = default;
};

/// Collects what a reader finds. Order is the order of finding.
class Sink {
 public:
  /// Message and remedy become printable: words of the maker's file stand in them, and every screen, page and log shows them in one line.
  void add(Diagnostic found);
  void add(const std::vector<Diagnostic>& found);

  const std::vector<Diagnostic>& all() const { return found_; }
  bool has_errors() const;

 private:
  std::vector<Diagnostic> found_;
};

/// The text shown on a terminal, ending in a newline:
///
///     order.yaml:12:3: error: 'heigth' is no measure of this family [family.unknown-measure]
///        12 |   heigth: 760 mm
///           |   ^~~~~~
///        do: did you mean 'height'?
///
/// Without a place the first line starts at the severity; without source_line there is no caret; without remedy no
/// "do:" line; a source line whose number is not known has an empty gutter. Control characters are shown as spaces. Of a
/// source line over 120 characters the stretch around the column is shown, with "..." where something is left out.
std::string render(const Diagnostic& what);
std::string render(const std::vector<Diagnostic>& what);

}  // namespace pommel
