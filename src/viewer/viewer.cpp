#include "viewer/viewer.h"

#include <AIS_InteractiveContext.hxx>
#include <AIS_Shape.hxx>
#include <Aspect_DisplayConnection.hxx>
#include <Graphic3d_Camera.hxx>
#include <Image_AlienPixMap.hxx>
#include <OpenGl_GraphicDriver.hxx>
#include <Prs3d_Drawer.hxx>
#include <Prs3d_LineAspect.hxx>
#include <Standard_Failure.hxx>
#include <V3d_View.hxx>
#include <V3d_Viewer.hxx>
#include <Xw_Window.hxx>
#include <algorithm>
#include <cmath>

#include "solid/occt_shape.h"

namespace pommel::viewer {
namespace {

// the software picture's colours
const Quantity_Color kGround(246 / 255.0, 244 / 255.0, 240 / 255.0, Quantity_TOC_sRGB), kWood(206 / 255.0, 172 / 255.0, 128 / 255.0, Quantity_TOC_sRGB);
const Quantity_Color kEdge(0x33 / 255.0, 0x2b / 255.0, 0x23 / 255.0, Quantity_TOC_sRGB);

}  // namespace

struct Viewer::Inside {
  Handle(V3d_Viewer) viewer;
  Handle(V3d_View) view;
  Handle(AIS_InteractiveContext) context;
  Handle(AIS_Shape) shown;
  solid::Box box;
};

Viewer::Viewer(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Viewer::~Viewer() = default;

Result<std::unique_ptr<Viewer>> Viewer::open(unsigned long window) {
  auto inside = std::make_unique<Inside>();
  try {
    Handle(Aspect_DisplayConnection) display = new Aspect_DisplayConnection();
    Handle(OpenGl_GraphicDriver) driver = new OpenGl_GraphicDriver(display, false);
    if (!driver->InitContext()) return fail("viewer.no-picture", "there is no OpenGL here", "the software picture is shown instead");
    inside->viewer = new V3d_Viewer(driver);
    inside->viewer->SetDefaultLights();
    inside->viewer->SetLightOn();
    inside->context = new AIS_InteractiveContext(inside->viewer);
    inside->view = inside->viewer->CreateView();
    inside->view->SetWindow(new Xw_Window(display, window));
    inside->view->SetBackgroundColor(kGround);
    inside->view->Camera()->SetProjectionType(Graphic3d_Camera::Projection_Orthographic);
  } catch (const Standard_Failure& failure) {
    return fail("viewer.no-picture", std::string("no picture can be drawn in this window: ") + failure.GetMessageString(), "the software picture is shown instead");
  }
  return std::unique_ptr<Viewer>(new Viewer(std::move(inside)));
}

void Viewer::show(const solid::Laid& skin) {
  inside_->context->RemoveAll(false);
  inside_->shown = new AIS_Shape(solid::topology_of(skin.solid));
  inside_->shown->SetColor(kWood);
  inside_->shown->Attributes()->SetAutoTriangulation(false);  // it carries its triangles: to lay them here would hold up the window
  inside_->shown->Attributes()->SetFaceBoundaryDraw(true);
  inside_->shown->Attributes()->SetFaceBoundaryAspect(new Prs3d_LineAspect(kEdge, Aspect_TOL_SOLID, 1));
  inside_->context->Display(inside_->shown, AIS_Shaded, -1, false);
  inside_->box = solid::bounds(skin.mesh);
}

void Viewer::look(const Look& look) {
  const Handle(Graphic3d_Camera)& camera = inside_->view->Camera();
  const auto &low = inside_->box.low, &high = inside_->box.high;
  const double far = std::hypot(high.x - low.x, high.y - low.y, high.z - low.z) + 1;
  const gp_Dir from(look.from.x, look.from.y, look.from.z), up(look.up.x, look.up.y, look.up.z);
  const gp_Vec across = gp_Vec(up).Crossed(gp_Vec(from)).Normalized(), upwards = gp_Vec(from).Crossed(across);
  int width = 1, height = 1;
  inside_->view->Window()->Size(width, height);
  const gp_Pnt middle((low.x + high.x) / 2, (low.y + high.y) / 2, (low.z + high.z) / 2);
  const gp_Pnt centre = middle.Translated(across * (-look.right / look.scale)).Translated(upwards * (-look.higher / look.scale));
  camera->SetEyeAndCenter(centre.Translated(gp_Vec(from) * far), centre);
  camera->SetUp(up);
  camera->OrthogonalizeUp();
  camera->SetScale(std::max(1, std::min(width, height)) / look.scale);
  inside_->view->Invalidate();
}

void Viewer::resized() { inside_->view->MustBeResized(); }
void Viewer::redraw() { inside_->view->Redraw(); }

double Viewer::covered() {
  Image_AlienPixMap picture;
  if (!inside_->view->ToPixMap(picture, 200, 200)) return 0;
  int wood = 0;
  for (int y = 0; y < 200; ++y)
    for (int x = 0; x < 200; ++x) {
      const Quantity_ColorRGBA colour = picture.PixelColor(x, y);
      // the ground is nearly white: what is darker by a tenth is not ground
      if (colour.GetRGB().Red() + colour.GetRGB().Green() + colour.GetRGB().Blue() < 0.9 * (kGround.Red() + kGround.Green() + kGround.Blue())) ++wood;
    }
  return wood / 40000.0;
}

}  // namespace pommel::viewer
