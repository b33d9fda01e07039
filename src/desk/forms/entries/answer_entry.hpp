// A question's answer to tap, and a line for a remark beside it.
#pragma once

#include "forms/entries/line_entry.hpp"
#include "forms/entries/word_entry.hpp"

class QBoxLayout;

namespace tedge::desk {

class AnswerEntry : public Entry {
    Q_OBJECT

public:
    AnswerEntry(const QList<Word>& words, QWidget* parent);
    [[nodiscard]] QString typed() const override;
    void set_typed(const QString& text) override;
    [[nodiscard]] QWidget* focused() const override;
    void set_name(const QString& name) override;
    [[nodiscard]] QSize minimumSizeHint() const override;

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    QBoxLayout* row_;
    WordEntry* answer_;
    LineEntry* remark_;
};

}  // namespace tedge::desk
