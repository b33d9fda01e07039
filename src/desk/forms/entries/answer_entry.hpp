// A question with its answer to tap and a line for a remark; or a file to be kept.
#pragma once

#include "forms/entries/line_entry.hpp"
#include "forms/entries/word_entry.hpp"

namespace tedge::desk {

class AnswerEntry : public Entry {
    Q_OBJECT

public:
    AnswerEntry(const QList<Word>& words, QWidget* parent);
    [[nodiscard]] QString typed() const override;
    void set_typed(const QString& text) override;
    [[nodiscard]] QWidget* focused() const override;
    void set_name(const QString& name) override;

private:
    void show_remark();
    WordEntry* answer_;
    LineEntry* remark_;  // there once something is answered
};

}  // namespace tedge::desk
