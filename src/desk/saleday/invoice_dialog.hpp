// The saleroom's invoice beside what the terms make of the hammer price, line by line, as it is typed, pasted or read.
#pragma once

#include "saleday/sale_dialog.hpp"
#include "tedge/usecases/invoice_check.hpp"

class QLineEdit;

namespace tedge::desk {

class InvoiceDialog : public SaleDialog {
    Q_OBJECT

public:
    InvoiceDialog(BookSession& session, const casebook::CaseSnapshot& snapshot, QWidget* parent = nullptr);

    [[nodiscard]] QTableWidget& table() { return *table_; }
    // Shows a received invoice as text (JSON, or a table with a name and an amount a line) in place of what is typed.
    void take_text(const QString& text);
    void take_file(const QString& file);
    void fill_as_due();

public slots:
    void keep();

private:
    void tell_lot();
    void add_acts();
    void begin_rows();
    void show_received(const usecases::ReceivedInvoice& received);
    void add_row(const QString& name, const QString& charged, bool is_of_terms);
    void add_total_row(const QString& printed);
    // As typed; a fault of a line is shown at the line.
    [[nodiscard]] Expected<usecases::ReceivedInvoice> typed() const;
    void compare();
    void show_check(const usecases::InvoiceCheck& check);
    void ask_for_file();
    [[nodiscard]] bool has_unsaved() const override { return has_unsaved_; }

    casebook::CaseSnapshot snapshot_;
    std::optional<Money> hammer_;
    std::vector<money::InvoiceDifference> due_;  // by the terms, nothing charged yet
    QLineEdit* number_;
    QTableWidget* table_;
    QPushButton* keep_ = nullptr;
    bool is_filling_ = false;
    bool has_unsaved_ = false;
};

}  // namespace tedge::desk
