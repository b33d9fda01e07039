// Passing a closed gate: what is missing, and who takes it upon himself, and why. It looks like what it is.
#pragma once

#include <QDialog>

#include "forms/gate_notice.hpp"

class QLineEdit;
class QPlainTextEdit;

namespace tedge::desk {

class OverrideDialog : public QDialog {
    Q_OBJECT

public:
    OverrideDialog(const std::vector<InTheWay>& closing, const QString& author, QWidget* parent = nullptr);

    // One for each requirement, all with the same name and reason.
    [[nodiscard]] std::vector<usecases::Override> overrides(const Uuid& case_id) const;
    [[nodiscard]] QLineEdit* name() { return name_; }
    [[nodiscard]] QPlainTextEdit* reason() { return reason_; }

public slots:
    void accept() override;

private:
    std::vector<InTheWay> closing_;
    QLineEdit* name_;
    QPlainTextEdit* reason_;
    QLabel* fault_;
};

}  // namespace tedge::desk
