// Pictures of a job and of the catalog, painted without a display.
//
//     pictures/leg.png, leg.svg   each ordered piece ("head-post.png" ...) lying along its axis, joints and rails shown, every element with
//                                 its diameters; the catalogued one beside it at the same scale
//     pictures/standing.png       the frame from the front, catalogued and ordered side by side at the same scale
//
// The same job gives the same bytes on one installation (fonts and Qt decide how letters look); no clock is read.
//
// Thread rule: from one thread at a time. Where the program has no QGuiApplication, each call makes one of its own for as long as
// it lasts, on the platform "offscreen" (stated as an argument: the environment is not touched); it must then be the
// thread that is to count as Qt's main thread. Text is in DejaVu Sans, else in any font there is; without fonts the
// pictures come without words.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "job/job.h"
#include "job/variants.h"

namespace pommel::paper {

/// The writer that a job's folder asks for its pictures. Fails with "paper.no-gui" (the program runs a Qt application without
/// graphics), "paper.cannot-paint" (memory).
/// `beside`: variants of the order that the cost sheet shows beside it.
std::unique_ptr<job::Papers> papers(std::vector<job::PricedVariant> beside = {});

/// What the sheet of the catalog shows of a design.
struct DesignPicture {
  std::string name;
  std::vector<shape::Part> pieces;  ///< turned; they stand side by side
  std::vector<std::string> says;    ///< main sizes, a line each
  std::string about = {};           ///< period, style, what it suits; for the gallery
};

/// All designs standing side by side on one floor at one scale, in rows, with names and main sizes: one PNG named
/// "designs.png". Fails with "paper.nothing" for no designs, and as papers().
Result<std::vector<job::File>> contact_sheet(const std::vector<DesignPicture>& designs);

/// The catalog as one HTML page that needs nothing beside it: drawings inside as lines and arcs, all at one scale. Fails with "paper.nothing".
Result<std::string> gallery_html(const std::vector<DesignPicture>& designs);
/// The same as PDF, A4. Fails as contact_sheet().
Result<std::string> gallery_pdf(const std::vector<DesignPicture>& designs);

}  // namespace pommel::paper
