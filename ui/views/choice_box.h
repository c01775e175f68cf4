// A choice in a form: wide enough for its words, and for no more than kShownLetters of them before the form is wider than a screen.
#pragma once

#include <QComboBox>
#include <QStyle>
#include <QStyleOptionComboBox>
#include <algorithm>

namespace pommel::ui {

class ChoiceBox : public QComboBox {
 public:
  static constexpr int kShownLetters = 20;

  ChoiceBox() { setSizeAdjustPolicy(AdjustToMinimumContentsLengthWithIcon), setMinimumContentsLength(kShownLetters); }

  // a form sets its label above it rather than make it narrower
  QSize minimumSizeHint() const override {
    int words = 0;
    for (int i = 0; i < count(); ++i) words = std::max(words, fontMetrics().horizontalAdvance(itemText(i).left(kShownLetters)));
    QStyleOptionComboBox option;
    initStyleOption(&option);
    const QSize letters(words, fontMetrics().height());
    return style()->sizeFromContents(QStyle::CT_ComboBox, &option, letters, this);
  }
};

}  // namespace pommel::ui
