// The maker's own files: the same bytes read as a family, a design and an order (family/family.h). Whatever they are, all that is wrong is told at places in them.
#include <string>

#include "family/family.h"
#include "fuzz/fuzz.h"

namespace pommel::fuzz {
namespace {

template <class Read>
void try_as(Read read, std::string_view bytes, const std::string& file) {
  Sink sink;
  read(bytes, file, "tried", sink);
  must_be_told_well(sink.all(), bytes, file);
}

}  // namespace

void try_one(std::string_view bytes) {
  try_as(family::read_family, bytes, "leg.yaml");
  try_as(family::read_design, bytes, "vase.yaml");
  try_as(family::read_order, bytes, "table.yaml");
}

}  // namespace pommel::fuzz
