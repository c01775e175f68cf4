#include "ui/models/found_model.h"

#include <QCoreApplication>

#include "ui/views/in_words.h"
#include "ui/views/tones.h"

namespace pommel::ui {
namespace {

QString said(double mm, const LengthFormat& lengths) { return text(format_length(mm, lengths)); }

}  // namespace

QString element_in_words(const match::Found& found) {
  // words of the palette (outline_editor.cpp) and those that it does not offer
  static constexpr const char* kMore[] = {QT_TRANSLATE_NOOP("palette", "square"), QT_TRANSLATE_NOOP("palette", "pommel"), QT_TRANSLATE_NOOP("palette", "pin"), QT_TRANSLATE_NOOP("palette", "rounded"), QT_TRANSLATE_NOOP("palette", "sloped"), QT_TRANSLATE_NOOP("palette", "ogee")};
  (void)kMore;
  const auto word = [](std::string_view one) { return QCoreApplication::translate("palette", std::string(one).c_str()); };
  const QString name = word(shape::word_of(found.name.kind));
  return found.name.kind == shape::ElementKind::pommel ? name + QStringLiteral(", ") + word(shape::word_of(found.name.cut)) : name;
}

QString diameters_in_words(const match::Found& found, const LengthFormat& lengths) {
  const match::Stroke& s = found.stroke;
  if (found.square) return FoundModel::tr("□ %1 across").arg(said(2 * s.r0, lengths));
  QString out = QStringLiteral("⌀ ") + said(2 * s.r0, lengths);
  if (!match::ends_alike(s)) out = FoundModel::tr("%1 to %2").arg(out, said(2 * s.r1, lengths));
  if (const auto between = match::crest_or_bottom(s)) out = (between->is_crest ? FoundModel::tr("%1, greatest %2") : FoundModel::tr("%1, least %2")).arg(out, said(2 * between->radius, lengths));
  for (const match::InnerStation& inner : s.stations) out = FoundModel::tr("%1, through %2").arg(out, said(2 * inner.radius, lengths));
  return out;
}

void FoundModel::show(std::shared_ptr<const Fitted> fitted, bool stale, const LengthFormat& lengths) {
  // rows that stay are not taken away: the one that is chosen stays chosen
  const int before = rows_, after = fitted ? static_cast<int>(fitted->found.elements.size()) : 0;
  if (after < before) {
    beginRemoveRows({}, after, before - 1);
    rows_ = after;
    endRemoveRows();
  }
  fitted_ = std::move(fitted);
  stale_ = stale;
  lengths_ = lengths;
  if (rows_ > 0) emit dataChanged(index(0, 0), index(rows_ - 1, kColumns - 1));
  if (after <= before) return;
  beginInsertRows({}, before, after - 1);
  rows_ = after;
  endInsertRows();
}

int FoundModel::rowCount(const QModelIndex& parent) const { return parent.isValid() ? 0 : rows_; }

int FoundModel::columnCount(const QModelIndex& parent) const { return parent.isValid() ? 0 : kColumns; }

QString FoundModel::words(const match::Found& found, int column) const {
  switch (column) {
    case kName: return found.like >= 0 ? tr("%1, as %2").arg(element_in_words(found)).arg(found.like + 1) : element_in_words(found);
    case kFrom: return said(found.stroke.x0, lengths_);
    case kLength: return said(found.stroke.length(), lengths_);
    case kDiameters: return diameters_in_words(found, lengths_);
    default: break;
  }
  if (found.square) return {};
  if (found.readings == 0) return tr("no reading on it");
  return tr("%1 mm, of %2").arg(QString::number(found.rms, 'f', 2)).arg(found.readings);
}

QVariant FoundModel::data(const QModelIndex& at, int role) const {
  if (!at.isValid()) return {};
  const match::Found& found = fitted_->found.elements[static_cast<std::size_t>(at.row())];
  if (role == Qt::DisplayRole || role == Qt::ToolTipRole) return words(found, at.column());
  if (role == Qt::ForegroundRole && stale_) return tones().inherited;
  return {};
}

QVariant FoundModel::headerData(int section, Qt::Orientation orientation, int role) const {
  if (role != Qt::DisplayRole) return {};
  if (orientation == Qt::Vertical) return section + 1;
  switch (section) {
    case kName: return tr("element");
    case kFrom: return tr("from head");
    case kLength: return tr("length");
    case kDiameters: return tr("diameters");
    default: return tr("off, readings");
  }
}

}  // namespace pommel::ui
