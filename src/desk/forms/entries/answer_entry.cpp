#include "forms/entries/answer_entry.hpp"

#include <QBoxLayout>

#include "forms/flow_layout.hpp"

namespace tedge::desk {

namespace {

constexpr int narrowest_remark_px = 70;
constexpr int gap_px = FlowLayout::gap_px;

}  // namespace

AnswerEntry::AnswerEntry(const QList<Word>& words, QWidget* parent)
    : Entry(parent),
      row_(new QBoxLayout(QBoxLayout::LeftToRight, this)),
      answer_(new WordEntry(words, this)),
      remark_(new LineEntry(tr("remark"), this)) {
    // The remark is always there: what comes and goes would move the next question under the finger.
    row_->setContentsMargins(0, 0, 0, 0);
    row_->setSpacing(gap_px);
    row_->addWidget(answer_);
    row_->addWidget(remark_, 1);
    answer_->setFixedWidth(answer_->width_in_one_line());
    connect(answer_, &Entry::edited, this, &Entry::edited);
    connect(remark_, &Entry::edited, this, &Entry::edited);
}

void AnswerEntry::resizeEvent(QResizeEvent* event) {
    Entry::resizeEvent(event);
    const bool is_narrow = width() < answer_->width() + gap_px + narrowest_remark_px;
    row_->setDirection(is_narrow ? QBoxLayout::TopToBottom : QBoxLayout::LeftToRight);
}

QSize AnswerEntry::minimumSizeHint() const {
    return {answer_->width(), target_px};
}

QString AnswerEntry::typed() const {
    return answer_text({answer_->typed(), remark_->typed()});
}

void AnswerEntry::set_typed(const QString& text) {
    const Answered answered = parts_of_answer(text);
    remark_->set_typed(answered.remark);
    answer_->set_typed(answered.word);
}

QWidget* AnswerEntry::focused() const {
    return answer_->focused();
}

void AnswerEntry::set_name(const QString& name) {
    answer_->set_name(name);
    remark_->set_name(tr("%1: remark").arg(name));
}

}  // namespace tedge::desk
