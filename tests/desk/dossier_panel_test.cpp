#include "sheets/dossier_panel.hpp"

#include <QLabel>
#include <QPdfDocument>
#include <QPlainTextEdit>
#include <QPrinter>
#include <QPushButton>
#include <QTimer>

#include "forms/override_dialog.hpp"
#include "painted_desk.hpp"
#include "sheets/dossier_pages.hpp"
#include "tedge/base/files.hpp"
#include "tedge/dossier/bag_verifier.hpp"

using namespace tedge;
using namespace tedge::desk;
using casebook::FieldValues;

namespace {

struct DossierDesk : PaintedDesk {
    DossierPanel& panel;
    DossierPages& pages;
    DossierDesk() : panel(view().sheets().dossier()), pages(view().pages()) {
        take_in(painted("recto.png", 3, {}));
        view().show_sheet(usecases::Stage::dossier);
    }
    bool done() {
        return comes_true([this] { return !panel.working(); }, 120'000);
    }
    void make() {
        panel.make();
        REQUIRE(done());
        REQUIRE(panel.made());
    }
    [[nodiscard]] QString words() const {
        QString text;
        for (const QLabel* label : panel.findChildren<QLabel*>()) {
            if (label->isVisibleTo(&panel)) text += label->text() + QLatin1Char('\n');
        }
        return text;
    }
    Uuid record(std::string_view kind, const FieldValues& values) {
        const Uuid id = usecases::add_record(session().acting(), case_id, kind, values).value().record;
        emit session().changed();
        return id;
    }
};

int pages_in(const std::filesystem::path& pdf) {
    QPdfDocument document;
    REQUIRE(document.load(shown(to_utf8(pdf))) == QPdfDocument::Error::None);
    return document.pageCount();
}

}  // namespace

TEST_CASE("The pages of a dossier are made while the window goes on, and are looked at in the place of the easel") {
    DossierDesk desk;
    desk.panel.make();
    CHECK(desk.panel.working());  // make() did not wait for them
    CHECK_FALSE(desk.panel.made());
    REQUIRE(desk.done());
    REQUIRE(desk.panel.made());
    const int count = desk.panel.made()->files.pages;
    CHECK(count >= 2);
    CHECK(desk.pages.isVisible());
    CHECK_FALSE(desk.view().easel().isVisible());
    CHECK(desk.pages.page_count() == count);
    CHECK(desk.pages.where() == QStringLiteral("Page 1 of %1").arg(count));
    desk.pages.show_page(1);
    CHECK(desk.pages.where() == QStringLiteral("Page 2 of %1").arg(count));
    const double before = desk.pages.zoom();
    QTest::keyClick(&desk.pages, Qt::Key_Plus);
    CHECK(desk.pages.zoom() == Approx(before * 1.25).epsilon(0.02));
    QTest::keyClick(&desk.pages, Qt::Key_0);
    CHECK(desk.pages.zoom() == Approx(before).epsilon(0.02));
    QTest::keyClick(&desk.pages, Qt::Key_Escape);
    CHECK(desk.view().easel().isVisible());
}

TEST_CASE("Making a dossier is cancelled, and nothing is kept") {
    DossierDesk desk;
    desk.panel.make();
    for (QPushButton* button : desk.panel.findChildren<QPushButton*>()) {
        if (button->text() == QStringLiteral("&Cancel")) button->click();
    }
    REQUIRE(desk.done());
    CHECK_FALSE(desk.panel.made());
    CHECK(desk.panel.state().startsWith(QStringLiteral("Cancelled")));
    CHECK_FALSE(desk.pages.has_pages());
}

TEST_CASE("What was looked at is what is saved: the PDF byte by byte, the bag whole and valid") {
    DossierDesk desk;
    desk.make();
    desk.panel.save_pdf_as(shown(to_utf8(desk.folder / "kept.pdf")));
    REQUIRE(desk.done());
    CHECK(read_file(desk.folder / "kept.pdf").value() == read_file(desk.panel.made()->files.pdf).value());
    std::filesystem::create_directories(desk.folder / "bags");
    desk.panel.save_bag_in(shown(to_utf8(desk.folder / "bags")));
    REQUIRE(desk.done());
    const auto report = dossier::verify_bag(desk.folder / "bags" / "dossier-buyer");
    REQUIRE(report);
    CHECK(report->valid);
    CHECK(report->payload_files > 3);
    // A second time it is refused rather than mixed into the first.
    desk.panel.save_bag_in(shown(to_utf8(desk.folder / "bags")));
    REQUIRE(desk.done());
    CHECK(desk.panel.state().contains(QStringLiteral("lies there already")));
    desk.panel.save_pdf_as(QStringLiteral("/proc/no-place/kept.pdf"));
    REQUIRE(desk.done());
    CHECK(desk.panel.state().startsWith(QStringLiteral("⊘ ")));
}

TEST_CASE("The pages are printed, all of them or those that are wanted") {
    DossierDesk desk;
    desk.make();
    const auto print = [&](const char* name, int from, int to) {
        auto printer = std::make_shared<QPrinter>(QPrinter::ScreenResolution);
        printer->setOutputFormat(QPrinter::PdfFormat);
        printer->setOutputFileName(shown(to_utf8(desk.folder / name)));
        if (from > 0) printer->setPrintRange(QPrinter::PageRange);
        if (from > 0) printer->setFromTo(from, to);
        desk.panel.print_on(printer);
        printer.reset();
        REQUIRE(desk.done());
        return pages_in(desk.folder / name);
    };
    CHECK(print("all.pdf", 0, 0) == desk.panel.made()->files.pages);
    CHECK(print("second.pdf", 2, 2) == 1);
    CHECK(desk.panel.state() == QStringLiteral("1 page given to the printer"));
    // Something stands on the paper: neither white nor black all over.
    QPdfDocument document;
    document.load(shown(to_utf8(desk.folder / "all.pdf")));
    const QImage page = document.render(0, QSize(300, 424));
    int dark = 0;
    for (int y = 0; y < page.height(); ++y) {
        for (int x = 0; x < page.width(); ++x) dark += qGray(page.pixel(x, y)) < 128 ? 1 : 0;
    }
    CHECK(dark > 300);
    CHECK(dark < 300 * 424 / 2);
}

TEST_CASE("Gate 22 says before the act why a dossier cannot leave, and what it warns of") {
    DossierDesk desk;
    REQUIRE(comes_true([&] { return desk.words().contains(QStringLiteral("△ The list \"known and left out\"")); }));
    CHECK_FALSE(desk.words().contains(QStringLiteral("⊘")));
    // A private line whose words stand in the pages too, and in no field the buyer may read: the gate cannot know that
    // it is only the title of the dossier.
    desk.record("cost_line", FieldValues().text("name", "Dossier for the buyer"));
    REQUIRE(
        comes_true([&] { return desk.words().contains(QStringLiteral("⊘ It holds what is not for this reader")); }));
    desk.panel.make();
    REQUIRE(desk.done());
    CHECK_FALSE(desk.panel.made());
    CHECK(desk.panel.state().startsWith(QStringLiteral("⊘ No pages were made")));
    CHECK(desk.words().count(QStringLiteral("It holds what is not for this reader")) == 1);  // not twice
    CHECK_FALSE(desk.pages.has_pages());
}

TEST_CASE("Who makes the pages before the gate has answered is told once, too") {
    DossierDesk desk;
    desk.record("cost_line", FieldValues().text("name", "Dossier for the buyer"));
    desk.panel.make();
    REQUIRE(desk.done());
    REQUIRE(comes_true([&] { return desk.panel.closing().size() == 1; }));
    CHECK(desk.panel.state().startsWith(QStringLiteral("⊘ No pages were made")));
    CHECK(desk.words().count(QStringLiteral("It holds what is not for this reader")) == 1);
}

TEST_CASE("Each reason leads to its record; by name and reason it is let pass, once, and the pages are as the case") {
    DossierDesk desk;
    const Uuid cost = desk.record("cost_line", FieldValues().text("name", "Dossier for the buyer"));
    REQUIRE(comes_true([&] { return desk.panel.closing().size() == 1; }));
    const auto press = [&](const QString& text) {
        for (QPushButton* each : desk.panel.findChildren<QPushButton*>()) {
            if (each->isVisible() && each->text().remove(QLatin1Char('&')).startsWith(text)) return each->click();
        }
        FAIL("no button " << text.toStdString());
    };
    press(QStringLiteral("Look at the cost"));
    CHECK(desk.view().head().tacks().selected() == usecases::Stage::ceiling);
    CHECK(desk.view().sheets().sheet(usecases::Stage::ceiling).form_is_open());
    desk.view().show_sheet(usecases::Stage::dossier);
    QTimer::singleShot(0, desk.window.get(), [] {
        auto* dialog = qobject_cast<OverrideDialog*>(QApplication::activeModalWidget());
        REQUIRE(dialog != nullptr);
        QStringList said;
        for (const QLabel* label : dialog->findChildren<QLabel*>()) said << label->text();
        CHECK(said.contains(QStringLiteral("Not for this reader")));
        CHECK_FALSE(said.contains(QStringLiteral("Not in the order of the work")));
        dialog->reason()->setPlainText(QStringLiteral("only the title of the dossier"));
        dialog->accept();
    });
    press(QStringLiteral("Let it pass"));
    REQUIRE(desk.done());
    REQUIRE(desk.panel.made());
    CHECK(desk.pages.has_pages());
    CHECK(desk.snapshot().of_kind("gate_override").size() == 1);
    CHECK_FALSE(desk.words().contains(QStringLiteral("changed since these pages were made")));
    desk.panel.make();  // another one: nobody let that pass
    REQUIRE(desk.done());
    CHECK_FALSE(desk.panel.made());
    CHECK(desk.body(cost).text("name") == "Dossier for the buyer");
}

TEST_CASE("Pages go when a client looks unless they are a buyer's, and say when the case was changed since") {
    DossierDesk desk;
    desk.make();
    desk.session().set_client_looks(true);
    CHECK(desk.pages.has_pages());
    desk.session().set_client_looks(false);
    desk.record("deadline", FieldValues().text("what", "return window ends").text("on", "2026-03-26"));
    CHECK(desk.words().contains(QStringLiteral("changed since these pages were made")));
    desk.panel.choose_reader(casebook::Reader::own);
    CHECK_FALSE(desk.pages.has_pages());
    desk.make();
    CHECK(desk.pages.has_pages());
    desk.session().set_client_looks(true);
    CHECK_FALSE(desk.pages.has_pages());
    CHECK(desk.view().easel().isVisible());
}
