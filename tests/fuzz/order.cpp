// An order with its design and its family, loaded from a house as the command line does (job/load.h) and made as far as the frame and its pieces
// (family/family.h). The bytes are the three files one after the other, lines of five '=' between them; what is not there is taken from the house.
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "fuzz/fuzz.h"
#include "job/load.h"

namespace pommel::fuzz {
namespace {

constexpr const char *kOrder = "house/catalog/orders/tried.yaml", *kDesign = "house/catalog/designs/tried.yaml", *kFamily = "house/templates/table-leg.yaml";

MemoryFiles the_house() {
  MemoryFiles files;
  const std::filesystem::path root = POMMEL_SOURCE_DIR;
  for (const char* folder : {"templates", "catalog/shop", "catalog/designs"}) {
    must(files.make_folder("house/" + std::string(folder)).ok(), "a folder in memory");
    for (const auto& entry : std::filesystem::directory_iterator(root / folder)) {
      if (entry.path().extension() != ".yaml") continue;
      std::ifstream file(entry.path());
      const std::string text(std::istreambuf_iterator<char>(file), {});
      must(files.write("house/" + std::string(folder) + "/" + entry.path().filename().string(), text).ok(), "a house in memory");
    }
  }
  must(files.make_folder("house/catalog/orders").ok(), "a folder in memory");
  return files;
}

void must_be_told(const std::vector<Diagnostic>& found, const MemoryFiles& files) {
  for (const char* name : {kOrder, kDesign, kFamily}) must_be_told_well(found, files.files().at(name), name);
}

void must_be_finite(const family::Made& made) {
  for (const frame::Member& member : made.set.members) {
    must(std::isfinite(member.part.length) && member.part.length > 0, "a piece has a length");
    must(member.piece < made.pieces.size(), "a member is one of the pieces");
  }
}

}  // namespace

void try_one(std::string_view bytes) {
  static const MemoryFiles house = the_house();
  MemoryFiles files = house;
  constexpr std::string_view kBetween = "\n=====\n";
  must(files.write(kDesign, files.files().at("house/catalog/designs/farmhouse-vase.yaml")).ok(), "a design in memory");
  for (const char* name : {kOrder, kDesign, kFamily}) {
    const std::size_t end = bytes.find(kBetween);
    must(files.write(name, bytes.substr(0, end)).ok(), "a file in memory");
    if (end == bytes.npos) break;
    bytes.remove_prefix(end + kBetween.size());
  }
  Sink sink;
  const auto loaded = job::load(files, {"house/catalog", "house/templates"}, kOrder, sink);
  must_be_told(sink.all(), files);
  if (!loaded || sink.has_errors()) return;
  Sink said;
  const auto sheet = family::make_sheet(loaded->family, loaded->design, loaded->order ? &*loaded->order : nullptr, loaded->shop, {}, said);
  must_be_told(said.all(), files);
  if (said.has_errors()) return;
  for (std::size_t column = 0; column < sheet.column_count(); ++column) {
    const auto made = family::make(loaded->family, loaded->design, sheet, column, loaded->shop, sheet.settings().lengths);
    if (made.ok()) must_be_finite(*made);
    else must_be_told(made.reasons(), files);
  }
}

}  // namespace pommel::fuzz
