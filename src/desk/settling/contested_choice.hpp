// One contested field: what each said, one of which is chosen, or another value written.
#pragma once

#include <QWidget>

#include "forms/typed_value.hpp"
#include "tedge/casebook/disagreement.hpp"

class QButtonGroup;
class QLabel;
class QRadioButton;
class QVBoxLayout;

namespace tedge::desk {

class FieldEditor;

class ContestedChoice : public QWidget {
    Q_OBJECT

public:
    ContestedChoice(const casebook::Contested& contested, const casebook::Record& now, const FormContext& context,
                    QWidget* parent = nullptr);

    // Puts the decision in. False, with the reason shown, when there is none or what was written does not fit.
    [[nodiscard]] bool put_into(casebook::FieldValues& values, std::optional<bool>& stays);
    [[nodiscard]] QList<QRadioButton*> choices() const;
    [[nodiscard]] FieldEditor* another() const { return another_; }  // nullptr where a form has no entry for it
    // What stands in `another` counts: somebody may have typed there and then chosen what was said.
    [[nodiscard]] bool is_another_chosen() const;
    void focus_first();

signals:
    void decided();

private:
    void add_sides(const casebook::Record& now, const FormContext& context, QVBoxLayout& column);
    void add_another(const casebook::Record& now, const FormContext& context, QVBoxLayout& column);
    void show_fault(const QString& text);

    casebook::Contested contested_;
    QButtonGroup* group_;
    FieldEditor* another_ = nullptr;
    QLabel* fault_;
};

}  // namespace tedge::desk
