// The house as a whole: all pictures with their money, the stock book, the price list in the private code, and what
// holds for the house. While a client looks, only the list in code is left, without the asking prices.
#pragma once

#include <QDialog>

#include "book_session.hpp"

class QTabWidget;

namespace tedge::desk {

class HouseForm;
class PortfolioPage;
class PriceListPage;
class StockBookPage;

class HouseDialog : public QDialog {
    Q_OBJECT

public:
    explicit HouseDialog(BookSession& session, QWidget* parent = nullptr);

    [[nodiscard]] QTabWidget& pages() { return *pages_; }
    [[nodiscard]] PortfolioPage& portfolio() { return *portfolio_; }
    [[nodiscard]] StockBookPage& stock_book() { return *stock_book_; }
    [[nodiscard]] PriceListPage& price_list() { return *price_list_; }
    [[nodiscard]] HouseForm& house() { return *house_; }

signals:
    void case_wanted(const tedge::Uuid& case_id);

private:
    void look_again();
    void hide_from_client(bool looks);
    BookSession& session_;
    QTabWidget* pages_;
    PortfolioPage* portfolio_;
    StockBookPage* stock_book_;
    PriceListPage* price_list_;
    HouseForm* house_;
};

}  // namespace tedge::desk
