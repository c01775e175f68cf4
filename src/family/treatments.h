// The lists `treatments:` and `joints:` of a family or a design: flutes, reeds, polygons, tapers of faces and twists cut into a turned
// piece; bores, sawn ends and mortises that the file states itself (a frame's own follow from the frame).
//
//     treatments:
//       - flutes: {from: shaft, from_plus: 12 mm, until: shaft, until_plus: = -thick / 3, count: 8, width: 9 mm, depth: 3 mm, run_out: 15 mm}
//       - polygon: {from: = head_length, until: foot, until_plus: -80 mm, across: = square, stop: ogee, stop_length: 30 mm}
//     joints:
//       - bore: {name: bed bolt, face: A, at: lower square, diameter: 10 mm}
//
// A place is a length from the head, a formula, or the name of an element of the outline: `from` and `until` mean where it begins and where
// it ends, `at` its middle. `head` and `foot` are the piece's ends where no element is called so. `from_plus` and its like are added,
// towards the foot. Entries are done in the order in which they stand, each unless its `when` says no. Every size is an entry of the sheet, so it may be a formula.
//
// The keys of each entry are in treatments.cpp, in one table that serves the reader and the messages.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "shape/part.h"
#include "sheet/sheet.h"
#include "yaml/map_reader.h"

namespace pommel::family {

/// One entry of either list, as written.
struct WorkText {
  std::string word;  ///< "flutes", "end cut" ...
  Place place;       ///< of that word
  std::string source_line;
  std::map<std::string, sheet::Entry> sizes;     ///< by key
  std::map<std::string, sheet::Entry> elements;  ///< by key: places that are names of elements
  std::map<std::string, sheet::Entry> words;     ///< by key: choices, names, letters of faces
};

/// Reads a list when it is there. Reports unknown entries and keys with the nearest known, missing ones, and wrong words: "family.work",
/// "family.unknown-work", "family.entry", "family.work-word", "family.work-face", and those of the YAML reader.
std::vector<WorkText> read_treatments(yaml::MapReader& document, const std::string& key, Sink& sink);
std::vector<WorkText> read_joints(yaml::MapReader& document, const std::string& key, Sink& sink);

/// What the sheet must compute for a list: names begin with `of` ("" or "foot post/") and "treatment/" or "joint/".
std::vector<sheet::Use> treatment_uses(const std::string& of, const std::vector<WorkText>& treatments);
std::vector<sheet::Use> joint_uses(const std::string& of, const std::vector<WorkText>& joints);

/// Names of elements that the outline does not have: "family.unknown-place", with the nearest.
void check_places(const std::vector<WorkText>& list, const std::vector<std::string>& labels, Sink& sink);

/// A computed use (of yes or no 1 or 0), or nothing where it failed (which has been told elsewhere) or was not given.
using Numbers = std::function<std::optional<double>(const std::string& use)>;

/// The part with the treatments cut, or the joints added. Fails ("family.work-unread", "family.absent-place" where an element is left out by its
/// `when`, or as shape/treatments.h and problems() say) with every entry's first reason, each at the entry's place; an entry that
/// fails is left out for those after it.
Result<shape::Part> with_treatments(shape::Part part, const std::string& of, const std::vector<WorkText>& treatments, const Numbers& numbers);
Result<shape::Part> with_joints(shape::Part part, const std::string& of, const std::vector<WorkText>& joints, const Numbers& numbers);

}  // namespace pommel::family
