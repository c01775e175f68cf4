#include "family/treatments.h"

#include <algorithm>
#include <cctype>

#include "base/text.h"
#include "shape/angle.h"
#include "shape/faces.h"
#include "shape/treatments.h"

namespace pommel::family {
namespace {

using sheet::Kind;
using yaml::MapReader;
using yaml::Node;

// What a key holds.
enum class Holds { place, length, angle, count, ratio, choice, face, faces, name, yes_no };

struct Key {
  std::string key;
  Holds holds = Holds::length;
  bool required = false;
  std::vector<std::string> words;
};

struct Work {
  std::string word;
  std::vector<Key> keys;
};

// Whether the entry is done at all; every one may say so.
const Key& when_key() {
  static const Key key{"when", Holds::yes_no, false, {}};
  return key;
}

// from, from_plus, until, until_plus
std::vector<Key> stretch(bool required, std::vector<Key> more) {
  std::vector<Key> keys{{"from", Holds::place, required, {}}, {"from_plus", Holds::length, false, {}}, {"until", Holds::place, required, {}}, {"until_plus", Holds::length, false, {}}};
  keys.insert(keys.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
  return keys;
}

const std::vector<Work>& treatment_words() {
  static const std::vector<Work> all = {
      {"flutes", stretch(true, {{"count", Holds::count, false, {}}, {"spacing", Holds::length, false, {}}, {"width", Holds::length, true, {}}, {"depth", Holds::length, true, {}},
                                {"phase", Holds::angle, false, {}}, {"run_out", Holds::length, false, {}}, {"run_out_head", Holds::length, false, {}}, {"run_out_foot", Holds::length, false, {}},
                                {"ends", Holds::choice, false, shape::run_out_words()}})},
      {"reeds", stretch(true, {{"count", Holds::count, true, {}}, {"depth", Holds::length, true, {}}, {"phase", Holds::angle, false, {}}, {"run_out", Holds::length, false, {}},
                               {"run_out_head", Holds::length, false, {}}, {"run_out_foot", Holds::length, false, {}}, {"ends", Holds::choice, false, shape::run_out_words()}})},
      {"polygon", stretch(true, {{"sides", Holds::count, false, {}}, {"across", Holds::length, true, {}}, {"across_foot", Holds::length, false, {}}, {"stop", Holds::choice, false, shape::stop_words()},
                                 {"stop_head", Holds::choice, false, shape::stop_words()}, {"stop_foot", Holds::choice, false, shape::stop_words()}, {"stop_length", Holds::length, false, {}},
                                 {"stop_length_head", Holds::length, false, {}}, {"stop_length_foot", Holds::length, false, {}}})},
      {"taper", stretch(true, {{"faces", Holds::faces, true, {}}, {"width", Holds::length, true, {}}})},
      {"twist", stretch(true, {{"starts", Holds::count, false, {}}, {"pitch", Holds::length, false, {}}, {"turns", Holds::ratio, false, {}}, {"hand", Holds::choice, false, {"right", "left"}},
                               {"depth", Holds::length, true, {}}, {"fade", Holds::length, false, {}}, {"fade_head", Holds::length, false, {}}, {"fade_foot", Holds::length, false, {}},
                               {"phase", Holds::angle, false, {}}})},
  };
  return all;
}

const std::vector<Work>& joint_words() {
  static const std::vector<Work> all = {
      {"bore", {{"name", Holds::name, true, {}}, {"mate", Holds::name, false, {}}, {"face", Holds::face, true, {}}, {"at", Holds::place, true, {}}, {"at_plus", Holds::length, false, {}},
                {"across", Holds::length, false, {}}, {"diameter", Holds::length, true, {}}, {"depth", Holds::length, false, {}}, {"seat_diameter", Holds::length, false, {}},
                {"seat_depth", Holds::length, false, {}}}},
      {"axial bore", stretch(false, {{"name", Holds::name, true, {}}, {"diameter", Holds::length, true, {}}})},
      {"end cut", {{"end", Holds::choice, true, {"head", "foot"}}, {"at", Holds::place, true, {}}, {"at_plus", Holds::length, false, {}}, {"angle", Holds::angle, false, {}}, {"towards", Holds::face, false, {}}}},
      {"mortise", stretch(true, {{"name", Holds::name, true, {}}, {"mate", Holds::name, false, {}}, {"face", Holds::face, true, {}}, {"across", Holds::length, false, {}}, {"width", Holds::length, true, {}},
                                 {"depth", Holds::length, true, {}}, {"corner_radius", Holds::length, false, {}}, {"haunch_length", Holds::length, false, {}}, {"haunch_depth", Holds::length, false, {}}})},
  };
  return all;
}

Kind kind_of(Holds holds) {
  switch (holds) {
    case Holds::angle: return Kind::angle();
    case Holds::count: return Kind::count();
    case Holds::ratio: return Kind::ratio();
    case Holds::yes_no: return Kind::yes_no();
    default: return Kind::length();
  }
}

const Work* find_work(const std::vector<Work>& all, const std::string& word) {
  const auto found = std::find_if(all.begin(), all.end(), [&](const Work& work) { return work.word == word; });
  return found == all.end() ? nullptr : &*found;
}

// --- reading

// Names begin with a letter and are no measure of anything: "shaft", "lower square". Sizes begin with a digit, a sign, a point or '='.
bool is_name(std::string_view text) {
  return !text.empty() && (std::isalpha(static_cast<unsigned char>(text.front())) != 0 || static_cast<unsigned char>(text.front()) >= 0x80);
}

std::string purpose_of(const Key& key) {
  switch (key.holds) {
    case Holds::place: return "a place: a length from the head, or the name of an element";
    case Holds::face:
    case Holds::faces: return "letters of the faces, as A";
    case Holds::choice: return "one of: " + listed(key.words);
    case Holds::name: return "what it is called";
    case Holds::count: return "how many";
    case Holds::yes_no: return "yes, no, or a formula that says so";
    default: return "its size or formula";
  }
}

bool sound_word(const Key& key, const Node& node, const std::string& text, Sink& sink) {
  if (key.holds == Holds::choice && std::find(key.words.begin(), key.words.end(), text) == key.words.end()) {
    const std::string near = nearest_name(text, key.words);
    sink.add(yaml::at(node, "family.work-word", in_quotes(text) + " is no choice for '" + key.key + "'", near.empty() ? "one of: " + listed(key.words) : "did you mean '" + near + "'?"));
    return false;
  }
  if (key.holds != Holds::face && key.holds != Holds::faces) return true;
  std::string letters = text;
  std::sort(letters.begin(), letters.end());
  const bool one = key.holds == Holds::faces || letters.size() == 1;
  if (!letters.empty() && one && letters.find_first_not_of("ABCD") == letters.npos && std::adjacent_find(letters.begin(), letters.end()) == letters.end()) return true;
  sink.add(yaml::at(node, "family.work-face", in_quotes(text) + (key.holds == Holds::face ? " is no face of a square" : " are no faces of a square"), "use letters of A, B, C, D, each once"));
  return false;
}

void read_key(MapReader& map, const Key& key, WorkText& work, Sink& sink) {
  const auto node = key.required ? map.require(key.key, purpose_of(key)) : map.find(key.key);
  if (!node) return;
  if (!node->is_scalar() || node->nothing()) {
    sink.add(yaml::at(*node, "family.entry", "a value or a formula is needed here", "write " + purpose_of(key)));
    return;
  }
  const sheet::Entry entry{node->text(), node->place_within(0), node->source_line(), node->is_literal()};
  const std::string text(trimmed(entry.text));
  switch (key.holds) {
    case Holds::place:
      (is_name(text) ? work.elements : work.sizes).emplace(key.key, entry);
      break;
    case Holds::choice:
    case Holds::face:
    case Holds::faces:
    case Holds::name:
      if (sound_word(key, *node, text, sink)) work.words.emplace(key.key, sheet::Entry{text, entry.place, entry.source_line, entry.is_literal});
      break;
    default:
      work.sizes.emplace(key.key, entry);
  }
}

void read_work(const Node& node, const std::vector<Work>& known, std::vector<WorkText>& into, Sink& sink) {
  if (!node.is_map() || node.size() != 1) {
    sink.add(yaml::at(node, "family.work", "an entry is one name with its sizes", "write - " + known.front().word + ": {...}"));
    return;
  }
  const std::string word = node.key(0).text();
  const Work* work = find_work(known, word);
  if (!work) {
    std::vector<std::string> words;
    for (const Work& one : known) words.push_back(one.word);
    const std::string near = nearest_name(word, words);
    sink.add(yaml::at(node.key(0), "family.unknown-work", in_quotes(word) + " is nothing that is done to a piece here", near.empty() ? "known: " + listed(words) : "did you mean '" + near + "'?"));
    return;
  }
  WorkText text;
  text.word = word;
  text.place = node.key(0).place();
  text.source_line = node.key(0).source_line();
  MapReader map(node.value(0), "'" + word + "'", sink);
  if (!map.is_map()) return;
  for (const Key& key : work->keys) read_key(map, key, text, sink);
  read_key(map, when_key(), text, sink);
  map.finish();
  into.push_back(std::move(text));
}

std::vector<WorkText> read_list(MapReader& document, const std::string& key, const std::vector<Work>& known, Sink& sink) {
  std::vector<WorkText> out;
  const auto list = document.list(key);
  if (!list) return out;
  if (list->size() > 200) {
    sink.add(yaml::at(*list, "family.work", "a list of " + std::to_string(list->size()) + " entries", "at most 200 are read"));
    return out;
  }
  for (const Node& node : list->items()) read_work(node, known, out, sink);
  return out;
}

// --- uses

std::string use_name(const std::string& of, const char* list, std::size_t i, const std::string& key) {
  return of + list + "/" + std::to_string(i + 1) + "/" + key;
}

std::vector<sheet::Use> uses(const std::string& of, const char* name, const std::vector<Work>& known, const std::vector<WorkText>& list) {
  std::vector<sheet::Use> out;
  for (std::size_t i = 0; i < list.size(); ++i) {
    std::vector<Key> keys = find_work(known, list[i].word)->keys;
    keys.push_back(when_key());
    for (const Key& key : keys) {
      const auto size = list[i].sizes.find(key.key);
      if (size == list[i].sizes.end()) continue;
      sheet::Use use;
      use.name = use_name(of, name, i, key.key);
      use.kind = kind_of(key.holds);
      use.entry = size->second;
      out.push_back(std::move(use));
    }
  }
  return out;
}

// --- making

// One entry with its numbers. `whole` is false once a number that was given could not be had.
class Job {
 public:
  Job(const WorkText& text, std::string prefix, const Numbers& numbers, const shape::Part& part) : text_(text), prefix_(std::move(prefix)), numbers_(numbers), part_(part) {}

  bool whole() const { return whole_; }
  /// Why it is not: a place that is an element left out of this outline, or something that has been told elsewhere.
  Failure unread() const {
    if (!left_out_.empty())
      return fail("family.absent-place", "the " + text_.word + " stands at '" + left_out_ + "', which is left out of this outline", "choose another place, or see what its `when` says");
    return fail("family.work-unread", "the " + text_.word + " cannot be made: a size or a place of it could not be worked out", "mend what is said of it above");
  }
  /// Unless its `when` says no.
  bool wanted() { return number("when", 1) != 0; }
  bool has(const std::string& key) const { return text_.sizes.contains(key) || text_.words.contains(key) || text_.elements.contains(key); }

  double number(const std::string& key, double without = 0) {
    if (!text_.sizes.contains(key)) return without;
    const auto found = numbers_(prefix_ + key);
    if (!found) whole_ = false;
    return found.value_or(without);
  }
  int count(const std::string& key, int without = 0) { return static_cast<int>(std::clamp(number(key, without), -1e6, 1e6)); }

  std::string word(const std::string& key, const std::string& without = {}) const {
    const auto found = text_.words.find(key);
    return found == text_.words.end() ? without : found->second.text;
  }
  std::size_t choice(const std::string& key, const std::vector<std::string>& words, std::size_t without) const {
    const auto found = std::find(words.begin(), words.end(), word(key));
    return found == words.end() ? without : static_cast<std::size_t>(found - words.begin());
  }
  double direction(const std::string& key) const { return word(key, "A").front() == 'A' ? 0 : (word(key).front() - 'A') * shape::kQuarterTurn; }

  /// The place of `from`, `until` or `at`, with what is added to it; `without` where it is not given.
  double place(const std::string& key, double without) {
    double x = number(key, without);
    if (const auto named = text_.elements.find(key); named != text_.elements.end()) x = place_of(key, std::string(trimmed(named->second.text)));
    return x + number(key + "_plus");
  }

 private:
  double place_of(const std::string& key, const std::string& label) {
    for (const shape::ElementMark& mark : part_.elements) {
      if (mark.label != label) continue;
      return key == "from" ? mark.x0 : key == "until" ? mark.x1 : (mark.x0 + mark.x1) / 2;
    }
    if (label == "head") return 0;
    if (label == "foot") return part_.length;
    left_out_ = label;  // check_places has said so where no outline has it; else its `when` says no
    whole_ = false;
    return 0;
  }

  const WorkText& text_;
  std::string prefix_;
  const Numbers& numbers_;
  const shape::Part& part_;
  bool whole_ = true;
  std::string left_out_;
};

// `run_out` holds for both ends, `run_out_head` for one.
double at_end(Job& job, const std::string& key, const char* end, double without = 0) {
  return job.number(key + end, job.number(key, without));
}

Result<shape::Part> cut(const WorkText& text, Job& job, const shape::Part& part) {
  const double x0 = job.place("from", 0), x1 = job.place("until", part.length);
  const auto ends = static_cast<shape::RunOut>(job.choice("ends", shape::run_out_words(), 0));
  if (text.word == "flutes") {
    const shape::FluteWish wish{x0, x1, job.count("count"), job.number("spacing"), job.number("width"), job.number("depth"), job.number("phase"), at_end(job, "run_out", "_head"), at_end(job, "run_out", "_foot"), ends};
    return job.whole() ? shape::fluted(part, wish) : Result<shape::Part>(job.unread());
  }
  if (text.word == "reeds") {
    const shape::ReedWish wish{x0, x1, job.count("count"), job.number("depth"), job.number("phase"), at_end(job, "run_out", "_head"), at_end(job, "run_out", "_foot"), ends};
    return job.whole() ? shape::reeded(part, wish) : Result<shape::Part>(job.unread());
  }
  if (text.word == "twist") {
    const shape::TwistWish wish{x0, x1, job.count("starts", 2), job.number("pitch"), job.number("turns"), job.word("hand", "right") == "right", job.number("depth"), at_end(job, "fade", "_head"), at_end(job, "fade", "_foot"), job.number("phase")};
    return job.whole() ? shape::twisted(part, wish) : Result<shape::Part>(job.unread());
  }
  if (text.word == "polygon") {
    const std::size_t both = job.choice("stop", shape::stop_words(), static_cast<std::size_t>(shape::Stop::ogee));
    shape::PolygonWish wish{x0, x1, job.count("sides", 8), job.number("across"), job.number("across_foot", job.number("across")), static_cast<shape::Stop>(job.choice("stop_head", shape::stop_words(), both)),
                            static_cast<shape::Stop>(job.choice("stop_foot", shape::stop_words(), both)), at_end(job, "stop_length", "_head"), at_end(job, "stop_length", "_foot")};
    if (wish.stop0 == shape::Stop::none) wish.length0 = 0;
    if (wish.stop1 == shape::Stop::none) wish.length1 = 0;
    return job.whole() ? shape::polygoned(part, wish) : Result<shape::Part>(job.unread());
  }
  shape::FaceTaper taper;
  for (char letter : job.word("faces")) taper.faces.push_back(static_cast<std::size_t>(letter - 'A'));
  taper.x0 = x0;
  taper.x1 = x1;
  taper.d1 = job.number("width") / 2;
  if (!job.whole()) return job.unread();
  auto faces = shape::tapered(part.faces, taper);
  if (!faces.ok()) return faces.failure();
  shape::Part made = part;
  made.faces = std::move(faces).value();
  if (auto wrong = shape::problems(made); !wrong.empty()) return Failure(std::move(wrong));
  return made;
}

Result<shape::Part> joint(const WorkText& text, Job& job, const shape::Part& part) {
  shape::Part made = part;
  if (text.word == "bore") {
    // without a depth it goes right through
    made.bores.push_back({job.word("name"), job.word("mate"), job.direction("face"), job.place("at", 0), job.number("across"), job.number("diameter"), job.number("depth", 4 * shape::reach(part)), job.number("seat_diameter"), job.number("seat_depth")});
  } else if (text.word == "axial bore") {
    made.axial_bores.push_back({job.word("name"), job.number("diameter"), job.place("from", 0), job.place("until", part.length)});
  } else if (text.word == "end cut") {
    made.end_cuts.push_back({job.word("end") == "head", job.place("at", 0), job.number("angle"), job.direction("towards")});
  } else {
    const double across = job.number("across"), half = job.number("width") / 2;
    made.mortises.push_back({job.word("name"), job.word("mate"), job.direction("face"), job.place("from", 0), job.place("until", part.length), across - half, across + half, job.number("depth"), job.number("corner_radius"),
                             job.number("haunch_length"), job.number("haunch_depth")});
  }
  if (!job.whole()) return job.unread();
  if (auto wrong = shape::problems(made); !wrong.empty()) return Failure(std::move(wrong));
  return made;
}

template <class Make>
Result<shape::Part> with_list(shape::Part part, const std::string& of, const char* name, const std::vector<WorkText>& list, const Numbers& numbers, const Make& make) {
  Failure failure;
  for (std::size_t i = 0; i < list.size(); ++i) {
    Job job(list[i], use_name(of, name, i, ""), numbers, part);
    if (!job.wanted()) continue;
    auto made = make(list[i], job, part);
    if (made.ok()) {
      part = std::move(made).value();
      continue;
    }
    Diagnostic reason = made.reasons().front();
    reason.place = list[i].place;
    reason.read = list[i].word;
    reason.source_line = list[i].source_line;
    failure.reasons.push_back(std::move(reason));
  }
  if (!failure.reasons.empty()) return failure;
  return part;
}

}  // namespace

std::vector<WorkText> read_treatments(MapReader& document, const std::string& key, Sink& sink) {
  return read_list(document, key, treatment_words(), sink);
}

std::vector<WorkText> read_joints(MapReader& document, const std::string& key, Sink& sink) {
  return read_list(document, key, joint_words(), sink);
}

std::vector<sheet::Use> treatment_uses(const std::string& of, const std::vector<WorkText>& treatments) {
  return uses(of, "treatment", treatment_words(), treatments);
}

std::vector<sheet::Use> joint_uses(const std::string& of, const std::vector<WorkText>& joints) {
  return uses(of, "joint", joint_words(), joints);
}

void check_places(const std::vector<WorkText>& list, const std::vector<std::string>& labels, Sink& sink) {
  std::vector<std::string> known = labels;
  known.insert(known.end(), {"head", "foot"});
  std::erase(known, "");
  for (const WorkText& work : list) {
    for (const auto& [key, entry] : work.elements) {
      const std::string label(trimmed(entry.text));
      if (std::find(known.begin(), known.end(), label) != known.end()) continue;
      const std::string near = nearest_name(label, known);
      Diagnostic out = fail("family.unknown-place", in_quotes(label) + " is no element of the outline that has a name", near.empty() ? "known: " + listed(known) + "; a formula begins with '='" : "did you mean '" + near + "'?", entry.place).reasons.front();
      out.read = label;
      out.source_line = entry.source_line;
      sink.add(std::move(out));
    }
  }
}

Result<shape::Part> with_treatments(shape::Part part, const std::string& of, const std::vector<WorkText>& treatments, const Numbers& numbers) {
  return with_list(std::move(part), of, "treatment", treatments, numbers, cut);
}

Result<shape::Part> with_joints(shape::Part part, const std::string& of, const std::vector<WorkText>& joints, const Numbers& numbers) {
  return with_list(std::move(part), of, "joint", joints, numbers, joint);
}

}  // namespace pommel::family
