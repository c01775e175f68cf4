// A column of the sheet, computed into things: sizes become elements, elements an outline, the outline a piece, and the pieces
// with the frame's measures a jointed set.
#include <algorithm>

#include "base/text.h"
#include "family/fields.h"
#include "family/names.h"
#include "shape/faces.h"

namespace pommel::family {
namespace {

// Reads the uses of one column; what is missing or failed is collected, and its value stays as it was.
class Column {
 public:
  Column(const sheet::Sheet& book, std::size_t column) : book_(book), column_(column) {}

  std::optional<sheet::Value> value(const std::string& use) {
    auto found = book_.need_use(use, column_);
    if (found.ok()) return std::move(found).value();
    // a use that no file gives is an optional one that stays at its default
    for (const Diagnostic& reason : found.reasons())
      if (reason.id != "sheet.unknown-name") failure_.reasons.push_back(reason);
    return std::nullopt;
  }

  /// Of yes or no 1 or 0.
  std::optional<double> number(const std::string& use) {
    const auto found = value(use);
    if (!found) return std::nullopt;
    if (found->kind() == sheet::Kind::yes_no()) return found->yes() ? 1 : 0;
    return found->number();
  }

  /// Whether an element is there: unless its `when` says no.
  bool there(const std::string& of, std::size_t i, const ElementText& text) { return says(of, i, text, kWhen, true); }
  /// Whether its piece is divided at its foot.
  bool divides(const std::string& of, std::size_t i, const ElementText& text) { return says(of, i, text, kDivide, false); }

  void object(Diagnostic reason) { failure_.reasons.push_back(std::move(reason)); }
  const Failure& failure() const { return failure_; }

 private:
  bool says(const std::string& of, std::size_t i, const ElementText& text, const char* key, bool without) {
    if (!text.sizes.contains(key)) return without;
    const auto said = value(element_use(of, i, key));
    return said ? said->yes() : without;
  }

  const sheet::Sheet& book_;
  std::size_t column_;
  Failure failure_;
};

template <class Target>
void set(Column& column, const Field<Target>& field, const std::string& use, Target& target) {
  const auto value = column.value(use);
  if (!value || field.set(target, *value)) return;
  const Failure failure = fail("family.unknown-word", "'" + value->words() + "' is no choice for '" + field.key + "'",
                               "one of: " + listed(field.words));
  column.object(failure.reasons.front());
}

frame::Frame frame_of(Column& column, const Family& family) {
  const FrameKeys& keys = keys_of(family.stands_in);
  frame::Frame frame = keys.fresh;
  const auto given = [&](const std::string& name) {
    return std::any_of(family.frame.begin(), family.frame.end(), [&](const sheet::Use& use) { return use.name == name; });
  };
  for (const FrameBlock& block : keys.blocks)
    for (const Field<frame::Frame>& field : block.fields)
      if (const std::string use = family.stands_in + "/" + block.key + "/" + field.key; given(use)) set(column, field, use, frame);
  for (const Field<frame::Frame>& field : keys.fields) set(column, field, family.stands_in + "/" + field.key, frame);
  return frame;
}

BlankMeasures blank_of(Column& column, const std::string& piece) {
  BlankMeasures blank;
  for (const std::string& key : {std::string("blank"), of_piece("blank", piece)})
    for (const Field<BlankMeasures>& field : blank_fields()) set(column, field, key + "/" + field.key, blank);
  return blank;
}

std::vector<shape::ElementSpec> specs_of(Column& column, const std::string& of, const std::vector<ElementText>& outline) {
  std::vector<shape::ElementSpec> specs;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const ElementText& text = outline[i];
    if (!column.there(of, i, text)) continue;
    shape::ElementSpec spec;
    spec.kind = text.kind;
    spec.label = text.label;
    spec.place = text.place;
    spec.step = text.step;
    spec.cut = text.cut;
    spec.level_start = text.level_start;
    spec.level_end = text.level_end;
    const std::pair<const char*, std::optional<double> shape::ElementSpec::*> sizes[] = {
        {"length", &shape::ElementSpec::length}, {"share", &shape::ElementSpec::share},       {"start", &shape::ElementSpec::start},
        {"end", &shape::ElementSpec::end},       {"greatest", &shape::ElementSpec::greatest}, {"least", &shape::ElementSpec::least}};
    for (const auto& [size, member] : sizes)
      if (text.sizes.contains(size)) spec.*member = column.number(element_use(of, i, size));
    for (std::size_t station = 0; station < text.through.size(); ++station) {
      const auto at = column.number(station_use(of, i, station, "at")), diameter = column.number(station_use(of, i, station, "diameter"));
      if (at && diameter) spec.stations.push_back({*at, *diameter});
    }
    specs.push_back(std::move(spec));
  }
  return specs;
}

// Chosen faces run from the square's flat at `from` to half of `width` at `to`, and straight on to the foot.
void taper_faces(Column& column, const std::string& of, const std::vector<TaperText>& tapers, shape::Part& part) {
  for (std::size_t i = 0; i < tapers.size(); ++i) {
    const auto from = column.number(taper_use(of, i, "from")), to = column.number(taper_use(of, i, "to")), width = column.number(taper_use(of, i, "width"));
    if (!from || !to || !width) continue;
    shape::FaceTaper taper;
    for (char letter : tapers[i].faces) taper.faces.push_back(static_cast<std::size_t>(letter - 'A'));
    taper.x0 = *from;
    taper.x1 = *to;
    taper.d1 = *width / 2;
    auto faces = shape::tapered(part.faces, taper);
    if (faces.ok()) part.faces = std::move(faces).value();
    else for (Diagnostic reason : faces.reasons()) { reason.place = tapers[i].place; column.object(std::move(reason)); }
  }
}

std::vector<HardwareItem> hardware_of(Column& column, const Family& family) {
  std::vector<HardwareItem> items;
  for (std::size_t i = 0; i < family.hardware.size(); ++i)
    if (const auto count = column.number(hardware_use(i)); count && *count > 0)
      items.push_back({family.hardware[i].item, static_cast<int>(*count), family.hardware[i].each});
  return items;
}

// Builds a piece as turned, of the sheet's numbers and to the length that its frame asks for.
Result<Done> turn(Column& column, const Family& family, const Design& design, const std::vector<shape::ElementSpec>& specs, Made& made, MadePiece& piece) {
  const frame::WantedPiece& wanted = piece.wanted;
  auto built = shape::build_outline(specs, wanted.length, shape::StockSection::square(wanted.square));
  if (!built.ok()) return built.failure();
  shape::Part& part = piece.part;
  part.name = design.name;
  part.length = wanted.length;
  part.outline = std::move(built->outline);
  part.elements = std::move(built->elements);
  for (Diagnostic& note : built->notes)
    if (std::find(made.notes.begin(), made.notes.end(), note) == made.notes.end()) made.notes.push_back(std::move(note));
  part.faces = shape::square_faces(wanted.square, wanted.length);
  taper_faces(column, uses_of(family, wanted.named), tapers_of(family, design, wanted.named), part);
  if (!column.failure().reasons.empty()) return column.failure();
  if (auto wrong = shape::problems(part); !wrong.empty()) return Failure(std::move(wrong));
  const std::string of = uses_of(family, wanted.named);
  const Numbers numbers = [&](const std::string& use) { return column.number(use); };
  for (const auto& [with, list] : {std::pair{&with_treatments, &treatments_of(family, design, wanted.named)}, std::pair{&with_joints, &joints_of(family, design, wanted.named)}}) {
    auto worked = with(part, of, *list, numbers);
    if (!column.failure().reasons.empty()) return column.failure();
    if (!worked.ok()) return worked.failure();
    part = std::move(worked).value();
  }
  return Done{};
}

// Where elements end at which their piece is divided, mm from the head. Elements of the part stand beside those of the outline that are there.
Result<Done> divide(Column& column, const Family& family, const Design& design, const MadePiece& piece, frame::Frame& frame) {
  const std::string of = uses_of(family, piece.wanted.named);
  const std::vector<ElementText>& outline = outline_of(family, design, piece.wanted.named);
  std::vector<double> places;
  const ElementText* first = nullptr;
  std::size_t mark = 0;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    if (!column.there(of, i, outline[i])) continue;
    if (column.divides(of, i, outline[i])) {
      places.push_back(piece.part.elements[mark].x1);
      if (!first) first = &outline[i];
    }
    ++mark;
  }
  if (places.empty()) return Done{};
  const auto done = frame::divide(frame, places);
  if (done.ok()) return done;
  Failure failure(done.reasons());
  for (Diagnostic& reason : failure.reasons) reason.place = first->place;
  return failure;
}

}  // namespace

Result<Made> make(const Family& family, const Design& design, const sheet::Sheet& sheet, std::size_t column_index, const shop::Shop& shop,
                  const LengthFormat& shown) {
  Column column(sheet, column_index);
  Made made;
  made.frame = frame_of(column, family);
  std::map<std::string, BlankMeasures> blanks;
  std::map<std::string, std::vector<shape::ElementSpec>> specs;
  for (const std::string& piece : frame::piece_names(family.stands_in)) {
    blanks[piece] = blank_of(column, piece);
    if (speaks_of(family, design, piece)) specs[piece] = specs_of(column, uses_of(family, piece), outline_of(family, design, piece));
  }
  made.rail_stock = blanks.begin()->second.rail_stock;
  made.hardware = hardware_of(column, family);
  if (!column.failure().reasons.empty()) return column.failure();

  const auto wanted = frame::wanted_pieces(made.frame, shown);
  if (!wanted.ok()) return wanted.failure();
  Failure failure;
  std::vector<shape::Part> parts;
  for (const frame::WantedPiece& want : *wanted) {
    if (!specs.contains(want.named))
      return fail("family.no-outline", "the " + std::string(frame::frame_name(made.frame)) + " asks for a " + want.label + ", and no file says how it is turned",
                  "add '" + of_piece("outline", want.named) + ":' to the design or the family");
    made.pieces.push_back({want, {}, blanks.at(want.named)});
    auto done = turn(column, family, design, specs.at(want.named), made, made.pieces.back());
    if (done.ok()) done = divide(column, family, design, made.pieces.back(), made.frame);
    if (done.ok()) parts.push_back(made.pieces.back().part);
    else
      for (const Diagnostic& reason : done.reasons())
        if (std::find(failure.reasons.begin(), failure.reasons.end(), reason) == failure.reasons.end()) failure.reasons.push_back(reason);
  }
  if (!failure.reasons.empty()) return failure;

  auto joined = frame::join(made.frame, parts, shop.mortise_cutters, shown);
  if (!joined.ok()) return joined.failure();
  made.set = std::move(joined).value();
  auto turned = frame::to_turn(made.frame, parts, shown);
  if (!turned.ok()) return turned.failure();
  made.pieces.clear();
  for (frame::PieceToTurn& piece : *turned) made.pieces.push_back({piece.wanted, std::move(piece.part), blanks.at(piece.wanted.named)});
  return made;
}

}  // namespace pommel::family
