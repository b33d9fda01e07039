#include "accounts/house_dialog.hpp"

#include <QDialogButtonBox>
#include <QPushButton>
#include <QShortcut>
#include <QTabWidget>
#include <QVBoxLayout>

#include "accounts/house_form.hpp"
#include "accounts/portfolio_page.hpp"
#include "accounts/price_list_page.hpp"
#include "accounts/stock_book_page.hpp"
#include "forms/entries/entry.hpp"

namespace tedge::desk {

namespace {

constexpr QSize house_size{1180, 760};

}  // namespace

HouseDialog::HouseDialog(BookSession& session, QWidget* parent)
    : QDialog(parent),
      session_(session),
      pages_(new QTabWidget(this)),
      portfolio_(new PortfolioPage(session, this)),
      stock_book_(new StockBookPage(session, this)),
      price_list_(new PriceListPage(session, this)),
      house_(new HouseForm(session, this)) {
    setWindowTitle(tr("The house"));
    resize(house_size.boundedTo(parent != nullptr ? parent->window()->size() : house_size));
    auto* column = new QVBoxLayout(this);
    pages_->addTab(portfolio_, tr("All pic&tures"));
    pages_->addTab(stock_book_, tr("Stock &book"));
    pages_->addTab(price_list_, tr("Price &list"));
    pages_->addTab(house_, tr("T&he house"));
    column->addWidget(pages_, 1);
    auto* buttons = new QDialogButtonBox(this);
    QPushButton* close = buttons->addButton(tr("&Close"), QDialogButtonBox::RejectRole);
    close->setMinimumHeight(target_px);
    close->setAutoDefault(false);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    column->addWidget(buttons);
    connect(portfolio_, &PortfolioPage::case_wanted, this, &HouseDialog::case_wanted);
    connect(stock_book_, &StockBookPage::case_wanted, this, &HouseDialog::case_wanted);
    connect(price_list_, &PriceListPage::case_wanted, this, &HouseDialog::case_wanted);
    connect(&session_, &BookSession::changed, this, &HouseDialog::look_again);
    connect(&session_, &BookSession::client_looks_changed, this, &HouseDialog::hide_from_client);
    // The window's own key does not reach it while this one is open.
    auto* client = new QShortcut(QKeySequence(Qt::Key_F9), this);
    connect(client, &QShortcut::activated, this, [this] { session_.set_client_looks(!session_.client_looks()); });
    look_again();
    hide_from_client(session_.client_looks());
}

void HouseDialog::look_again() {
    portfolio_->look();
    stock_book_->look();
    price_list_->look();
    house_->look();
}

void HouseDialog::hide_from_client(bool looks) {
    for (QWidget* page : std::initializer_list<QWidget*>{portfolio_, stock_book_, house_})
        pages_->setTabVisible(pages_->indexOf(page), !looks);
    if (looks) pages_->setCurrentWidget(price_list_);
    price_list_->look();
}

}  // namespace tedge::desk
