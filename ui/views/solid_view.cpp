#include "ui/views/solid_view.h"

#include <QVBoxLayout>

#include "ui/views/in_words.h"

namespace pommel::ui {

SolidView::SolidView(QWidget* parent) : QWidget(parent, Qt::Window) {
  auto* down = new QVBoxLayout(this);
  down->setContentsMargins(0, 0, 0, 0);
  auto* holder = new QWidget;
  room_ = new QVBoxLayout(holder);
  room_->setContentsMargins(0, 0, 0, 0);
  down->addWidget(holder, 1);
  told_ = new QLabel;
  told_->setWordWrap(true);
  told_->setMargin(6);
  down->addWidget(told_);
  choose_picture(ScreenPicture::may_work());
  resize(sizeHint());
}

void SolidView::take(std::shared_ptr<const job::Skin> skin) {
  busy_ = false;
  skin_ = std::move(skin);
  picture_->show_skin(skin_);
  told_->setText(tr("%1. Drag or use the arrows to turn it; the wheel, + and - bring it closer; Home sets it up again.").arg(name_));
}

void SolidView::end(const Result<Done>& made) {
  busy_ = refining_ = false;
  if (made.ok()) return;
  skin_ = nullptr;
  picture_->show_skin(skin_);
  told_->setText(tr("There is no solid: %1").arg(lines_of(made.reasons()).join(u' ')));
}

void SolidView::choose_picture(bool on_screen) {
  delete picture_;
  auto* screen = on_screen ? new ScreenPicture : nullptr;
  picture_ = on_screen ? static_cast<TurnedPicture*>(screen) : new SoftwarePicture;
  room_->addWidget(picture_);
  setFocusProxy(picture_);
  // after the event in which the viewer failed
  if (screen) connect(screen, &ScreenPicture::refused, this, [this] { choose_picture(false); }, Qt::QueuedConnection);
  picture_->begin_at(about_);
  picture_->show_skin(skin_);
}

void SolidView::show_part(const std::optional<shape::Part>& part, const QString& name, double about) {
  if (about != about_) picture_->begin_at(about);
  about_ = about;
  setWindowTitle(tr("the solid: %1").arg(name));
  if (part == part_) return;
  part_ = part;
  name_ = name;
  if (!part) {
    worker_.give_up();
    busy_ = refining_ = false;
    return told_->setText(tr("The measures make no piece; what is seen was made from those before."));
  }
  busy_ = refining_ = true;
  told_->setText(tr("%1: the solid is being made; what is seen is the one before …").arg(name));
  worker_.ask_in_parts([this, wanted = *part](const NewestWork::Asked& asked) {
    const auto made = job::skins_of(wanted, [&](auto skin) { asked.tell([this, skin] { take(skin); }); }, asked.stop());
    asked.tell([this, made] { end(made); });
  });
}

}  // namespace pommel::ui
