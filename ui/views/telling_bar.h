// A bar above or between the parts of a window: what it tells, and what can be done about it.
#pragma once

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <initializer_list>

namespace pommel::ui {

/// Hidden until it has something to tell.
inline QWidget* telling_bar(QLabel* tells, std::initializer_list<QPushButton*> ways) {
  auto* bar = new QWidget;
  auto* across = new QHBoxLayout(bar);
  across->setContentsMargins(10, 3, 6, 3);
  tells->setWordWrap(true);
  across->addWidget(tells, 1);
  for (QPushButton* way : ways) across->addWidget(way);
  bar->hide();
  return bar;
}

}  // namespace pommel::ui
