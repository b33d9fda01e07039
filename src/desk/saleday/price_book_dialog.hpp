// What acts came to in past cases, by their measure, beside what was estimated.
#pragma once

#include "saleday/sale_dialog.hpp"

namespace tedge::desk {

class PriceBookDialog : public SaleDialog {
    Q_OBJECT

public:
    explicit PriceBookDialog(BookSession& session, QWidget* parent = nullptr);
    [[nodiscard]] QTableWidget& table() { return *table_; }

private:
    QTableWidget* table_;
};

}  // namespace tedge::desk
