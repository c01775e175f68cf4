// Runs the window's tests in one application. Under the thread sanitizer, tells it what it cannot see in a library that is not instrumented: that what was posted
// to the window's thread happened before it is delivered there. A suppression by library would hide every race of ours that an event has to do with.
#include <gtest/gtest.h>

#include <QApplication>
#include <string_view>

#include "ui/killed.h"

#ifdef __SANITIZE_THREAD__
#include <dlfcn.h>
#include <sanitizer/tsan_interface.h>

namespace {

// One for all events: so a race between something after a post and another event's delivery is not seen.
char posted_before_delivered;

}  // namespace

// Instead of Qt's own, which it calls: workers answer through this alone.
bool QMetaObject::invokeMethodImpl(QObject* object, QtPrivate::QSlotObjectBase* slot, Qt::ConnectionType type, void* answer) {
  using Own = bool (*)(QObject*, QtPrivate::QSlotObjectBase*, Qt::ConnectionType, void*);
  constexpr const char* kName = "_ZN11QMetaObject16invokeMethodImplEP7QObjectPN9QtPrivate15QSlotObjectBaseEN2Qt14ConnectionTypeEPv";
  static const Own own = reinterpret_cast<Own>(dlsym(RTLD_NEXT, kName));
  __tsan_release(&posted_before_delivered);
  return own(object, slot, type, answer);
}
#endif

namespace {

class Application : public QApplication {
 public:
  using QApplication::QApplication;
#ifdef __SANITIZE_THREAD__
  bool notify(QObject* to, QEvent* event) override {
    __tsan_acquire(&posted_before_delivered);
    return QApplication::notify(to, event);
  }
#endif
};

}  // namespace

int main(int argc, char** argv) {
  ::testing::InitGoogleTest(&argc, argv);
  Application app(argc, argv);
  QApplication::setOrganizationName("pommel");
  QApplication::setApplicationName("pommel-window-test");
  if (argc == 3 && std::string_view(argv[1]) == pommel::ui::kTypeAndBeKilled) return pommel::ui::type_and_be_killed(argv[2]);
  if (argc == 3 && std::string_view(argv[1]) == pommel::ui::kTypeReadingsAndBeKilled) return pommel::ui::type_readings_and_be_killed(argv[2]);
  return RUN_ALL_TESTS();
}
