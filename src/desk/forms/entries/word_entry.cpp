#include "forms/entries/word_entry.hpp"

#include <QPushButton>
#include <QSignalBlocker>
#include <algorithm>

#include "forms/flow_layout.hpp"

namespace tedge::desk {

WordEntry::WordEntry(const QList<Word>& words, QWidget* parent) : Entry(parent), words_(words) {
    auto* row = new FlowLayout(this);
    for (const Word& word : words_) {
        auto* button = new QPushButton(word.said, this);
        button->setCheckable(true);
        button->setMinimumSize(target_px, target_px);
        connect(button, &QPushButton::toggled, this, [this, button](bool on) { choose(button, on); });
        row->addWidget(button);
        buttons_ << button;
    }
    QSizePolicy policy(QSizePolicy::Preferred, QSizePolicy::Preferred);
    policy.setHeightForWidth(true);
    setSizePolicy(policy);
}

int WordEntry::width_in_one_line() const {
    int width = 0;
    for (const QPushButton* each : buttons_)
        width += each->sizeHint().expandedTo(each->minimumSize()).width() + FlowLayout::gap_px;
    return width;
}

void WordEntry::choose(QPushButton* button, bool on) {
    for (QPushButton* other : buttons_) {
        if (!on || other == button) continue;
        const QSignalBlocker quiet(other);
        other->setChecked(false);
    }
    emit edited();
}

QString WordEntry::typed() const {
    for (qsizetype i = 0; i < buttons_.size(); ++i) {
        if (buttons_[i]->isChecked()) return words_[i].stored;
    }
    return {};
}

void WordEntry::set_typed(const QString& text) {
    for (qsizetype i = 0; i < buttons_.size(); ++i) {
        const QSignalBlocker quiet(buttons_[i]);
        buttons_[i]->setChecked(words_[i].stored == text);
    }
    emit edited();
}

QWidget* WordEntry::focused() const {
    const auto chosen = std::ranges::find_if(buttons_, [](const QPushButton* b) { return b->isChecked(); });
    return chosen != buttons_.end() ? *chosen : buttons_.front();
}

void WordEntry::set_name(const QString& name) {
    for (qsizetype i = 0; i < buttons_.size(); ++i) {
        buttons_[i]->setAccessibleName(name + QStringLiteral(": ") + words_[i].said);
    }
}

}  // namespace tedge::desk
