// One line, or paragraphs.
#pragma once

#include "forms/entries/entry.hpp"

class QLineEdit;
class QPlainTextEdit;

namespace tedge::desk {

class LineEntry : public Entry {
    Q_OBJECT

public:
    LineEntry(const QString& hint, QWidget* parent);
    [[nodiscard]] QString typed() const override;
    void set_typed(const QString& text) override;
    [[nodiscard]] QWidget* focused() const override;
    void set_name(const QString& name) override;

private:
    QLineEdit* line_;
};

class ParagraphEntry : public Entry {
    Q_OBJECT

public:
    explicit ParagraphEntry(QWidget* parent);
    [[nodiscard]] QString typed() const override;
    void set_typed(const QString& text) override;
    [[nodiscard]] QWidget* focused() const override;
    void set_name(const QString& name) override;

private:
    QPlainTextEdit* paragraphs_;
};

}  // namespace tedge::desk
