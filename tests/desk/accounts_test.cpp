// The account of a picture, the questions of law, and the house as a whole.
#include <QLineEdit>
#include <QListWidget>
#include <QPlainTextEdit>
#include <QScrollArea>
#include <QScrollBar>
#include <QSignalSpy>
#include <QTabWidget>
#include <QTest>
#include <catch2/catch.hpp>

#include "accounts/account_panel.hpp"
#include "accounts/amount_words.hpp"
#include "accounts/duties_panel.hpp"
#include "accounts/figure_table.hpp"
#include "accounts/house_dialog.hpp"
#include "accounts/house_form.hpp"
#include "accounts/portfolio_page.hpp"
#include "accounts/price_list_page.hpp"
#include "accounts/stock_book_page.hpp"
#include "desk_window.hpp"
#include "form_fixture.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/table.hpp"
#include "tedge/usecases/house.hpp"
#include "tedge/usecases/suspicions.hpp"

using namespace tedge;
using namespace tedge::desk;
using casebook::FieldValues;

namespace {

Money pounds(std::int64_t whole) {
    return {whole * 100, Currency::parse("GBP").value()};
}

// Bought for 1,180 (all-in 1,216), a lining estimated at 300–900 and billed at 450.
struct Deal : FormBook {
    Uuid purchase, lining;
    Deal() {
        clock.advance(std::chrono::days(200));
        purchase = add("purchase", FieldValues()
                                       .text("bought_on", "2026-04-01")
                                       .text("scheme", "margin")
                                       .money("margin_price", pounds(1180))
                                       .money("all_in", pounds(1216))
                                       .text("paid_on", "2026-04-03"));
        lining = add("cost_line", FieldValues()
                                      .text("name", "lining")
                                      .money_estimate("estimate", {30000, 45000, 90000}, pounds(0).currency)
                                      .money("actual", pounds(450))
                                      .text("due_on", "2026-04-30"));
    }
    Uuid sell(std::int64_t price) {
        return add("sale",
                   FieldValues().text("sold_on", "2026-06-01").text("scheme", "margin").money("price", pounds(price)));
    }
};

QString cell(const FigureTable& table, int row, int column) {
    const QTableWidgetItem* item = table.item(row, column);
    return item != nullptr ? item->text() : QString();
}

bool any_text(const QWidget& root, const QString& text) {
    for (const QPlainTextEdit* edit : root.findChildren<QPlainTextEdit*>())
        if (edit->isVisibleTo(&root) && edit->toPlainText().contains(text)) return true;
    return says(root, text);
}

QString read_text(const std::filesystem::path& file) {
    const auto bytes = read_file(file);
    return bytes ? shown(*bytes) : QString();
}

CaseSheets& account_sheet_in(DeskWindow& window, const Uuid& case_id) {
    window.show();
    window.open_case(case_id);
    window.case_view().show_sheet(usecases::Stage::account);
    return window.case_view().sheets();
}
}  // namespace

TEST_CASE("Short amounts leave out what the heading says, and decimals that are nothing") {
    const Currency gbp = pounds(0).currency;
    CHECK(short_amount(pounds(1250), gbp) == "1,250");
    CHECK(short_amount(Money{125050, gbp}, gbp) == "1,250.50");
    CHECK(short_amount(Money{30000, Currency::parse("EUR").value()}, gbp) == "EUR 300");
    CHECK(short_amount(std::optional<Money>(), gbp) == QStringLiteral("–"));
    CHECK(short_estimate({{30000, 45000, 90000}, gbp}, gbp) == QStringLiteral("300–900"));
    CHECK(short_estimate({{30000, 30000, 30000}, gbp}, gbp) == "300");
}

TEST_CASE("Actual stands beside estimated line by line, with what is still open and since when") {
    Deal b;
    AccountPanel panel(*b.session);
    panel.resize(480, 600);
    panel.show_case(b.snapshot());
    const FigureTable& lines = panel.entries();
    REQUIRE(lines.rowCount() == 2);
    CHECK(cell(lines, 0, 0) == "Purchase");
    CHECK(cell(lines, 0, 3).contains("paid"));
    CHECK(cell(lines, 1, 0) == "Lining");
    CHECK(cell(lines, 1, 1) == QStringLiteral("300–900"));
    CHECK(cell(lines, 1, 2) == "450");
    CHECK(cell(lines, 1, 3).contains("since 30 Apr"));  // in words and by a mark, not by colour alone
    CHECK(cell(lines, 1, 3).contains(QStringLiteral("△")));
    CHECK(says(panel, QStringLiteral("Result so far, unsold")));
    CHECK(says(panel, QStringLiteral("-1,666")));
    b.add("cost_line",
          FieldValues().text("name", "frame").money_estimate("estimate", {10000, 10000, 10000}, pounds(0).currency));
    b.sell(2000);
    panel.show_case(b.snapshot());
    CHECK(cell(lines, 3, 0) == "All costs");
    CHECK(cell(lines, 3, 1) == QStringLiteral("400–1,000"));
    CHECK(cell(lines, 3, 2) == "450");
    CHECK(cell(lines, 4, 0) == "Sale (in)");
    // 2,000 − 136.67 (a sixth of 820) − 1,216 − 450, worked by hand; HMRC Notice 718/2 for the margin.
    CHECK(says(panel, QStringLiteral("197.33")));
    CHECK(says(panel, QStringLiteral("in a margin of 820 over 1,180")));
}

TEST_CASE("A payment of what is open is begun with its amount and settles it") {
    Deal b;
    DeskWindow window(std::move(b.session));
    CaseSheets& sheets = account_sheet_in(window, b.case_id);
    AccountPanel& panel = sheets.account();
    auto* pay = button(panel, QStringLiteral("Record its payment"));
    REQUIRE(pay != nullptr);
    panel.entries().selectRow(0);
    CHECK_FALSE(pay->isEnabled());  // it is paid
    panel.entries().selectRow(1);
    REQUIRE(pay->isEnabled());
    pay->click();
    RecordForm& form = sheets.sheet(usecases::Stage::account).form();
    REQUIRE(form.kind() != nullptr);
    CHECK(form.kind()->name == "payment");
    CHECK(form.editor("amount")->typed().contains("450"));
    form.editor("on")->set_typed(QStringLiteral("2026-05-02"));
    form.save();
    const auto snapshot = window.session().book().snapshot(b.case_id).value();
    REQUIRE(snapshot.of_kind("payment").size() == 1);
    CHECK(snapshot.of_kind("payment").front()->body.record("settles") == b.lining);
    CHECK(cell(panel.entries(), 1, 3).contains("paid"));
    // Enter on a line opens the record it comes from, on its own sheet.
    panel.entries().selectRow(1);
    QTest::keyClick(&panel.entries(), Qt::Key_Return);
    CHECK(sheets.sheet(usecases::Stage::ceiling).form_is_open());
}

TEST_CASE("Shares are told with what they may come to; what the figures do not know is said") {
    Deal b;
    b.add("share", FieldValues().number("percent", 25).text("bears", "profit-and-loss"));
    AccountPanel panel(*b.session);
    panel.resize(480, 600);
    panel.show_case(b.snapshot());
    CHECK(says(panel, QStringLiteral("25 %")));
    CHECK(says(panel, QStringLiteral("-416.50")));    // a quarter of −1,666
    CHECK(says(panel, QStringLiteral("-1,249.50")));  // ours
    CHECK(says(panel, QStringLiteral("No ceiling was fixed")));
    const auto plan = nlohmann::json::parse(R"({"currency":"GBP","sale":{},"selling":"none","costs":[],
        "outcomes":[{"name":"sold","probability":1,"price":[1600,2000,2400]}]})");
    b.add("ceiling", FieldValues()
                         .value("plan", plan)
                         .value("report", nlohmann::json::object())
                         .money("limit", pounds(900))
                         .text("fixed_at", "2026-01-20T10:00:00.000Z"));
    panel.show_case(b.snapshot());
    CHECK(says(panel, QStringLiteral("83.50")));   // a quarter of 2,000 − 1,666
    CHECK(says(panel, QStringLiteral("-16.50")));  // a quarter of 1,600 − 1,666
}

TEST_CASE("Amounts in another currency without a rate are refused, with the record that lacks it one click away") {
    Deal b;
    const Money euros{20000, Currency::parse("EUR").value()};
    const Uuid frame = b.add("cost_line", FieldValues().text("name", "frame").money("actual", euros));
    AccountPanel panel(*b.session);
    panel.resize(480, 600);
    panel.show_case(b.snapshot());
    CHECK(says(panel, QStringLiteral("no rate into GBP")));
    CHECK_FALSE(panel.entries().isVisibleTo(&panel));
    QSignalSpy spy(&panel, &AccountPanel::record_wanted);
    button(panel, QStringLiteral("Open that record"))->click();
    REQUIRE(spy.count() == 1);
    CHECK(spy.front().front().value<Uuid>() == frame);
}

TEST_CASE("The questions of law tell why, on what day, by which source, and what is from memory; never a verdict") {
    Deal b;
    REQUIRE(usecases::note_suspicion(b.session->acting(), b.case_id, "Thornapple paid in notes"));
    DutiesPanel panel(*b.session);
    panel.open(true);
    panel.show_case(b.snapshot());
    REQUIRE(panel.questions().count() == 11);
    CHECK(says(panel, QStringLiteral("of 11 answered")));
    CHECK(says(panel, QStringLiteral("ask licensed advice")));
    panel.choose("sanctions");
    CHECK(says(panel, QStringLiteral("From memory")));
    CHECK(says(panel, QStringLiteral("The facts ask for it")));
    panel.choose("joint-purchase");
    CHECK(panel.questions().currentItem()->text().contains("not applicable"));
    const Uuid paper = b.add("document", FieldValues().text("title", "Search certificate").text("sort", "certificate"));
    b.add("duty", FieldValues()
                      .text("duty", "register-search")
                      .text("answer", "answered")
                      .text("on", "2026-05-03")
                      .record("document", paper)
                      .text("text", "nothing found"));
    panel.show_case(b.snapshot());
    panel.choose("register-search");
    CHECK(panel.questions().currentItem()->text().contains(QStringLiteral("✓")));
    CHECK(says(panel, QStringLiteral("Search certificate")));
    CHECK(says(panel, QStringLiteral("3 May 2026")));
    CHECK_FALSE(says(panel, QStringLiteral("lawful deal")));
    for (int row = 0; row < panel.questions().count(); ++row) {
        panel.questions().setCurrentRow(row);
        CHECK_FALSE(says(panel, QStringLiteral("Thornapple")));
        CHECK_FALSE(says(panel, QStringLiteral("uspicion")));
    }
}

TEST_CASE("A question is answered by a form that knows which one it is") {
    Deal b;
    DeskWindow window(std::move(b.session));
    CaseSheets& sheets = account_sheet_in(window, b.case_id);
    sheets.duties().open(true);
    sheets.duties().choose("sanctions");
    button(sheets.duties(), QStringLiteral("Answer this question"))->click();
    RecordForm& form = sheets.sheet(usecases::Stage::account).form();
    form.editor("answer")->set_typed(QStringLiteral("answered"));
    form.editor("text")->set_typed(QStringLiteral("lists searched, no match"));
    form.editor("on")->set_typed(QStringLiteral("2026-05-03"));
    form.save();
    const auto snapshot = window.session().book().snapshot(b.case_id).value();
    REQUIRE(snapshot.of_kind("duty").size() == 1);
    CHECK(snapshot.of_kind("duty").front()->body.text("duty") == "sanctions");
    CHECK(sheets.duties().questions().currentItem()->text().contains("answered"));
    // Asked again, the answer that stands is changed, not a second one written.
    button(sheets.duties(), QStringLiteral("Change this answer"))->click();
    CHECK(form.editor("text")->typed().contains("no match"));
}

TEST_CASE(
    "While a client looks neither accounts nor questions of law are seen, and of the house the list in code alone") {
    Deal b;
    REQUIRE(usecases::change_house(b.session->acting(), {.price_code = "blackhorse"}));
    b.add("payment", FieldValues()
                         .text("direction", "out")
                         .money("amount", pounds(77))
                         .text("on", "2026-04-09")
                         .record("settles", b.lining));
    REQUIRE(usecases::change_record(b.session->acting(), b.case_id, FieldValues().money("asking_price", pounds(4321))));
    DeskWindow window(std::move(b.session));
    window.show();
    window.open_case(b.case_id);
    window.case_view().show_sheet(usecases::Stage::account);
    CaseSheets& sheets = window.case_view().sheets();
    CHECK(sheets.account().isVisible());
    window.session().set_client_looks(true);
    CHECK_FALSE(sheets.account().isVisible());
    CHECK_FALSE(sheets.duties().isVisible());
    for (const QString& sum : {QStringLiteral("1,216"), QStringLiteral("450"), QStringLiteral("77")}) {
        CHECK_FALSE(any_text(window, sum));
        for (const QListWidget* list : window.findChildren<QListWidget*>())
            for (int row = 0; list->isVisible() && row < list->count(); ++row)
                CHECK_FALSE(list->item(row)->text().contains(sum));
    }
    HouseDialog dialog(window.session(), &window);
    dialog.show();
    QTabWidget& pages = dialog.pages();
    int seen = 0;
    for (int page = 0; page < pages.count(); ++page) seen += pages.isTabVisible(page) ? 1 : 0;
    CHECK(seen == 1);
    CHECK(pages.currentWidget() == &dialog.price_list());
    const FigureTable& list = dialog.price_list().list();
    REQUIRE(list.rowCount() == 1);
    for (int column = 0; column < list.columnCount(); ++column) {
        CHECK_FALSE(cell(list, 0, column).contains("4,321"));
        CHECK_FALSE(cell(list, 0, column).contains("1,6"));
    }
    CHECK(cell(list, 0, 3) == "BHHH");  // 1,666 in the code
    dialog.activateWindow();
    REQUIRE(QTest::qWaitForWindowActive(&dialog));
    QTest::keyClick(&dialog, Qt::Key_F9);
    CHECK_FALSE(window.session().client_looks());
    CHECK(pages.isTabVisible(0));
    CHECK(cell(list, 0, 4).contains("4,321"));
}

TEST_CASE("The house tells all pictures, the months and what is missing, and writes each as a table") {
    Deal b;
    HouseDialog dialog(*b.session);
    dialog.show();
    PortfolioPage& portfolio = dialog.portfolio();
    REQUIRE(portfolio.pictures().rowCount() == 1);
    CHECK(cell(portfolio.pictures(), 0, 0).contains("River landscape"));
    CHECK(cell(portfolio.pictures(), 0, 1) == "1,216");
    CHECK(cell(portfolio.pictures(), 0, 3) == "450");
    CHECK(any_text(portfolio, QStringLiteral("no ceiling was fixed")));
    REQUIRE(portfolio.months().rowCount() == 1);
    CHECK(cell(portfolio.months(), 0, 0).contains("April 2026, past"));
    CHECK(cell(portfolio.months(), 0, 1) == "450");
    portfolio.save_pictures_as(shown((b.folder / "portfolio.csv").string()));
    portfolio.save_months_as(shown((b.folder / "months.csv").string()));
    CHECK(read_text(b.folder / "portfolio.csv").contains("River landscape,no,1216.00"));
    CHECK(read_text(b.folder / "months.csv").contains("2026-04,450.00,450.00,0.00,GBP"));
    portfolio.save_pictures_as(shown((b.folder / "none" / "portfolio.csv").string()));
    CHECK_FALSE(says(portfolio, QStringLiteral("Saved")));
    QSignalSpy spy(&dialog, &HouseDialog::case_wanted);
    portfolio.pictures().selectRow(0);
    QTest::keyClick(&portfolio.pictures(), Qt::Key_Return);
    CHECK(spy.count() == 1);
}

TEST_CASE("A picture whose amounts cannot be counted is named by the house, one click away") {
    Deal b;
    b.add("cost_line",
          FieldValues().text("name", "frame").money("actual", Money{20000, Currency::parse("EUR").value()}));
    HouseDialog dialog(*b.session);
    dialog.show();
    CHECK(says(dialog, QStringLiteral("River landscape")));
    CHECK_FALSE(dialog.portfolio().pictures().isVisible());
    QSignalSpy spy(&dialog, &HouseDialog::case_wanted);
    button(dialog.portfolio(), QStringLiteral("Open that picture"))->click();
    REQUIRE(spy.count() == 1);
    CHECK(spy.front().front().value<Uuid>() == b.case_id);
}

TEST_CASE("The sheet of the account fits a small window, whatever stands on it") {
    Deal b;
    const Uuid long_name = b.session->book().person_named("Bartholomew Featherstonehaugh-Marchbanks").value();
    b.add("share", FieldValues().number("percent", 12.5).text("bears", "profit-and-loss").record("party", long_name));
    b.sell(12'345);
    DeskWindow window(std::move(b.session));
    window.resize(1024, 640);
    window.show();
    window.open_case(b.case_id);
    window.case_view().show_sheet(usecases::Stage::account);
    window.case_view().sheets().duties().open(true);
    QTest::qWait(50);
    CHECK(window.size() == QSize(1024, 640));
    RecordSheet& sheet = window.case_view().sheets().sheet(usecases::Stage::account);
    const QScrollArea* area = sheet.findChild<QScrollArea*>();
    REQUIRE(area != nullptr);
    CHECK(area->widget()->width() <= area->viewport()->width());
    // Estimates stand below what they are for, and what is open is seen without scrolling.
    const FigureTable& lines = window.case_view().sheets().account().entries();
    CHECK(lines.horizontalScrollBar()->maximum() == 0);
    CHECK(cell(lines, 1, 0).contains(QStringLiteral("estimated 300–900")));
}

TEST_CASE("The stock book keeps the margin scheme and ordinary VAT apart and names the particulars that are missing") {
    Deal b;
    b.sell(2000);
    HouseDialog dialog(*b.session);
    dialog.show();
    StockBookPage& page = dialog.stock_book();
    dialog.pages().setCurrentWidget(&page);
    page.set_period(QStringLiteral("1 January 2026"), QStringLiteral("31 December 2026"));
    REQUIRE(page.margin_rows().rowCount() == 1);
    CHECK(cell(page.margin_rows(), 0, 6) == "820");
    CHECK(cell(page.margin_rows(), 0, 7) == "136.67");
    CHECK(page.ordinary_rows().rowCount() == 0);
    CHECK(any_text(page, QStringLiteral("seller")));
    page.save_margin_as(shown((b.folder / "book.csv").string()));
    CHECK(says(page, QStringLiteral("Particulars are missing")));
    const Table table = Table::parse(read_file(b.folder / "book.csv").value()).value();
    CHECK(table.cell(0, "vat_due") == "136.67");
    REQUIRE(usecases::change_record(b.session->acting(), b.purchase,
                                    FieldValues().text("scheme", "vat-on-hammer").money("input_vat", pounds(200))));
    emit b.session->changed();
    CHECK(page.margin_rows().rowCount() == 0);
    REQUIRE(page.ordinary_rows().rowCount() == 1);
    CHECK(cell(page.ordinary_rows(), 0, 5) == "200");
    page.save_ordinary_as(shown((b.folder / "ordinary.csv").string()));
    CHECK(read_text(b.folder / "ordinary.csv").contains("200.00"));
    page.set_period(QStringLiteral("3/4/26"), QStringLiteral("31 December 2026"));
    CHECK(says(page, QStringLiteral("is no day")));
    page.set_period(QStringLiteral("1 May 2026"), QStringLiteral("1 April 2026"));
    CHECK(says(page, QStringLiteral("ends before it begins")));
}

TEST_CASE("The price code is typed and never shown; what is wrong with it is said") {
    Deal b;
    HouseDialog dialog(*b.session);
    dialog.show();
    HouseForm& house = dialog.house();
    dialog.pages().setCurrentWidget(&house);
    house.price_code().setText(QStringLiteral("banana"));
    house.save();
    CHECK(usecases::house_of(b.session->book()).value().price_code.empty());
    CHECK(says(house, QStringLiteral("ten")));
    house.price_code().setText(QStringLiteral("blackhorse"));
    house.save();
    CHECK(usecases::house_of(b.session->book()).value().price_code == "blackhorse");
    CHECK(house.price_code().text().isEmpty());
    CHECK_FALSE(says(dialog, QStringLiteral("blackhorse")));
    CHECK(cell(dialog.price_list().list(), 0, 3) == "BHHH");
    house.country().setText(QStringLiteral("England"));
    house.country().setModified(true);
    house.save();
    CHECK(says(house, QStringLiteral("two letters")));
    b.session->undo();
    CHECK(usecases::house_of(b.session->book()).value().price_code.empty());
}
