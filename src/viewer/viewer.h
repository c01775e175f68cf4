// A solid in a native window, drawn by the modelling kernel's own viewer. Knows no widget library: whoever owns the window tells it when
// it must be drawn again.
//
// Only for windows of an X server: on any other platform the kernel would end the process, so the caller asks first. A software picture
// (solid/picture.h) serves where there is none.
//
// Thread rule: the thread that owns the window.
#pragma once

#include <memory>

#include "base/result.h"
#include "solid/mesh.h"

namespace pommel::viewer {

/// How it is looked at: as solid::View says, parallel.
struct Look {
  solid::Point from{1, -1, 0.7}, up{0, 0, 1};
  double scale = 1;             ///< pixels a mm, > 0
  double right = 0, higher = 0; ///< pixels that the piece's middle stands beside the window's
};

class Viewer {
 public:
  /// `window`: an id of the X server named by DISPLAY, mapped and at least a pixel wide. Fails with "viewer.no-picture" where no
  /// picture can be drawn there (no server, no OpenGL).
  static Result<std::unique_ptr<Viewer>> open(unsigned long window);
  ~Viewer();

  /// In place of the one before.
  void show(const solid::Laid& skin);
  void look(const Look& look);
  /// The window has another size.
  void resized();
  void redraw();
  /// Share of the window's pixels that are not ground, 0 to 1: for tests.
  double covered();

 private:
  struct Inside;
  explicit Viewer(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

}  // namespace pommel::viewer
