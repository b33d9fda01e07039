#include "easel/placing_row.hpp"

#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>
#include <array>

#include "tedge/base/length.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

QLineEdit* named_field(const QString& label, const QString& example, QWidget* parent, QHBoxLayout* row) {
    auto* edit = new QLineEdit(parent);
    edit->setPlaceholderText(example);
    edit->setAccessibleName(label);
    edit->setMinimumWidth(70);
    auto* name = new QLabel(label, parent);
    name->setBuddy(edit);
    row->addWidget(name);
    row->addWidget(edit, 1);
    return edit;
}

QString corner_name(int index) {
    static const std::array<QString, 4> names{QObject::tr("top left"), QObject::tr("top right"),
                                              QObject::tr("bottom right"), QObject::tr("bottom left")};
    return names.at(static_cast<std::size_t>(index));
}

}  // namespace

PlacingRow::PlacingRow(QWidget* parent)
    : QWidget(parent),
      says_(new QLabel(this)),
      fault_(new QLabel(this)),
      fields_(new QWidget(this)),
      epoch_(new QWidget(this)),
      only_size_(
          new QLabel(tr("Only where the size is another without such work: cut, or measured again. Lining or a new "
                        "stretcher is recorded as a step on the sheet structure and opens the new frame itself."),
                     this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 2, 0, 2);
    auto* top = new QHBoxLayout;
    says_->setWordWrap(true);
    auto* stop = new QPushButton(tr("Give up"), this);
    top->addWidget(says_, 1);
    top->addWidget(stop);
    column->addLayout(top);
    auto* size = new QHBoxLayout(fields_);
    size->setContentsMargins(0, 0, 0, 0);
    height_ = named_field(tr("Height"), tr("610 mm, 24 in"), fields_, size);
    width_ = named_field(tr("Width"), tr("812 mm, 32 in"), fields_, size);
    auto* place = new QPushButton(tr("Place it"), fields_);
    size->addWidget(place);
    column->addWidget(fields_);
    auto* epoch = new QHBoxLayout(epoch_);
    epoch->setContentsMargins(0, 0, 0, 0);
    from_ = named_field(tr("From"), tr("2026-05-06"), epoch_, epoch);
    why_ = named_field(tr("Why"), tr("cut, measured again"), epoch_, epoch);
    column->addWidget(epoch_);
    only_size_->setWordWrap(true);
    only_size_->setProperty("role", "faded");
    column->addWidget(only_size_);
    fault_->setProperty("role", "closed");
    fault_->setWordWrap(true);
    column->addWidget(fault_);
    hide();
    connect(stop, &QPushButton::clicked, this, &PlacingRow::given_up);
    connect(place, &QPushButton::clicked, this, &PlacingRow::ready);
    for (QLineEdit* edit : {height_, width_, from_, why_})
        connect(edit, &QLineEdit::returnPressed, this, &PlacingRow::ready);
}

void PlacingRow::begin(Face face, std::optional<SizeMm> size, bool framed, bool new_epoch) {
    face_ = face;
    framed_ = framed;
    new_epoch_ = new_epoch;
    fault_->hide();
    height_->setText(size ? shown(format_length_mm(size->height_mm)) : QString());
    width_->setText(size ? shown(format_length_mm(size->width_mm)) : QString());
    from_->clear();
    why_->clear();
    fields_->setVisible(!framed || new_epoch);
    epoch_->setVisible(new_epoch);
    only_size_->setVisible(new_epoch);
    show_count(0);
    show();
}

void PlacingRow::show_count(int corners) {
    const QString face = spoken(to_text(face_));
    says_->setText(corners < 4 ? tr("Corner %1 of 4 of the %2, as you see it: %3. Backspace takes one back.")
                                     .arg(corners + 1)
                                     .arg(face, corner_name(corners))
                               : tr("Four corners of the %1.").arg(face));
}

std::optional<usecases::FrameWanted> PlacingRow::wanted() {
    usecases::FrameWanted wanted;
    if (framed_ && !new_epoch_) return wanted;
    const auto height = parse_length_mm(plain(height_->text()));
    const auto width = parse_length_mm(plain(width_->text()));
    if (!height || !width) {
        const Error& error = height ? width.error() : height.error();
        const bool empty = (height ? width_ : height_)->text().trimmed().isEmpty();
        fault_->setText(empty ? tr("Measure the %1 and give its height and width first.").arg(spoken(to_text(face_)))
                              : shown(error.message + " " + error.next));
        fault_->show();
        (height ? width_ : height_)->setFocus();
        return std::nullopt;
    }
    wanted.size = SizeMm{*width, *height};
    wanted.new_epoch = new_epoch_;
    wanted.epoch_from = plain(from_->text().trimmed());
    wanted.epoch_why = plain(why_->text().trimmed());
    return wanted;
}

void PlacingRow::end() {
    hide();
}

}  // namespace tedge::desk
