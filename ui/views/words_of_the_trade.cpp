#include "ui/views/words_of_the_trade.h"

#include <QCoreApplication>
#include <QDialog>
#include <QDialogButtonBox>
#include <QHeaderView>
#include <QTableWidget>
#include <QVBoxLayout>

namespace pommel::ui {

const std::vector<TradeWord>& trade_words() {
  static const std::vector<TradeWord> words = {
      {QT_TRANSLATE_NOOP("words", "apron rail"), QT_TRANSLATE_NOOP("words", "rail, apron, skirt"), QT_TRANSLATE_NOOP("words", "the board between two legs under the top; its tenons go into the legs' mortises")},
      {QT_TRANSLATE_NOOP("words", "baluster"), QT_TRANSLATE_NOOP("words", "spindle, banister"), QT_TRANSLATE_NOOP("words", "a turned post that carries a stair's rail and closes the opening")},
      {QT_TRANSLATE_NOOP("words", "bead"), QT_TRANSLATE_NOOP("words", "torus, astragal (small)"), QT_TRANSLATE_NOOP("words", "a ring that bulges")},
      {QT_TRANSLATE_NOOP("words", "blank"), QT_TRANSLATE_NOOP("words", "billet, squared stock"), QT_TRANSLATE_NOOP("words", "the wood as it goes on the machine")},
      {QT_TRANSLATE_NOOP("words", "bed bolt"), QT_TRANSLATE_NOOP("words", "rail bolt"), QT_TRANSLATE_NOOP("words", "the long bolt by which a side rail is drawn to its post and comes apart again")},
      {QT_TRANSLATE_NOOP("words", "cove"), QT_TRANSLATE_NOOP("words", "hollow, scotia"), QT_TRANSLATE_NOOP("words", "a ring that is hollow")},
      {QT_TRANSLATE_NOOP("words", "cut check"), QT_TRANSLATE_NOOP("words", "proof"), QT_TRANSLATE_NOOP("words", "the program's own text is read back and cut in simulation; only what passes is given out")},
      {QT_TRANSLATE_NOOP("words", "fillet"), QT_TRANSLATE_NOOP("words", "flat, listel"), QT_TRANSLATE_NOOP("words", "a narrow flat ring between two curves")},
      {QT_TRANSLATE_NOOP("words", "flute"), QT_TRANSLATE_NOOP("words", "groove"), QT_TRANSLATE_NOOP("words", "a hollow along the piece; reeds are its opposite")},
      {QT_TRANSLATE_NOOP("words", "foot"), QT_TRANSLATE_NOOP("words", "toe, lower end"), QT_TRANSLATE_NOOP("words", "the end on the floor")},
      {QT_TRANSLATE_NOOP("words", "half the diagonal"), QT_TRANSLATE_NOOP("words", "corner radius"), QT_TRANSLATE_NOOP("words", "how far a square's corner is from the middle: 0.707 times its width")},
      {QT_TRANSLATE_NOOP("words", "hand"), QT_TRANSLATE_NOOP("words", "left and right, mirrored"), QT_TRANSLATE_NOOP("words", "two pieces that are each other's mirror: same turning, mortises on other faces")},
      {QT_TRANSLATE_NOOP("words", "haunch"), QT_TRANSLATE_NOOP("words", "tenon shoulder stub"), QT_TRANSLATE_NOOP("words", "the short part of a tenon near the leg's head; it keeps the rail from twisting")},
      {QT_TRANSLATE_NOOP("words", "head"), QT_TRANSLATE_NOOP("words", "top, joined end"), QT_TRANSLATE_NOOP("words", "the end where the joints are; lengths count from here")},
      {QT_TRANSLATE_NOOP("words", "horn"), QT_TRANSLATE_NOOP("words", "joggle"), QT_TRANSLATE_NOOP("words", "waste left above a mortise until the joint is glued, so that it does not split")},
      {QT_TRANSLATE_NOOP("words", "mortise"), QT_TRANSLATE_NOOP("words", "mortice, slot"), QT_TRANSLATE_NOOP("words", "the pocket that a tenon goes into")},
      {QT_TRANSLATE_NOOP("words", "ogee"), QT_TRANSLATE_NOOP("words", "S-curve, cyma"), QT_TRANSLATE_NOOP("words", "a curve that turns from bulging to hollow")},
      {QT_TRANSLATE_NOOP("words", "pommel"), QT_TRANSLATE_NOOP("words", "shoulder, lamb's tongue (a cut of it)"), QT_TRANSLATE_NOOP("words", "where the square meets the round")},
      {QT_TRANSLATE_NOOP("words", "story stick"), QT_TRANSLATE_NOOP("words", "rod, marking stick"), QT_TRANSLATE_NOOP("words", "a strip with all marks and diameters of a turning")},
      {QT_TRANSLATE_NOOP("words", "vase"), QT_TRANSLATE_NOOP("words", "urn, bulb"), QT_TRANSLATE_NOOP("words", "a long swelling with a narrow neck")},
      {QT_TRANSLATE_NOOP("words", "8/4 stock"), QT_TRANSLATE_NOOP("words", "eight-quarter, 2 in rough"), QT_TRANSLATE_NOOP("words", "rough thickness in quarters of an inch, before milling")},
  };
  return words;
}

void show_words_of_the_trade(QWidget* parent) {
  const auto said = [](const char* words) { return QCoreApplication::translate("words", words); };
  QDialog dialog(parent);
  dialog.setWindowTitle(said(QT_TRANSLATE_NOOP("words", "Words of the trade")));
  auto* table = new QTableWidget(static_cast<int>(trade_words().size()), 3);
  table->setHorizontalHeaderLabels({said(QT_TRANSLATE_NOOP("words", "here")), said(QT_TRANSLATE_NOOP("words", "also called")), said(QT_TRANSLATE_NOOP("words", "what it is"))});
  table->setEditTriggers(QAbstractItemView::NoEditTriggers);
  table->verticalHeader()->hide();
  table->verticalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);  // as high as its words, whatever the width
  table->setWordWrap(true);
  for (int row = 0; row < table->rowCount(); ++row) {
    const TradeWord& word = trade_words()[static_cast<std::size_t>(row)];
    table->setItem(row, 0, new QTableWidgetItem(said(word.word)));
    table->setItem(row, 1, new QTableWidgetItem(said(word.others)));
    table->setItem(row, 2, new QTableWidgetItem(said(word.means)));
  }
  table->setColumnWidth(0, 130);
  table->setColumnWidth(1, 190);
  table->horizontalHeader()->setStretchLastSection(true);
  auto* close = new QDialogButtonBox(QDialogButtonBox::Close);
  QObject::connect(close, &QDialogButtonBox::rejected, &dialog, &QDialog::reject);
  auto* down = new QVBoxLayout(&dialog);
  down->addWidget(table);
  down->addWidget(close);
  dialog.resize(860, 560);
  dialog.exec();
}

}  // namespace pommel::ui
