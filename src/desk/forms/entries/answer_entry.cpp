#include "forms/entries/answer_entry.hpp"

#include <QVBoxLayout>

namespace tedge::desk {

AnswerEntry::AnswerEntry(const QList<Word>& words, QWidget* parent)
    : Entry(parent),
      answer_(new WordEntry(words, this)),
      remark_(new LineEntry(tr("where, how much, who says so"), this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(3);
    column->addWidget(answer_);
    column->addWidget(remark_);
    show_remark();
    connect(answer_, &Entry::edited, this, [this] {
        show_remark();
        emit edited();
    });
    connect(remark_, &Entry::edited, this, &Entry::edited);
}

// Fifteen questions fit on a screen only while those not asked yet take one line.
void AnswerEntry::show_remark() {
    remark_->setVisible(!answer_->typed().isEmpty() || !remark_->typed().isEmpty());
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
