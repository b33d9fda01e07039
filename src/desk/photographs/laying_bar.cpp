#include "photographs/laying_bar.hpp"

#include <QHBoxLayout>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <QVBoxLayout>

#include "tedge/base/number_text.hpp"
#include "text.hpp"
#include "work_bar.hpp"

namespace tedge::desk {

namespace {

constexpr int lines_in_sight = 4;

}  // namespace

LayingBar::LayingBar(BookSession& session, QWidget* parent)
    : QWidget(parent),
      session_(session),
      doing_(new QLabel(this)),
      report_(new QLabel(this)),
      bar_(new QProgressBar(this)),
      cancel_(new QPushButton(tr("Cancel"), this)),
      close_(new QPushButton(tr("Seen"), this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 2, 0, 2);
    for (QLabel* label : {doing_, report_}) label->setWordWrap(true);
    report_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    begin_work_bar(*bar_);
    bar_->setAccessibleName(tr("How far the laying over is"));
    column->addWidget(doing_);
    auto* row = new QHBoxLayout;
    row->addWidget(bar_, 1);
    row->addWidget(cancel_);
    column->addLayout(row);
    auto* below = new QHBoxLayout;
    below->addWidget(report_, 1);
    below->addWidget(close_, 0, Qt::AlignTop);
    column->addLayout(below);
    hide();
    connect(cancel_, &QPushButton::clicked, &laying_, &Laying::cancel);
    connect(close_, &QPushButton::clicked, this, &QWidget::hide);
    connect(&laying_, &Laying::begun, this, [this](int index, int of, const Uuid& id) {
        doing_->setText(
            tr("Laying “%1” over “%2” (%3 of %4)").arg(names_[id], names_[reference_]).arg(index + 1).arg(of));
    });
    connect(&laying_, &Laying::progress, this, [this](double fraction, const QString& what) {
        show_work_done(*bar_, fraction);
        bar_->setFormat(what + QStringLiteral("  %p %"));
    });
    connect(&laying_, &Laying::laid, this, &LayingBar::show_result);
    connect(&laying_, &Laying::refused, this, &LayingBar::show_refusal);
    connect(&laying_, &Laying::finished, this, &LayingBar::finish);
}

void LayingBar::begin(const casebook::CaseSnapshot& snapshot, const LayingChoice& choice) {
    if (laying_.running()) return;
    names_.clear();
    for (const casebook::Record* photo : snapshot.of_kind("photograph")) names_[photo->id] = name_of(*photo);
    reference_ = choice.reference;
    lines_.clear();
    laid_ = 0;
    refused_ = 0;
    last_laid_.reset();
    report_->clear();
    bar_->setValue(0);
    bar_->setFormat(QStringLiteral("%p %"));
    for (QWidget* widget : std::initializer_list<QWidget*>{bar_, cancel_, doing_}) widget->show();
    close_->hide();
    show();
    laying_.begin(session_.how(), choice.reference, choice.moving);
}

QString LayingBar::report() const {
    return report_->text();
}

void LayingBar::show_result(const Uuid& photograph, const usecases::RegisteredPhotograph& result) {
    if (result.usable) {
        ++laid_;
        last_laid_ = photograph;
        lines_ << tr("%1: lies to ± %2 mm, %3 places agree")
                      .arg(names_[photograph], shown(format_fixed(result.error_mm, 2)))
                      .arg(result.inliers);
        if (result.move) {
            lines_ << tr("This measured how the canvas moved: %1 mm on average, %2 mm at most.")
                          .arg(shown(format_fixed(result.move->mean_mm, 2)),
                               shown(format_fixed(result.move->most_mm, 2)));
        }
    } else {
        ++refused_;
        lines_ << QStringLiteral("⊘ %1: %2").arg(names_[photograph], shown(result.reason));
    }
    if (result.placed) {
        session_.did(*result.placed, tr("laying “%1” over another").arg(names_[photograph]));
    } else {
        emit session_.changed();
    }
    show_report();
}

void LayingBar::show_refusal(const Uuid& photograph, const Error& error) {
    ++refused_;
    lines_ << QStringLiteral("⊘ %1: %2 %3").arg(names_[photograph], shown(error.message), shown(error.next));
    show_report();
}

// What was refused stands first when there is not room for all.
void LayingBar::show_report() {
    QStringList ordered = lines_;
    std::ranges::stable_partition(ordered, [](const QString& line) { return line.startsWith(u'⊘'); });
    QStringList in_sight = ordered.mid(0, lines_in_sight);
    if (ordered.size() > lines_in_sight) {
        in_sight.prepend(tr("%1 laid over, %2 not").arg(laid_).arg(refused_));
        in_sight << tr("… and %1 more").arg(ordered.size() - lines_in_sight);
    }
    report_->setText(in_sight.join(u'\n'));
    report_->setToolTip(ordered.join(u'\n'));
}

void LayingBar::finish(bool was_cancelled) {
    for (QWidget* widget : std::initializer_list<QWidget*>{bar_, cancel_}) widget->hide();
    doing_->setText(was_cancelled ? tr("Cancelled; what was laid over before stays.")
                                  : tr("Over “%1”:").arg(names_[reference_]));
    close_->show();
    if (last_laid_) emit laid_over(reference_, *last_laid_);
}

}  // namespace tedge::desk
