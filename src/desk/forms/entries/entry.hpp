// What a value is entered with: a line, paragraphs, words to tap, a list, an amount with its currency.
#pragma once

#include <QWidget>

#include "forms/typed_value.hpp"

namespace tedge::desk {

// Large enough for a gloved finger (the 44 px of WCAG 2.1, 2.5.5).
inline constexpr int target_px = 44;

class Entry : public QWidget {
    Q_OBJECT

public:
    using QWidget::QWidget;

    // As typed_value.hpp has it; "" where nothing is.
    [[nodiscard]] virtual QString typed() const = 0;
    virtual void set_typed(const QString& text) = 0;
    [[nodiscard]] virtual QWidget* focused() const = 0;  // what takes the focus
    virtual void set_name(const QString& name) = 0;      // for those who do not see it

signals:
    void edited();
};

// The one that fits the field.
[[nodiscard]] Entry* make_entry(const casebook::Field& field, const FormContext& context, QWidget* parent);

}  // namespace tedge::desk
