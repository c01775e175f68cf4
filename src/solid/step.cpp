#include "solid/step.h"

#include <algorithm>
#include <map>
#include <mutex>
#include <sstream>

#include "base/text.h"
#include "solid/kernel.h"
#include "solid/occt_shape.h"

namespace pommel::solid {

namespace {

std::mutex& step_lock() {
  static std::mutex lock;
  return lock;
}

std::string hex4(unsigned unit) {
  std::string text;
  for (int shift = 12; shift >= 0; shift -= 4) text.push_back("0123456789ABCDEF"[(unit >> shift) & 15]);
  return text;
}

// The code point at `at` of well-formed UTF-8; moves `at` past it.
char32_t next_code_point(std::string_view text, std::size_t& at) {
  const auto byte = static_cast<unsigned char>(text[at++]);
  const int more = byte < 0x80 ? 0 : byte < 0xe0 ? 1 : byte < 0xf0 ? 2 : 3;
  char32_t point = more == 0 ? byte : byte & (0x3f >> more);
  for (int i = 0; i < more && at < text.size(); ++i)
    point = (point << 6) | (static_cast<unsigned char>(text[at++]) & 0x3f);
  return point;
}

// ISO 10303-21, 6.4.3: characters outside the basic set stand as \X2\ with UTF-16 units in hexadecimal; a backslash is
// doubled. The apostrophe is doubled by the kernel's writer. Control characters become blanks.
std::string encoded(std::string_view utf8) {
  std::string text;
  if (!is_utf8(utf8)) {
    for (const char c : utf8) text.push_back(c >= 32 && c < 127 && c != '\\' ? c : '?');
    return text;
  }
  for (std::size_t at = 0; at < utf8.size();) {
    const char32_t point = next_code_point(utf8, at);
    if (point < 32 || point == 127)
      text.push_back(' ');
    else if (point == '\\')
      text += "\\\\";
    else if (point < 127)
      text.push_back(static_cast<char>(point));
    else if (point < 0x10000)
      text += "\\X2\\" + hex4(point) + "\\X0\\";
    else
      text +=
          "\\X2\\" + hex4(0xd800 + ((point - 0x10000) >> 10)) + hex4(0xdc00 + ((point - 0x10000) & 0x3ff)) + "\\X0\\";
  }
  return text;
}

void append_utf8(std::string& out, char32_t point) {
  if (point < 0x80)
    out.push_back(static_cast<char>(point));
  else if (point < 0x800)
    out += {static_cast<char>(0xc0 | (point >> 6)), static_cast<char>(0x80 | (point & 0x3f))};
  else if (point < 0x10000)
    out += {static_cast<char>(0xe0 | (point >> 12)), static_cast<char>(0x80 | ((point >> 6) & 0x3f)),
            static_cast<char>(0x80 | (point & 0x3f))};
  else
    out += {static_cast<char>(0xf0 | (point >> 18)), static_cast<char>(0x80 | ((point >> 12) & 0x3f)),
            static_cast<char>(0x80 | ((point >> 6) & 0x3f)), static_cast<char>(0x80 | (point & 0x3f))};
}

Handle(TCollection_HAsciiString) held(const std::string& text) {
  return new TCollection_HAsciiString(text.c_str());
}

// The kernel's own defaults name its version, the clock and the path: all of them are said here instead.
void set_header(const Handle(StepData_StepModel) & model, const Stamp& stamp) {
  APIHeaderSection_MakeHeader header(model);
  const auto one = [](const std::string& text) {
    const Handle(Interface_HArray1OfHAsciiString) list = new Interface_HArray1OfHAsciiString(1, 1);
    list->SetValue(1, held(encoded(text)));
    return list;
  };
  header.SetName(held(encoded(stamp.file_name)));
  header.SetTimeStamp(held(encoded(stamp.time)));
  header.SetAuthor(one(stamp.author));
  header.SetOrganization(one(stamp.organisation));
  header.SetOriginatingSystem(held(encoded(stamp.system)));
  header.SetPreprocessorVersion(held(encoded(stamp.system)));
  header.SetAuthorisation(held(""));
  header.SetDescription(one("exact boundary of turned parts, millimetres"));
  header.SetImplementationLevel(held("2;1"));
  header.Apply(model);
}

void name_product(const Handle(StepBasic_ProductDefinition) & definition, const std::string& name) {
  const Handle(StepBasic_Product) product = definition->Formation()->OfProduct();
  product->SetId(held(encoded(name)));
  product->SetName(held(encoded(name)));
  product->SetDescription(held(""));
}

template <class Entity>
std::vector<Handle(Entity)> all_of(const Handle(StepData_StepModel) & model) {
  std::vector<Handle(Entity)> found;
  for (int i = 1; i <= model->NbEntities(); ++i)
    if (const Handle(Entity) one = Handle(Entity)::DownCast(model->Value(i)); !one.IsNull()) found.push_back(one);
  return found;
}

// One solid as it is; several in a compound, in which those that were placed from one solid share it. Copies of the topology, for the
// translator may note tolerances in what it walks.
TopoDS_Shape together(const std::vector<NamedSolid>& solids) {
  const auto copied = [](const TopoDS_Shape& shape) { return BRepBuilderAPI_Copy(shape, true, false).Shape(); };
  if (solids.size() == 1) return copied(topology_of(solids.front().solid));
  std::map<const TopoDS_TShape*, TopoDS_Shape> copies;
  const BRep_Builder builder;
  TopoDS_Compound all;
  builder.MakeCompound(all);
  for (const NamedSolid& one : solids) {
    const TopoDS_Shape& shape = topology_of(one.solid);
    TopoDS_Shape& copy = copies[shape.TShape().get()];
    if (copy.IsNull()) copy = copied(shape.Located(TopLoc_Location()));
    builder.Add(all, copy.Located(shape.Location()));
  }
  return all;
}

// The translator writes the occurrences in the compound's order. False where it did something else.
bool name_all(const Handle(StepData_StepModel) & model, const std::vector<NamedSolid>& solids, const std::string& whole) {
  const auto occurrences = all_of<StepRepr_NextAssemblyUsageOccurrence>(model);
  if (occurrences.size() != (solids.size() == 1 ? 0 : solids.size())) return false;
  for (const auto& product : all_of<StepBasic_ProductDefinition>(model)) name_product(product, solids.size() == 1 ? solids.front().name : whole);
  for (std::size_t i = solids.size(); i-- > 0 && !occurrences.empty();) {  // backwards, so that a product keeps the first one's name
    const NamedSolid& one = solids[i];
    occurrences[i]->SetId(held(std::to_string(i + 1)));
    occurrences[i]->SetName(held(encoded(one.name)));
    name_product(occurrences[i]->RelatedProductDefinition(), one.kind.empty() ? one.name : one.kind);
  }
  return true;
}

void set_writing() {
  STEPControl_Controller::Init();
  Interface_Static::SetCVal("write.step.schema", "AP214IS");
  Interface_Static::SetCVal("write.step.unit", "MM");
  Interface_Static::SetCVal("write.step.product.name", "solid");
  Interface_Static::SetIVal("write.step.assembly", 1);
  Interface_Static::SetIVal("write.surfacecurve.mode", 0);  // the exact surfaces say it all: no second curves
  Interface_Static::SetIVal("write.precision.mode", 0);
}

}  // namespace

Result<std::string> write_step(const std::vector<NamedSolid>& solids, const Stamp& stamp) {
  if (solids.empty()) return fail("step.empty", "there is no solid to write");
  return guarded("writing STEP", {}, [&]() -> Result<std::string> {
    const std::lock_guard hold(step_lock());
    set_writing();
    STEPControl_Writer writer;
    const Handle(StepData_StepModel) model = writer.Model(true);
    // all at once: each further one would go through all that the model holds already
    const std::string whole = stamp.file_name.substr(0, stamp.file_name.rfind('.'));
    const bool done = writer.Transfer(together(solids), solids.size() == 1 ? STEPControl_ManifoldSolidBrep : STEPControl_AsIs) == IFSelect_RetDone;
    if (!done || !name_all(model, solids, whole)) return fail("step.write", "'" + whole + "' cannot be put into STEP", "report this part");
    set_header(model, stamp);
    StepData_StepWriter text(model);
    text.SendModel(Handle(StepData_Protocol)::DownCast(writer.WS()->Protocol()));
    std::ostringstream out;
    out.imbue(std::locale::classic());
    if (!text.Print(out)) return fail("step.write", "the STEP text could not be put together", "report this part");
    return out.str();
  });
}

namespace {

// Turns \X2\....\X0\ and doubled backslashes back into UTF-8, in case the kernel left them.
std::string decoded(std::string_view text) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    if (text.substr(at, 4) == "\\X2\\") {
      const std::size_t end = text.find("\\X0\\", at + 4);
      if (end == std::string_view::npos) return std::string(text);
      char32_t high = 0;
      for (std::size_t i = at + 4; i + 4 <= end; i += 4) {
        char32_t unit = 0;
        for (std::size_t k = 0; k < 4; ++k) {
          const char c = text[i + k];
          unit = unit * 16 + static_cast<char32_t>(c <= '9' ? c - '0' : (c & ~32) - 'A' + 10);
        }
        if (unit >= 0xd800 && unit < 0xdc00)
          high = unit;
        else if (high)
          append_utf8(out, 0x10000 + ((high - 0xd800) << 10) + (unit - 0xdc00)), high = 0;
        else
          append_utf8(out, unit);
      }
      at = end + 4;
    } else {
      if (text.substr(at, 2) == "\\\\") ++at;
      out.push_back(text[at++]);
    }
  }
  return out;
}

struct Product {
  std::string name;
  TopTools_IndexedMapOfShape solids;
};

std::string name_of(const Handle(TCollection_HAsciiString) & name) { return name.IsNull() ? std::string() : decoded(name->ToCString()); }

// What each occurrence in an assembly became, where it stands.
std::vector<std::pair<std::string, TopoDS_Shape>> occurrences_of(const STEPControl_Reader& reader) {
  std::vector<std::pair<std::string, TopoDS_Shape>> found;
  const Handle(Transfer_TransientProcess) process = reader.WS()->TransferReader()->TransientProcess();
  for (const auto& one : all_of<StepRepr_NextAssemblyUsageOccurrence>(reader.StepModel())) {
    const TopoDS_Shape shape = TransferBRep::ShapeResult(process, one);
    const std::string name = name_of(one->Name());
    if (!shape.IsNull() && !name.empty()) found.push_back({name, shape});
  }
  return found;
}

// What each product definition of the file became.
std::vector<Product> products_of(const STEPControl_Reader& reader) {
  std::vector<Product> products;
  const Handle(Transfer_TransientProcess) process = reader.WS()->TransferReader()->TransientProcess();
  for (const auto& one : all_of<StepBasic_ProductDefinition>(reader.StepModel())) {
    if (one->Formation().IsNull() || one->Formation()->OfProduct().IsNull()) continue;
    const TopoDS_Shape shape = TransferBRep::ShapeResult(process, one);
    if (shape.IsNull()) continue;
    products.push_back({name_of(one->Formation()->OfProduct()->Name()), {}});
    TopExp::MapShapes(shape, TopAbs_SOLID, products.back().solids);
  }
  return products;
}

// The occurrence that stands where this solid does, else the innermost product that holds it, wherever it was placed.
std::string name_of(const TopoDS_Shape& solid, const std::vector<std::pair<std::string, TopoDS_Shape>>& occurrences, const std::vector<Product>& products) {
  for (const auto& [name, shape] : occurrences)
    for (TopExp_Explorer it(shape, TopAbs_SOLID); it.More(); it.Next())
      if (it.Current().IsSame(solid)) return name;
  const Product* best = nullptr;
  for (const Product& product : products) {
    if (best && product.solids.Extent() >= best->solids.Extent()) continue;
    for (int i = 1; i <= product.solids.Extent(); ++i) {
      if (product.solids(i).IsPartner(solid)) best = &product;
    }
  }
  return best ? best->name : std::string();
}

}  // namespace

Result<std::vector<NamedSolid>> read_step(std::string_view text) {
  const auto unreadable = [](const char* why) {
    return fail("step.read", std::string("the STEP text cannot be read: ") + why,
                "export it again as AP214 with solids in it");
  };
  return guarded("reading STEP", {}, [&]() -> Result<std::vector<NamedSolid>> {
    const std::lock_guard hold(step_lock());
    STEPControl_Controller::Init();
    Interface_Static::SetCVal("xstep.cascade.unit", "MM");
    STEPControl_Reader reader;
    std::istringstream in{std::string(text)};
    if (reader.ReadStream("text", in) != IFSelect_RetDone) return unreadable("it is not well formed");
    if (reader.TransferRoots() < 1) return unreadable("there is no product in it");
    const std::vector<Product> products = products_of(reader);
    const auto occurrences = occurrences_of(reader);
    std::vector<NamedSolid> found;
    for (int i = 1; i <= reader.NbShapes(); ++i) {
      for (TopExp_Explorer it(reader.Shape(i), TopAbs_SOLID); it.More(); it.Next())
        found.push_back({name_of(it.Current(), occurrences, products), solid_of(it.Current())});
    }
    if (found.empty()) return unreadable("there is no solid in it");
    return found;
  });
}

}  // namespace pommel::solid
