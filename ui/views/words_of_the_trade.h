// A small glossary: each word as the window uses it, what it means, and what others call it.
#pragma once

#include <QString>
#include <vector>

class QWidget;

namespace pommel::ui {

struct TradeWord {
  const char *word, *others, *means;
};
const std::vector<TradeWord>& trade_words();

void show_words_of_the_trade(QWidget* parent);

}  // namespace pommel::ui
