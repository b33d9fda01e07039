// The day of a sale at the desk. Figures: 8,500 at 25 % and VAT on the premium come to 11,050 (inv8 of
// tests/reference/auction_invoice_examples.csv); days are counted by hand.
#include <QApplication>
#include <QCheckBox>
#include <QClipboard>
#include <QComboBox>
#include <QGuiApplication>
#include <QLineEdit>
#include <QMenu>
#include <QPrinter>
#include <QSignalSpy>
#include <QTest>
#include <catch2/catch.hpp>

#include "case_view.hpp"
#include "ceiling/ceiling_panel.hpp"
#include "form_fixture.hpp"
#include "painted_desk.hpp"
#include "photographs/small_pictures.hpp"
#include "saleday/cards_dialog.hpp"
#include "saleday/deadlines_dialog.hpp"
#include "saleday/invoice_dialog.hpp"
#include "saleday/price_book_dialog.hpp"
#include "saleday/rests_on_panel.hpp"
#include "saleday/result_dialog.hpp"
#include "saleday/sale_acts.hpp"
#include "saleday/sale_day_panel.hpp"
#include "saleday/terms_dialog.hpp"
#include "tedge/base/files.hpp"
#include "tedge/usecases/ceilings.hpp"

using namespace tedge;
using namespace tedge::desk;
using casebook::FieldValues;

namespace {

// Sells at 20,000 for certain, cleaned for 3,000: the limit is 8,500 (calculation: tests/usecases/money).
constexpr std::string_view plan_of_sale = R"({"currency": "GBP",
 "sale": {"premium": [{"percent": 25}], "vat_on_premium_percent": 20, "increments": "common"},
 "selling": "margin-scheme", "vat_percent": 20, "costs": [{"name": "cleaning", "amount": 3000}],
 "outcomes": [{"name": "by the master", "price": 20000, "months": 6}],
 "target": {"profit": 4000, "cash": 16000}})";

Money sterling(std::int64_t minor) {
    return {minor, Currency::parse("GBP").value()};
}

// 3 March 2026: the sale of lot 212 is on the 5th.
struct SaleBook : FormBook {
    Uuid lot = add("lot", FieldValues()
                              .text("saleroom", "Quay Rooms")
                              .text("lot_number", "212")
                              .text("sale_at", "2026-03-05T14:30:00Z")
                              .text("sale_zone", "Europe/London")
                              .money("estimate_low", sterling(400'000))
                              .value("terms/premium", nlohmann::json::array({{{"percent", 25}}}))
                              .number("terms/vat_on_premium_percent", 20)
                              .integer("terms/pay_within_days", 5)
                              .integer("terms/return_window_days", 21));
    void fix_limit() {
        clock.advance(std::chrono::seconds(1));
        REQUIRE(usecases::fix_ceiling(session->acting(), case_id, plan_of_sale));
    }
    void come_to_the_sale() { clock.advance(std::chrono::hours(24 * 4)); }
    void buy() {
        come_to_the_sale();
        ResultDialog dialog(*session, snapshot());
        dialog.editor("result")->set_typed(QStringLiteral("bought"));
        dialog.editor("hammer")->set_typed(QStringLiteral("8,500 GBP"));
        dialog.record();
        REQUIRE(dialog.recorded());
    }
    casebook::Body newest(std::string_view kind) { return snapshot().of_kind(kind).back()->body; }
};

QString cell(const QTableWidget& table, int row, int column) {
    const QTableWidgetItem* item = table.item(row, column);
    return item != nullptr ? item->text() : QString();
}

int row_of(const QTableWidget& table, const QString& name, int column = 0) {
    for (int row = 0; row < table.rowCount(); ++row)
        if (cell(table, row, column) == name) return row;
    return -1;
}

}  // namespace

TEST_CASE("Both cards are seen before they are taken along, saved light and dark, and printed") {
    SaleBook b;
    b.fix_limit();
    CardsDialog dialog(*b.session, b.snapshot());
    dialog.resize(900, 600);
    REQUIRE(comes_true([&] { return !dialog.is_busy(); }));
    CHECK(dialog.has_cards());
    CHECK(says(dialog, QStringLiteral("Limit GBP 8,500.00")));
    CHECK_FALSE(says(dialog, QStringLiteral("out of date")));
    QSignalSpy told(&dialog, &CardsDialog::told);
    const auto save = [&](usecases::OldCards old_cards = usecases::OldCards::stay) {
        dialog.save_into(shown((b.folder / "cards").string()), old_cards);
        REQUIRE(told.wait(60'000));
        REQUIRE(comes_true([&] { return !dialog.is_busy(); }));
    };
    save();
    for (const char* file :
         {"pocket-card.pdf", "pocket-card.png", "desk-card.pdf", "desk-card-1.png", "desk-card-2.png"})
        CHECK(std::filesystem::file_size(b.folder / "cards" / file) > 1000);
    CHECK(says(dialog, QStringLiteral("Saved in")));
    // Old cards are taken away only by somebody who says so.
    save();
    CHECK(says(dialog, QStringLiteral("already")));
    REQUIRE(button(dialog, QStringLiteral("Replace the old cards")) != nullptr);
    CHECK_FALSE(button(dialog, QStringLiteral("Replace the old cards"))->isHidden());
    save(usecases::OldCards::are_replaced);
    CHECK(says(dialog, QStringLiteral("Saved in")));
    CHECK(button(dialog, QStringLiteral("Replace the old cards"))->isHidden());
    dialog.show_ground(dossier::CardGround::dark);
    REQUIRE(comes_true([&] { return !dialog.is_busy(); }));
    save();
    CHECK(std::filesystem::exists(b.folder / "cards" / "pocket-card-dark.png"));

    const auto printer = std::make_shared<QPrinter>(QPrinter::HighResolution);
    printer->setOutputFormat(QPrinter::PdfFormat);
    printer->setOutputFileName(shown((b.folder / "printed.pdf").string()));
    printer->setPageSize(QPageSize(QPageSize::A6));
    dialog.print_on(printer, CardsDialog::Card::desk);
    REQUIRE(told.wait(60'000));
    CHECK(says(dialog, QStringLiteral("2 sides given to the printer")));
    REQUIRE(comes_true([&] { return !dialog.is_busy(); }));
}

TEST_CASE("Without a limit there are no cards and it says why; a limit out of date says so") {
    SaleBook b;
    {
        CardsDialog dialog(*b.session, b.snapshot());
        REQUIRE(comes_true([&] { return !dialog.is_busy(); }));
        CHECK_FALSE(dialog.has_cards());
        CHECK(says(dialog, QStringLiteral("No limit is fixed")));
        CHECK(button(dialog, QStringLiteral("Save as PDF and PNG …"))->isHidden());
    }
    b.fix_limit();
    b.add("viewing_note", FieldValues().text("text", "skinned in the sky"));
    CardsDialog dialog(*b.session, b.snapshot());
    CHECK(says(dialog, QStringLiteral("A viewing note was written after the limit was fixed.")));
    CHECK(says(dialog, QStringLiteral("The limit is out of date")));
    REQUIRE(comes_true([&] { return !dialog.is_busy(); }));
}

TEST_CASE("A lot bought is told against the limit, and makes purchase, custody and deadlines in one step") {
    SaleBook b;
    b.fix_limit();
    ResultDialog early(*b.session, b.snapshot());
    early.editor("result")->set_typed(QStringLiteral("bought"));
    early.editor("hammer")->set_typed(QStringLiteral("8,500 GBP"));
    CHECK(says(early, QStringLiteral("The sale is still to come")));
    early.record();
    CHECK_FALSE(early.recorded());
    CHECK(says(early, QStringLiteral("The sale begins only on 5 March 2026, 14:30 Europe/London")));
    b.come_to_the_sale();

    ResultDialog dialog(*b.session, b.snapshot());
    CHECK(dialog.editor("hammer")->isHidden());  // asked once there is a result it belongs to
    dialog.record();
    CHECK(says(dialog, QStringLiteral("Say what became of it first")));
    dialog.editor("result")->set_typed(QStringLiteral("bought"));
    CHECK_FALSE(dialog.editor("hammer")->isHidden());
    CHECK(dialog.editor("our_last_bid")->isHidden());
    dialog.editor("hammer")->set_typed(QStringLiteral("9,000 GBP"));
    CHECK(says(dialog, QStringLiteral("Bought GBP 500 above the limit of GBP 8,500: the limit was not kept.")));
    dialog.editor("hammer")->set_typed(QStringLiteral("8,500 GBP"));
    CHECK(says(dialog, QStringLiteral("Bought at the limit.")));
    CHECK(says(dialog, QStringLiteral("premium GBP 2,125.00 + VAT on premium GBP 425.00; all-in GBP 11,050.00")));
    CHECK(b.snapshot().of_kind("purchase").empty());  // said ahead, not recorded
    dialog.editor("insured_by")->set_typed(QStringLiteral("the Lantern Mutual"));
    dialog.record();
    REQUIRE(dialog.recorded());
    CHECK(b.newest("purchase").money("all_in") == sterling(1'105'000));
    CHECK(b.newest("custody").text("insured_by") == "the Lantern Mutual");
    CHECK(b.snapshot().of_kind("deadline").size() == 2);
    CHECK_FALSE(usecases::ceiling_standing(b.snapshot())->out_of_date());
    b.session->undo();
    CHECK(b.snapshot().of_kind("purchase").empty());
    CHECK(b.snapshot().of_kind("deadline").empty());
    CHECK_FALSE(b.newest("lot").has("result"));
    b.session->redo();
    CHECK(b.snapshot().of_kind("purchase").size() == 1);

    ResultDialog again(*b.session, b.snapshot());  // paid later
    CHECK(again.editor("hammer")->typed() == QStringLiteral("8500.00 GBP"));
    again.editor("paid_on")->set_typed(QStringLiteral("7 March 2026"));
    again.record();
    CHECK(b.newest("purchase").text("paid_on") == "2026-03-07");
    CHECK(b.snapshot().of_kind("purchase").size() == 1);
}

TEST_CASE("What is no price is said beside it, and a lot bought in takes what it can be had for") {
    SaleBook b;
    b.fix_limit();
    b.come_to_the_sale();
    ResultDialog dialog(*b.session, b.snapshot());
    dialog.editor("result")->set_typed(QStringLiteral("bought-in"));
    dialog.editor("after_sale_offer")->set_typed(QStringLiteral("dear GBP"));
    dialog.record();
    CHECK_FALSE(dialog.recorded());
    CHECK_FALSE(dialog.editor("after_sale_offer")->fault().isEmpty());
    dialog.editor("after_sale_offer")->set_typed(QStringLiteral("6,000 GBP"));
    CHECK(says(dialog, QStringLiteral("Not sold; offered after the sale GBP 2,500 below the limit of GBP 8,500.")));
    dialog.record();
    CHECK(b.newest("lot").money("after_sale_offer") == sterling(600'000));
    CHECK(b.snapshot().of_kind("purchase").empty());
    SaleDayPanel panel(*b.session);
    panel.show_case(b.snapshot());
    CHECK(says(panel, QStringLiteral("offered after the sale")));
    ResultDialog bought(*b.session, b.snapshot());
    bought.editor("result")->set_typed(QStringLiteral("bought"));
    bought.record();
    CHECK(says(bought, QStringLiteral("What it was knocked down at is not said.")));
}

TEST_CASE("An invoice is held against the terms while it is typed, and kept with the purchase") {
    SaleBook b;
    b.buy();
    InvoiceDialog dialog(*b.session, b.snapshot());
    QTableWidget& table = dialog.table();
    CHECK(says(dialog, QStringLiteral("All-in by the terms GBP 11,050.00. Nothing is typed yet.")));
    CHECK(says(dialog, QStringLiteral("△ The terms do not say when the risk passes")));
    REQUIRE(row_of(table, QStringLiteral("premium")) == 1);
    CHECK(cell(table, 1, 1) == QStringLiteral("2,125.00"));
    dialog.keep();
    CHECK(says(dialog, QStringLiteral("Type what is charged first")));
    dialog.fill_as_due();
    CHECK(says(dialog, QStringLiteral("● It agrees with the recorded terms.")));
    table.item(1, 2)->setText(QStringLiteral("2,150.50"));
    CHECK(cell(table, 1, 3) == QStringLiteral("25.50"));
    CHECK(says(dialog, QStringLiteral("GBP 25.50 too much")));
    table.item(1, 2)->setText(QStringLiteral("much"));
    CHECK(says(dialog, QStringLiteral("⊘ premium")));
    dialog.reject();
    CHECK(says(dialog, QStringLiteral("not saved yet")));
    table.item(1, 2)->setText(QStringLiteral("2150.50"));
    table.item(3, 0)->setText(QStringLiteral("insurance"));
    table.item(3, 2)->setText(QStringLiteral("85"));
    CHECK(says(dialog, QStringLiteral("insurance: GBP 85.00 is charged, and the recorded terms know no such charge.")));
    dialog.keep();
    const auto kept = b.newest("purchase").as_json().at("received_invoice");
    CHECK(kept.at("lines").size() == 4);
    InvoiceDialog again(*b.session, b.snapshot());
    CHECK(cell(again.table(), 1, 2) == QStringLiteral("2,150.50"));
    CHECK(cell(again.table(), row_of(again.table(), QStringLiteral("insurance")), 2) == QStringLiteral("85.00"));
    b.session->undo();
    CHECK_FALSE(b.newest("purchase").has("received_invoice/lines"));
}

TEST_CASE("An invoice is pasted as it was sent, or read from a file; what cannot be read changes nothing") {
    SaleBook b;
    b.buy();
    InvoiceDialog dialog(*b.session, b.snapshot());
    QGuiApplication::clipboard()->setText(
        QStringLiteral("Invoice number\tQ 26/212\nHammer price\t£8,500.00\nBuyer's premium\t£2,125.00\n"
                       "VAT on buyer's premium\t£425.00\nTotal due\t£11,050.00"));
    button(dialog, QStringLiteral("Paste"))->click();
    CHECK(says(dialog, QStringLiteral("● It agrees")));
    dialog.take_text(QStringLiteral("hammer;8500,00"));
    CHECK(says(dialog, QStringLiteral("⊘ The line")));
    CHECK(cell(dialog.table(), 0, 2) == QStringLiteral("8,500.00"));
    REQUIRE(write_file_durably(b.folder / "invoice.csv", "hammer;8500\npremium;2125\nVAT on premium;425\nlift;20\n"));
    dialog.take_file(shown((b.folder / "invoice.csv").string()));
    CHECK(says(dialog, QStringLiteral("lift: GBP 20.00 is charged")));
    dialog.keep();
    CHECK(b.newest("purchase").text("invoice_number") == "Q 26/212");
}

TEST_CASE("What falls due is counted, the next first, the past marked, marked as done and written for calendars") {
    SaleBook b;
    b.buy();  // on the 5th; it is the 7th: pay by the 10th, return until the 26th
    b.add("deadline", FieldValues().text("what", "ask the carrier").text("on", "2026-03-02"));
    DeadlinesDialog dialog(*b.session, b.case_id);
    QTableWidget& table = dialog.table();
    REQUIRE(table.rowCount() == 3);
    CHECK(says(dialog, QStringLiteral("Next: Pay for lot 212, 10 March 2026, in 3 days · △ 1 overdue")));
    CHECK(cell(table, 0, 1) == QStringLiteral("Ask the carrier"));
    CHECK(cell(table, 0, 3) == QStringLiteral("△ overdue by 5 days"));
    table.setCurrentCell(1, 0);
    CHECK(says(dialog, QStringLiteral("5 days after the sale on 5 March 2026 by its terms.")));
    dialog.count();
    CHECK(says(dialog, QStringLiteral("Each stands as it is counted.")));
    CHECK(says(dialog, QStringLiteral("The terms do not say until when to collect.")));
    table.setCurrentCell(0, 0);
    dialog.mark_done();
    CHECK(cell(table, 2, 3) == QStringLiteral("● done 7 March 2026"));
    b.session->undo();

    const QString file = shown((b.folder / "due.ics").string());
    dialog.export_to(file);
    CHECK(says(dialog, QStringLiteral("● Saved 3 entries")));
    CHECK(read_file(b.folder / "due.ics")->find("SUMMARY:Pay for lot 212: River landscape") != std::string::npos);
    REQUIRE(write_file_durably(b.folder / "mine.txt", "a letter"));
    dialog.export_to(shown((b.folder / "mine.txt").string()));
    CHECK(says(dialog, QStringLiteral("it is no calendar")));
    CHECK(read_file(b.folder / "mine.txt").value() == "a letter");

    DeadlinesDialog all(*b.session, std::nullopt);
    CHECK(all.table().rowCount() == 3);
    CHECK_FALSE(all.table().isColumnHidden(2));
    CHECK_FALSE(button(all, QStringLiteral("Count from the terms"))->isEnabled());
    QSignalSpy wanted(&all, &DeadlinesDialog::record_wanted);
    button(all, QStringLiteral("Open it"))->click();
    CHECK(wanted.count() == 1);
}

TEST_CASE("Terms tell what they come to while they are typed; a preset begins them and names no house") {
    SaleBook b;
    TermsDialog dialog(*b.session, b.snapshot());
    QTableWidget& prices = dialog.prices();
    const auto all_in = [&](const char* hammer) {
        return cell(prices, row_of(prices, QString::fromLatin1(hammer)), 1);
    };
    CHECK(all_in("GBP 1,000") == QStringLiteral("1,300"));  // 1000 + 250 + 50
    dialog.editor("terms/premium")->set_typed(QStringLiteral("20"));
    CHECK(all_in("GBP 1,000") == QStringLiteral("1,240"));
    dialog.editor("terms/premium")->set_typed(QStringLiteral("25 to 500; 20"));
    CHECK(all_in("GBP 1,000") == QStringLiteral("1,270"));  // 125 + 100, and VAT of 45
    QTableWidget& routes = dialog.routes();
    CHECK(row_of(routes, QStringLiteral("In the room")) == 0);
    CHECK(cell(routes, 0, 2) == QStringLiteral("–"));
    CHECK(cell(routes, 3, 2) == QStringLiteral("36"));  // 3 % of 1,000 and VAT on it
    CHECK(says(dialog, QStringLiteral("from memory")));
    dialog.begin_with("ordinary-vat-lot");
    CHECK(all_in("GBP 1,000") == QStringLiteral("1,500"));                          // VAT of 200 on the hammer too
    CHECK(dialog.editor("terms/pay_within_days")->typed() == QStringLiteral("5"));  // no preset says it
    dialog.reject();
    CHECK(dialog.result() != QDialog::Accepted);
    CHECK(says(dialog, QStringLiteral("not saved yet")));
    dialog.save();
    CHECK(b.newest("lot").number("terms/vat_on_hammer_percent") == 20.0);
    CHECK(b.newest("lot").text("terms/increments") == "common");
    b.session->undo();
    CHECK_FALSE(b.newest("lot").has("terms/vat_on_hammer_percent"));
    dialog.editor("terms/premium")->set_typed(QString());
    CHECK(prices.rowCount() == 0);
    CHECK(says(dialog, QStringLiteral("Say the premium")));
}

TEST_CASE("Terms written before there is a lot begin one") {
    FormBook b;
    TermsDialog dialog(*b.session, b.snapshot());
    dialog.begin_with("flat-22");
    dialog.save();
    REQUIRE(b.snapshot().of_kind("lot").size() == 1);
    CHECK(b.snapshot().of_kind("lot").back()->body.has("terms/premium"));
}

TEST_CASE("What prices rest on stands beside the plan, and the price book tells what acts came to") {
    SaleBook b;
    RestsOnPanel panel(*b.session);
    panel.show_case(b.snapshot());
    CHECK(panel.isHidden());
    b.add("comparable",
          FieldValues().text("work", "The ferry").money("price", sterling(1'400'000)).text("outcome", "by the master"));
    b.add("comparable", FieldValues().text("work", "A mill").flag("unsold", true).text("outcome", "by the master"));
    panel.show_case(b.snapshot());
    CHECK(says(panel, QStringLiteral("<b>by the master</b>: 1 sold, 1 unsold")));
    b.session->set_client_looks(true);
    CHECK(panel.isHidden());
    b.session->set_client_looks(false);
    CHECK_FALSE(panel.isHidden());

    CHECK(says(PriceBookDialog(*b.session), QStringLiteral("No past cost names its act")));
    b.add("cost_line", FieldValues()
                           .text("name", "cleaning")
                           .text("treatment", "varnish-removal")
                           .text("measure", "m2")
                           .number("quantity", 0.5)
                           .money("actual", sterling(60'000)));
    PriceBookDialog book(*b.session);
    REQUIRE(book.table().rowCount() == 1);
    CHECK(cell(book.table(), 0, 0) == QStringLiteral("Varnish removal"));
    CHECK(cell(book.table(), 0, 3) == QStringLiteral("GBP 1,200.00"));
    CHECK(cell(book.table(), 0, 5) == QStringLiteral("1 (too few)"));
}

TEST_CASE("While a client looks the windows of a sale are shut and nothing of it is offered") {
    SaleBook b;
    b.fix_limit();
    SaleDayPanel panel(*b.session);
    panel.show_case(b.snapshot());
    CHECK(says(panel, QStringLiteral("Sale, lot 212, in 2 days")));
    InvoiceDialog dialog(*b.session, b.snapshot());
    dialog.show();
    REQUIRE(QTest::qWaitForWindowActive(&dialog));
    QTest::keyClick(&dialog, Qt::Key_F9);
    CHECK(b.session->client_looks());
    CHECK(dialog.isHidden());
    CHECK(panel.isHidden());
    SaleActs acts(*b.session, &panel);
    acts.show_case(b.snapshot());
    CHECK_FALSE(acts.can(SaleAct::cards));
    CHECK_FALSE(acts.can(SaleAct::all_deadlines));
    b.session->set_client_looks(false);
    CHECK(acts.can(SaleAct::cards));
    CHECK_FALSE(acts.can(SaleAct::invoice));  // nothing was knocked down yet
}

TEST_CASE("The head of a case leads to the acts of its sale, a purchase to its form with what is expected") {
    PaintedDesk desk;
    CaseHead& head = desk.view().head();
    auto* sale = button(head, QStringLiteral("The sale"));
    REQUIRE(sale != nullptr);
    REQUIRE(sale->menu() != nullptr);
    emit sale->menu()->aboutToShow();
    QStringList texts;
    for (const QAction* action : sale->menu()->actions())
        if (!action->isSeparator()) texts << action->text().remove(u'&') + (action->isEnabled() ? u' ' : u'-');
    CHECK(texts.size() == 7);
    CHECK(texts.contains(QStringLiteral("Cards for the sale … ")));
    CHECK(texts.contains(QStringLiteral("Result of the lot …-")));  // there is no lot yet
    const Uuid purchase = usecases::add_record(desk.session().acting(), desk.case_id, "purchase",
                                               FieldValues().money("hammer", sterling(850'000)))
                              .value()
                              .record;
    emit desk.session().changed();
    emit desk.view().sale_acts().record_wanted(desk.case_id, purchase, QStringLiteral("By the terms: hammer"));
    RecordSheet& sheet = desk.view().sheets().sheet(usecases::Stage::lot);
    CHECK(sheet.form_is_open());
    CHECK(says(sheet, QStringLiteral("By the terms: hammer")));
    CHECK(sheet.form().editor("hammer")->typed() == QStringLiteral("8500.00 GBP"));
}
