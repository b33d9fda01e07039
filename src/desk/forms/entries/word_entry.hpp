// A few words to tap: one of them, or none. A second tap takes it back.
#pragma once

#include <QList>

#include "forms/entries/entry.hpp"

class QPushButton;

namespace tedge::desk {

struct Word {
    QString stored;  // as the record has it
    QString said;    // as people read it
};

class WordEntry : public Entry {
    Q_OBJECT

public:
    WordEntry(const QList<Word>& words, QWidget* parent);
    [[nodiscard]] QString typed() const override;
    void set_typed(const QString& text) override;
    [[nodiscard]] QWidget* focused() const override;
    void set_name(const QString& name) override;
    [[nodiscard]] int width_in_one_line() const;

private:
    void choose(QPushButton* button, bool on);
    QList<Word> words_;
    QList<QPushButton*> buttons_;
};

}  // namespace tedge::desk
