#include "photographs/ruler_row.hpp"

#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>

#include "forms/flow_layout.hpp"
#include "tedge/base/length.hpp"
#include "text.hpp"

namespace tedge::desk {

RulerRow::RulerRow(QWidget* parent)
    : QWidget(parent),
      length_(new QLineEdit(this)),
      tick_(new QLineEdit(QStringLiteral("1 mm"), this)),
      says_(new QLabel(this)) {
    auto* form = new QFormLayout(this);
    form->setContentsMargins(0, 0, 0, 0);
    form->setRowWrapPolicy(QFormLayout::WrapLongRows);
    form->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
    length_->setPlaceholderText(tr("100 mm, 4 in"));
    length_->setAccessibleName(tr("Between the two marks"));
    tick_->setAccessibleName(tr("From tick to tick"));
    form->addRow(tr("Between the two marks"), length_);
    form->addRow(tr("From tick to tick"), tick_);
    says_->setWordWrap(true);
    says_->setProperty("role", "warning");
    form->addRow(says_);
    auto* buttons = new QWidget(this);
    auto* flow = new FlowLayout(buttons);
    auto* measure = new QPushButton(tr("Measure by it"), buttons);
    auto* stop = new QPushButton(tr("Give up"), buttons);
    flow->addWidget(measure);
    flow->addWidget(stop);
    form->addRow(buttons);
    hide();
    connect(measure, &QPushButton::clicked, this, &RulerRow::go_on);
    connect(stop, &QPushButton::clicked, this, &RulerRow::given_up);
    for (QLineEdit* each : {length_, tick_}) connect(each, &QLineEdit::returnPressed, this, &RulerRow::go_on);
}

void RulerRow::say(const QString& text) {
    says_->setText(text);
    says_->setVisible(!text.isEmpty());
}

void RulerRow::begin() {
    marks_.reset();
    say({});
    show();
}

void RulerRow::set_marks(PointPx from, PointPx to) {
    marks_ = std::pair(from, to);
    go_on();
}

void RulerRow::go_on() {
    const auto length = parse_length_mm(plain(length_->text()));
    const auto tick = parse_length_mm(plain(tick_->text()));
    if (!length || !tick) {
        QLineEdit* wrong = length ? tick_ : length_;
        const Error& error = (length ? tick : length).error();
        say(wrong->text().trimmed().isEmpty() ? tr("How long is it?") : shown(error.message + " " + error.next));
        wrong->setFocus();
        return;
    }
    if (!marks_) return say(tr("Click the two marks on the easel first."));
    hide();
    emit ready({marks_->first, marks_->second, *length, *tick});
}

}  // namespace tedge::desk
