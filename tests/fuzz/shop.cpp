// The shop's files (shop/read.h, shop/terms.h): the same bytes read as each of them, boards beside the house's own woods.
#include <fstream>
#include <iterator>
#include <string>

#include "fuzz/fuzz.h"
#include "shop/read.h"
#include "shop/terms.h"

namespace pommel::fuzz {
namespace {

constexpr const char* kFile = "shop.yaml";

shop::Shop with_woods() {
  std::ifstream file(POMMEL_SOURCE_DIR "/catalog/shop/woods.yaml");
  const std::string text(std::istreambuf_iterator<char>(file), {});
  shop::Shop out;
  Sink sink;
  shop::read_woods(text, "woods.yaml", out, sink);
  must(!out.woods.empty() && !sink.has_errors(), "the house has woods");
  return out;
}

template <class Read>
void try_as(Read read, std::string_view bytes) {
  static const shop::Shop house = with_woods();
  shop::Shop into = house;
  Sink sink;
  read(bytes, kFile, into, sink);
  must_be_told_well(sink.all(), bytes, kFile);
}

}  // namespace

void try_one(std::string_view bytes) {
  for (const auto read : {shop::read_machines, shop::read_cutters, shop::read_woods, shop::read_boards, shop::read_rates}) try_as(read, bytes);
  Sink sink;
  shop::read_terms(bytes, kFile, sink);
  must_be_told_well(sink.all(), bytes, kFile);
}

}  // namespace pommel::fuzz
