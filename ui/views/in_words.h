// Bytes of the core as texts of the window.
#pragma once

#include <QString>
#include <QStringList>
#include <vector>

#include "base/diagnostic.h"

namespace pommel::ui {

inline QString text(const std::string& bytes) { return QString::fromStdString(bytes); }

/// What is wrong and what to do, a line each.
inline QStringList lines_of(const std::vector<Diagnostic>& reasons) {
  QStringList out;
  for (const Diagnostic& reason : reasons) out << text(reason.message + (reason.remedy.empty() ? "" : ": " + reason.remedy));
  return out;
}

}  // namespace pommel::ui
