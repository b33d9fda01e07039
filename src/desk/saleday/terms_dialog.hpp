// The terms of the sale while they are written down, with what they come to beside them: round hammer prices in all,
// and one price by every way to bid. Presets to begin with name no house; the sale's own conditions decide.
#pragma once

#include "forms/field_editor.hpp"
#include "saleday/sale_dialog.hpp"
#include "tedge/money/sale_presets.hpp"

class QComboBox;
class QLineEdit;

namespace tedge::desk {

class TermsDialog : public SaleDialog {
    Q_OBJECT

public:
    TermsDialog(BookSession& session, const casebook::CaseSnapshot& snapshot, QWidget* parent = nullptr);

    [[nodiscard]] FieldEditor* editor(std::string_view field) const;
    [[nodiscard]] QTableWidget& prices() { return *prices_; }
    [[nodiscard]] QTableWidget& routes() { return *routes_; }
    void begin_with(std::string_view preset);

public slots:
    void save();

private:
    [[nodiscard]] QWidget* typed_side();
    [[nodiscard]] QWidget* reckoned_side();
    void begin_with_chosen();
    void reckon();
    void show_prices(const money::SaleTerms& terms);
    void show_routes(const money::SaleTerms& terms);
    void show_fault(const QString& text);
    [[nodiscard]] casebook::Body as_typed() const;  // a lot of these terms
    [[nodiscard]] bool has_unsaved() const override;

    FormContext context_;
    Currency currency_;
    const casebook::Record* lot_ = nullptr;  // in the context's snapshot
    std::vector<money::SalePreset> presets_;
    std::string increments_;  // of the preset chosen
    std::vector<FieldEditor*> editors_;
    QComboBox* preset_;
    QLabel* source_;
    QLabel* fault_;
    QTableWidget* prices_;
    QLineEdit* hammer_;
    QTableWidget* routes_;
    QLabel* routes_source_;
};

}  // namespace tedge::desk
