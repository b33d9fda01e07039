// An amount, or three of an estimate, and the currency they are in.
#pragma once

#include <QList>

#include "forms/entries/entry.hpp"

class QComboBox;
class QGridLayout;
class QLineEdit;

namespace tedge::desk {

// ISO 4217 codes, those of the trade's places first; any other code may be typed.
[[nodiscard]] QComboBox* currency_list(QObject* filter, const QString& proposed, QWidget* parent);

class AmountEntry : public Entry {
    Q_OBJECT

public:
    AmountEntry(bool is_estimate, QString proposed_currency, QWidget* parent);
    [[nodiscard]] QString typed() const override;
    void set_typed(const QString& text) override;
    [[nodiscard]] QWidget* focused() const override;
    void set_name(const QString& name) override;

protected:
    void resizeEvent(QResizeEvent* event) override;
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    void place_currency();
    QString proposed_;
    QGridLayout* row_ = nullptr;
    QList<QLineEdit*> figures_;
    QComboBox* currency_;
};

}  // namespace tedge::desk
