// One body of the cutter over one part: everything that is looked up once, and the heights of rows and of single positions.
// Immutable after it is made; may be asked from several threads. Inside mill/ only.
#pragma once

#include <optional>
#include <vector>

#include "mill/columns.h"
#include "mill/contact.h"
#include "mill/crease.h"
#include "mill/facets.h"
#include "mill/meridian.h"
#include "mill/section.h"
#include "mill/smooth.h"

namespace pommel::mill {

class Standing {
 public:
  /// Heights are those of the point `reference` mm above the cutter's tip. REQUIRES: the part is sound.
  Standing(const shape::Part& part, const CutterBody& body, double reference, double tolerance, bool never_gouge);

  const CutterBody& body() const { return body_; }
  const std::vector<Cell>& cells() const { return cells_; }
  /// Every height at x0 is at most this. -infinity where nothing comes within reach.
  double bound(double x0) const;

  /// Raises the row to this body's heights; `fresh`: the row holds nothing yet.
  void fill_row(double x0, const Columns& columns, Contacts& scratch, float* row, bool fresh) const;
  /// -infinity where no part of the wood comes within the body's reach.
  double height_at(double x0, double a) const;

 private:
  Standing(const CutterBody& body, const shape::Part& skin, double reference, double tolerance, bool never_gouge);
  void raise_by_rounds(const Columns& columns, const Contacts& contacts, float* row, bool fresh) const;
  void raise_by_faces(double x0, const Columns& columns, const Contacts& contacts, float* row) const;
  void raise_by_creases(double x0, const Columns& columns, float* row) const;
  Facets::Over over() const { return {cells_, body_, chord_body_, reference_}; }

  CutterBody body_, chord_body_;  // the second over chords of curved creases
  double reference_ = 0, drop_ = 0;
  std::vector<Cell> cells_;
  Creases creases_;
  Facets facets_;
  std::optional<Smooth> smooth_;  // of a ball
};

}  // namespace pommel::mill
