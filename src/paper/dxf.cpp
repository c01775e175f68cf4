#include "paper/dxf.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/number.h"
#include "paper/arc.h"

namespace pommel::paper {
namespace {

// Group codes and values, a line each.
class Groups {
 public:
  Groups& add(int code, const std::string& value) {
    const std::string digits = std::to_string(code);
    out_ += std::string(3 - std::min<std::size_t>(3, digits.size()), ' ') + digits + "\n" + value + "\n";
    return *this;
  }
  Groups& add(int code, const char* value) { return add(code, std::string(value)); }
  Groups& add(int code, int value) { return add(code, std::to_string(value)); }
  Groups& real(int code, double value) { return add(code, format_number(value, 9)); }
  Groups& handle(int code, int value) {
    std::string hex;
    for (int rest = value; rest > 0; rest /= 16) hex.insert(hex.begin(), "0123456789ABCDEF"[rest % 16]);
    return add(code, hex.empty() ? "0" : hex);
  }
  std::string take() { return std::move(out_); }

 private:
  std::string out_;
};

// Handles of what every file of this release has to hold.
enum : int { kBlockRecords = 1, kLayers, kStyles, kLinetypes, kViews, kUcs, kAppIds, kDimStyles, kViewports, kModel, kPaper, kRoot, kGroups, kFirst = 0x40 };

// One line of ASCII. What is a code in the texts of a drawing stands as something else: a backslash begins \U+ and others, "%%" signs and lines.
std::string safe(const std::string& utf8) {
  std::string out;
  for (std::size_t i = 0; i < utf8.size();) {
    const auto lead = static_cast<unsigned char>(utf8[i]);
    const std::size_t length = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
    if (length == 1) {
      const bool second = lead == '%' && out.ends_with('%');
      out += second ? " %" : std::string(1, lead < ' ' || lead == 0x7F ? ' ' : lead == '\\' ? '/' : static_cast<char>(lead));
    } else {
      unsigned code = lead & (0xFFu >> (length + 1));
      for (std::size_t k = 1; k < length && i + k < utf8.size(); ++k) code = code << 6 | (static_cast<unsigned char>(utf8[i + k]) & 0x3Fu);
      std::string hex;
      for (int shift = 12; shift >= 0; shift -= 4) hex += "0123456789ABCDEF"[code >> shift & 15];
      out += code > 0xFFFF ? "?" : "\\U+" + hex;
    }
    i += length;
  }
  return out;
}

class Writer {
 public:
  explicit Writer(const Dxf& drawing) : drawing_(drawing) {
    for (const DxfShape& shape : drawing.shapes) layers_.push_back(shape.layer);
    for (const DxfText& text : drawing.texts) layers_.push_back(text.layer);
    std::sort(layers_.begin(), layers_.end());
    layers_.erase(std::unique(layers_.begin(), layers_.end()), layers_.end());
    layers_.insert(layers_.begin(), "0");
  }

  std::string text() {
    // how many handles there will be stands at the beginning
    const int handles = static_cast<int>(2 * layers_.size() + drawing_.shapes.size() + drawing_.texts.size()) + 32;
    groups_.add(0, "SECTION").add(2, "HEADER").add(9, "$ACADVER").add(1, "AC1015").add(9, "$HANDSEED").handle(5, kFirst + handles);
    groups_.add(9, "$INSUNITS").add(70, 4).add(9, "$MEASUREMENT").add(70, 1).add(0, "ENDSEC");
    tables();
    blocks();
    groups_.add(0, "SECTION").add(2, "ENTITIES");
    for (const DxfShape& one : drawing_.shapes) entity(one);
    for (const DxfText& one : drawing_.texts) entity(one);
    groups_.add(0, "ENDSEC").add(0, "SECTION").add(2, "OBJECTS");
    groups_.add(0, "DICTIONARY").handle(5, kRoot).handle(330, 0).add(100, "AcDbDictionary").add(281, 1).add(3, "ACAD_GROUP").handle(350, kGroups);
    groups_.add(0, "DICTIONARY").handle(5, kGroups).handle(330, kRoot).add(100, "AcDbDictionary").add(281, 1);
    groups_.add(0, "ENDSEC").add(0, "EOF");
    return groups_.take();
  }

 private:
  void table(const char* name, int handle, int entries) {
    groups_.add(0, "TABLE").add(2, name).handle(5, handle).handle(330, 0).add(100, "AcDbSymbolTable").add(70, entries);
  }
  void record(const char* name, int owner, const char* type, const std::string& called, int flags = 0, int code = 5) {
    groups_.add(0, name).handle(code, next_++).handle(330, owner).add(100, "AcDbSymbolTableRecord").add(100, type).add(2, called).add(70, flags);
  }
  void end_table() { groups_.add(0, "ENDTAB"); }

  void linetypes() {
    table("LTYPE", kLinetypes, 3);
    for (const char* name : {"ByBlock", "ByLayer", "Continuous"}) {
      record("LTYPE", kLinetypes, "AcDbLinetypeTableRecord", name);
      groups_.add(3, "").add(72, 65).add(73, 0).real(40, 0);
    }
    end_table();
  }

  void tables() {
    groups_.add(0, "SECTION").add(2, "TABLES");
    table("VPORT", kViewports, 0);
    end_table();
    linetypes();
    table("LAYER", kLayers, static_cast<int>(layers_.size()));
    for (const std::string& layer : layers_) {
      record("LAYER", kLayers, "AcDbLayerTableRecord", layer);
      groups_.add(62, 7).add(6, "Continuous");
    }
    end_table();
    table("STYLE", kStyles, 1);
    record("STYLE", kStyles, "AcDbTextStyleTableRecord", "Standard");
    groups_.real(40, 0).real(41, 1).real(50, 0).add(71, 0).real(42, 3).add(3, "txt").add(4, "");
    end_table();
    table("VIEW", kViews, 0);
    end_table();
    table("UCS", kUcs, 0);
    end_table();
    table("APPID", kAppIds, 1);
    record("APPID", kAppIds, "AcDbRegAppTableRecord", "ACAD");
    end_table();
    table("DIMSTYLE", kDimStyles, 1);
    groups_.add(100, "AcDbDimStyleTable").add(71, 0);
    record("DIMSTYLE", kDimStyles, "AcDbDimStyleTableRecord", "Standard", 0, 105);
    end_table();
    table("BLOCK_RECORD", kBlockRecords, 2);
    for (const auto& [name, handle] : {std::pair{"*Model_Space", +kModel}, std::pair{"*Paper_Space", +kPaper}})
      groups_.add(0, "BLOCK_RECORD").handle(5, handle).handle(330, kBlockRecords).add(100, "AcDbSymbolTableRecord").add(100, "AcDbBlockTableRecord").add(2, name);
    end_table();
    groups_.add(0, "ENDSEC");
  }

  void blocks() {
    groups_.add(0, "SECTION").add(2, "BLOCKS");
    for (const auto& [name, owner] : {std::pair{"*Model_Space", +kModel}, std::pair{"*Paper_Space", +kPaper}}) {
      groups_.add(0, "BLOCK").handle(5, next_++).handle(330, owner).add(100, "AcDbEntity").add(8, "0").add(100, "AcDbBlockBegin").add(2, name).add(70, 0);
      groups_.real(10, 0).real(20, 0).real(30, 0).add(3, name).add(1, "");
      groups_.add(0, "ENDBLK").handle(5, next_++).handle(330, owner).add(100, "AcDbEntity").add(8, "0").add(100, "AcDbBlockEnd");
    }
    groups_.add(0, "ENDSEC");
  }

  void begin(const char* type, const std::string& layer) {
    groups_.add(0, type).handle(5, next_++).handle(330, kModel).add(100, "AcDbEntity").add(8, layer);
  }
  void point(int code, double x, double y) { groups_.real(code, x).real(code + 10, y).real(code + 20, 0); }

  void entity(const DxfShape& one) {
    if (one.radius > 0) {
      begin("CIRCLE", one.layer);
      groups_.add(100, "AcDbCircle");
      point(10, one.points[0].x, one.points[0].y);
      groups_.real(40, one.radius);
    } else if (one.points.size() == 2 && !one.closed && one.points[0].bulge == 0) {
      begin("LINE", one.layer);
      groups_.add(100, "AcDbLine");
      point(10, one.points[0].x, one.points[0].y);
      point(11, one.points[1].x, one.points[1].y);
    } else if (one.points.size() == 2 && !one.closed) {
      arc(one);
    } else {
      polyline(one);
    }
  }

  // an ARC runs counter-clockwise from its first angle to its last
  void arc(const DxfShape& one) {
    const Arc arc = arc_of(one.points[0], one.points[1]);
    const auto degrees = [](double radians) {
      const double turn = std::fmod(radians * 180 / std::numbers::pi, 360);
      return turn < 0 ? turn + 360 : turn;
    };
    begin("ARC", one.layer);
    groups_.add(100, "AcDbCircle");
    point(10, arc.x, arc.y);
    groups_.real(40, arc.radius).add(100, "AcDbArc");
    groups_.real(50, degrees(std::min(arc.from, arc.from + arc.sweep))).real(51, degrees(std::max(arc.from, arc.from + arc.sweep)));
  }

  void polyline(const DxfShape& one) {
    begin("LWPOLYLINE", one.layer);
    groups_.add(100, "AcDbPolyline").add(90, static_cast<int>(one.points.size())).add(70, one.closed ? 1 : 0);
    for (const Vertex& vertex : one.points) {
      groups_.real(10, vertex.x).real(20, vertex.y);
      if (vertex.bulge != 0) groups_.real(42, vertex.bulge);
    }
  }

  void entity(const DxfText& one) {
    begin("TEXT", one.layer);
    groups_.add(100, "AcDbText");
    point(10, one.x, one.y);
    groups_.real(40, one.height).add(1, safe(one.text)).add(100, "AcDbText");
  }

  const Dxf& drawing_;
  std::vector<std::string> layers_;
  Groups groups_;
  int next_ = kFirst;
};

}  // namespace

std::string dxf_text(const Dxf& drawing) { return Writer(drawing).text(); }

}  // namespace pommel::paper
