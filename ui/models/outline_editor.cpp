#include "ui/models/outline_editor.h"

#include <QCoreApplication>
#include <bit>

#include "family/names.h"
#include "family/outline_text.h"

namespace pommel::ui {
namespace {

using shape::ElementKind;
using shape::ElementSpec;

ElementSpec spec(ElementKind kind, double length) {
  ElementSpec out;
  out.kind = kind;
  out.length = length;
  return out;
}

ElementSpec going(ElementKind kind, double length, double end) {
  ElementSpec out = spec(kind, length);
  out.end = end;
  return out;
}

using Specs = std::vector<ElementSpec>;

template <ElementKind kind, int length>
Specs plain(double) {
  return {spec(kind, length)};
}

// Falls to three quarters.
template <ElementKind kind, int length>
Specs falling(double d) {
  return {going(kind, length, 0.75 * d)};
}

Specs torus(double d) {
  ElementSpec out = spec(ElementKind::torus, 12);
  out.greatest = d + 12;
  return {out};
}

Specs swelling(double d) {
  ElementSpec out = going(ElementKind::entasis, 90, 0.8 * d);
  out.greatest = 1.06 * d;
  return {out};
}

Specs vase(double d) {
  ElementSpec out = going(ElementKind::vase, 90, 0.7 * d);
  out.stations = {{0.3, 1.15 * d}, {0.75, 0.75 * d}};
  return {out};
}

Specs ball(double d) {
  ElementSpec out;
  out.kind = ElementKind::ball;
  out.start = d;
  out.greatest = 1.4 * d;
  return {out};
}

// A block left square, with its two shoulders.
Specs block(double) {
  Specs out = {spec(ElementKind::pommel, 8), spec(ElementKind::square, 50), spec(ElementKind::pommel, 8)};
  out.front().cut = out.back().cut = shape::PommelCut::rounded;
  return out;
}

std::string mm(double length) {
  LengthFormat format;
  format.unit = LengthUnit::millimetre, format.decimals = 2;
  return format_length(length, format);
}

// The text with `step: yes` on those of the elements from `first` on that the bits name; nothing where one cannot have it.
std::optional<std::string> with_steps(std::string text, const std::string& file, const std::string& key, std::size_t first, unsigned bits) {
  for (std::size_t i = 0; bits >> i; ++i) {
    if (!(bits >> i & 1u)) continue;
    auto step = family::with_size(text, file, key, first + i, "step", "yes");
    if (!step.ok()) return std::nullopt;
    text = std::move(step).value();
  }
  return text;
}

// Takes the text as a step of the book: as it is, or with as few declared jumps as make a piece, among `near` elements from `first` on.
Result<Done> settle(OrderBook& book, const QString& what, std::size_t column, const std::string& text, const std::string& key, std::size_t first, unsigned near) {
  const std::string file = book.sources().design.file.generic_string();
  const auto as_it_is = book.try_design(text, column);
  if (as_it_is.ok()) return book.write_design(what, text);
  for (int count = 1; count <= static_cast<int>(near); ++count)
    for (unsigned bits = 1; bits < 1u << near; ++bits) {
      if (std::popcount(bits) != count) continue;
      const auto declared = with_steps(text, file, key, first, bits);
      if (declared && book.try_design(*declared, column).ok()) return book.write_design(what, *declared);
    }
  return as_it_is;
}

struct Place {
  std::string text, file, key;
};

Result<Place> place_of_outline(const OrderBook& book, const ElementAt& at) {
  Place out{book.sizes().design, book.sources().design.file.generic_string(), {}};
  out.key = family::outline_key(out.text, out.file, at.piece);
  if (out.key.empty()) return fail("ui.familys-outline", "this design has no outline of its own: it is turned as its family says", "begin from a design that states its outline");
  return out;
}

QString words(const char* text) { return QCoreApplication::translate("palette", text); }

}  // namespace

const std::vector<PaletteShape>& palette_shapes() {
  static const std::vector<PaletteShape> shapes = {
      {QT_TRANSLATE_NOOP("palette", "fillet"), plain<ElementKind::fillet, 4>},
      {QT_TRANSLATE_NOOP("palette", "bead"), plain<ElementKind::bead, 9>},
      {QT_TRANSLATE_NOOP("palette", "torus"), torus},
      {QT_TRANSLATE_NOOP("palette", "cove"), plain<ElementKind::cove, 12>},
      {QT_TRANSLATE_NOOP("palette", "vee"), plain<ElementKind::vee, 4>},
      {QT_TRANSLATE_NOOP("palette", "ovolo"), falling<ElementKind::ovolo, 10>},
      {QT_TRANSLATE_NOOP("palette", "scotia"), falling<ElementKind::scotia, 14>},
      {QT_TRANSLATE_NOOP("palette", "cyma recta"), falling<ElementKind::cyma_recta, 14>},
      {QT_TRANSLATE_NOOP("palette", "cyma reversa"), falling<ElementKind::cyma_reversa, 14>},
      {QT_TRANSLATE_NOOP("palette", "cylinder"), plain<ElementKind::cylinder, 40>},
      {QT_TRANSLATE_NOOP("palette", "taper"), falling<ElementKind::taper, 90>},
      {QT_TRANSLATE_NOOP("palette", "entasis"), swelling},
      {QT_TRANSLATE_NOOP("palette", "vase"), vase},
      {QT_TRANSLATE_NOOP("palette", "ball"), ball},
      {QT_TRANSLATE_NOOP("palette", "square block"), block},
  };
  return shapes;
}

std::string written(const ElementSpec& spec) {
  std::string sizes;
  const auto add = [&](const std::string& key, const std::string& value) { sizes += (sizes.empty() ? "" : ", ") + key + ": " + value; };
  if (spec.length) add("length", mm(*spec.length));
  if (spec.start) add("start", mm(*spec.start));
  if (spec.end) add("end", mm(*spec.end));
  if (spec.greatest) add("greatest", mm(*spec.greatest));
  if (spec.least) add("least", mm(*spec.least));
  if (spec.kind == ElementKind::pommel) add("cut", std::string(shape::word_of(spec.cut)));
  std::string stations;
  for (const shape::Station& one : spec.stations) {
    std::string at = std::to_string(one.at);
    at.erase(at.find_last_not_of('0') + 1);
    stations += (stations.empty() ? "[" : ", [") + at + ", " + mm(one.diameter) + "]";
  }
  if (!stations.empty()) add("through", "[" + stations + "]");
  return std::string(shape::word_of(spec.kind)) + ": {" + sizes + "}";
}

std::optional<std::size_t> outline_index(const OrderBook& book, const std::string& piece, std::size_t marks, std::size_t mark, std::size_t column) {
  const auto& outline = family::outline_of(book.loaded().family, book.loaded().design, piece);
  const std::string of = family::uses_of(book.loaded().family, piece);
  std::vector<std::size_t> there;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const sheet::Value* when = outline[i].sizes.contains(family::kWhen) ? book.sheet().use(family::element_use(of, i, family::kWhen), column) : nullptr;
    if (!when || when->yes()) there.push_back(i);
  }
  if (there.size() != marks || mark >= there.size()) return std::nullopt;
  return there[mark];
}

Result<Done> add_element(OrderBook& book, const ElementAt& at, bool behind, const PaletteShape& shape, double diameter) {
  auto place = place_of_outline(book, at);
  if (!place.ok()) return place.failure();
  const std::size_t first = at.index + (behind ? 1 : 0);
  const auto specs = shape.specs(diameter);
  std::string text = place->text;
  for (std::size_t i = 0; i < specs.size(); ++i) {
    auto with = family::with_element(text, place->file, place->key, first + i, written(specs[i]));
    if (!with.ok()) return with.failure();
    text = std::move(with).value();
  }
  return settle(book, QCoreApplication::translate("palette", "%1 added").arg(words(shape.name)), at.column, text, place->key, first, static_cast<unsigned>(specs.size()) + 1);
}

Result<Done> take_out_element(OrderBook& book, const ElementAt& at) {
  const auto place = place_of_outline(book, at);
  if (!place.ok()) return place.failure();
  const auto without = family::without_element(place->text, place->file, place->key, at.index);
  if (!without.ok()) return without.failure();
  return settle(book, QCoreApplication::translate("palette", "element taken out"), at.column, *without, place->key, at.index, 1);
}

Result<Done> move_element(OrderBook& book, const ElementAt& at, bool towards_foot) {
  const auto place = place_of_outline(book, at);
  if (!place.ok()) return place.failure();
  const std::size_t count = family::outline_of(book.loaded().family, book.loaded().design, at.piece).size();
  if (towards_foot ? at.index + 1 >= count : at.index == 0) return fail("ui.at-end", "there is no element beyond it", "");
  const std::size_t first = towards_foot ? at.index : at.index - 1;
  const auto moved = family::with_elements_swapped(place->text, place->file, place->key, first);
  if (!moved.ok()) return moved.failure();
  return settle(book, QCoreApplication::translate("palette", "element moved"), at.column, *moved, place->key, first, 3);
}

Result<Done> write_size(OrderBook& book, const ElementAt& at, const std::string& size, const std::string& value) {
  const auto place = place_of_outline(book, at);
  if (!place.ok()) return place.failure();
  const auto sized = family::with_size(place->text, place->file, place->key, at.index, size, value);
  if (!sized.ok()) return sized.failure();
  return settle(book, QCoreApplication::translate("palette", "%1 of an element").arg(QString::fromStdString(size)), at.column, *sized, place->key, at.index, 2);
}

}  // namespace pommel::ui
