// What became of the lot: the price against the limit while it is typed; bought, also what was paid, who insures it
// since the risk is ours, and when it was fetched.
#pragma once

#include "forms/field_editor.hpp"
#include "saleday/sale_dialog.hpp"
#include "tedge/usecases/lot_results.hpp"

namespace tedge::desk {

class ResultDialog : public SaleDialog {
    Q_OBJECT

public:
    ResultDialog(BookSession& session, const casebook::CaseSnapshot& snapshot, QWidget* parent = nullptr);

    [[nodiscard]] FieldEditor* editor(std::string_view field) const;  // nullptr where there is none
    // Once it is recorded.
    [[nodiscard]] const std::optional<usecases::RecordedResult>& recorded() const { return recorded_; }

public slots:
    void record();

private:
    void build(QVBoxLayout& column);
    void add_editor(std::string_view kind, std::string_view field, const casebook::Body& stands);
    void show_wanted_fields();
    void tell_ahead();
    [[nodiscard]] bool has_unsaved() const override;
    [[nodiscard]] std::string said_result() const;
    // What is typed; nullopt where something does not fit.
    [[nodiscard]] std::optional<usecases::LotResult> typed(bool with_faults);

    FormContext context_;
    const casebook::Record* lot_ = nullptr;  // in the context's snapshot
    std::vector<FieldEditor*> editors_;
    QLabel* ahead_;
    std::optional<usecases::RecordedResult> recorded_;
};

}  // namespace tedge::desk
