#include "saleday/sale_acts.hpp"

#include <QMenu>
#include <array>

#include "saleday/cards_dialog.hpp"
#include "saleday/deadlines_dialog.hpp"
#include "saleday/invoice_dialog.hpp"
#include "saleday/price_book_dialog.hpp"
#include "saleday/result_dialog.hpp"
#include "saleday/sale_words.hpp"
#include "saleday/terms_dialog.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

constexpr std::array acts_of_menu{SaleAct::terms,     SaleAct::cards,         SaleAct::result,    SaleAct::invoice,
                                  SaleAct::deadlines, SaleAct::all_deadlines, SaleAct::price_book};

}  // namespace

QString sale_act_text(SaleAct act, const casebook::CaseSnapshot& snapshot) {
    switch (act) {
        case SaleAct::cards:
            return QObject::tr("&Cards for the sale …");
        case SaleAct::terms:
            return QObject::tr("T&erms, and what they come to …");
        case SaleAct::result:
            return snapshot.of_kind("purchase").empty() ? QObject::tr("Result of the l&ot …")
                                                        : QObject::tr("Paid, insured, c&ollected …");
        case SaleAct::invoice:
            return QObject::tr("The saleroom's &invoice …");
        case SaleAct::deadlines:
            return QObject::tr("What &falls due …");
        case SaleAct::all_deadlines:
            return QObject::tr("What falls due, all pict&ures …");
        case SaleAct::price_book:
            return QObject::tr("Price &book …");
    }
    return {};
}

SaleActs::SaleActs(BookSession& session, QWidget* window) : QObject(window), session_(session), window_(window) {}

QMenu* SaleActs::make_menu(QWidget* parent) {
    auto* menu = new QMenu(parent);
    connect(menu, &QMenu::aboutToShow, this, [this, menu] {
        menu->clear();
        for (const SaleAct act : acts_of_menu) {
            if (act == SaleAct::all_deadlines) menu->addSeparator();
            QAction* made = menu->addAction(sale_act_text(act, snapshot_.value_or(casebook::CaseSnapshot())));
            made->setEnabled(can(act));
            connect(made, &QAction::triggered, this, [this, act] { begin(act); });
        }
    });
    return menu;
}

bool SaleActs::can(SaleAct act) const {
    if (session_.client_looks()) return false;
    if (act == SaleAct::all_deadlines || act == SaleAct::price_book) return true;
    if (!snapshot_) return false;
    const auto lots = snapshot_->of_kind("lot");
    if (act == SaleAct::result) return !lots.empty();
    if (act == SaleAct::invoice) return usecases::hammer_paid(*snapshot_).has_value();
    return true;
}

void SaleActs::begin(SaleAct act) {
    if (!can(act)) return;
    switch (act) {
        case SaleAct::cards:
            CardsDialog(session_, *snapshot_, window_).exec();
            return;
        case SaleAct::terms:
            TermsDialog(session_, *snapshot_, window_).exec();
            return;
        case SaleAct::result:
            return record_result();
        case SaleAct::invoice:
            InvoiceDialog(session_, *snapshot_, window_).exec();
            return;
        case SaleAct::deadlines:
            return show_deadlines(snapshot_->picture.id);
        case SaleAct::all_deadlines:
            return show_deadlines(std::nullopt);
        case SaleAct::price_book:
            PriceBookDialog(session_, window_).exec();
            return;
    }
}

// Bought, the purchase stands there to be looked through against what is expected.
void SaleActs::record_result() {
    const bool was_bought = !snapshot_->of_kind("purchase").empty();
    ResultDialog dialog(session_, *snapshot_, window_);
    if (dialog.exec() != QDialog::Accepted || !dialog.recorded()) return;
    const usecases::RecordedResult& recorded = *dialog.recorded();
    if (was_bought || !recorded.purchase) return;
    QStringList why;
    if (recorded.expected) why << expected_words(*recorded.expected);
    for (const std::string& remark : recorded.remarks) why << QStringLiteral("△ ") + shown(remark);
    why << tr("Put right what the invoice says otherwise.");
    emit record_wanted(snapshot_->picture.id, *recorded.purchase, why.join(u'\n'));
}

void SaleActs::show_deadlines(const std::optional<Uuid>& case_id) {
    DeadlinesDialog dialog(session_, case_id, window_);
    connect(&dialog, &DeadlinesDialog::record_wanted, this,
            [this](const Uuid& of_case, const Uuid& record) { emit record_wanted(of_case, record, {}); });
    dialog.exec();
}

}  // namespace tedge::desk
