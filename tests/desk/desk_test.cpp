#include <QAbstractButton>
#include <QApplication>
#include <QColor>
#include <QFontMetrics>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QTest>
#include <catch2/catch.hpp>
#include <cmath>

#include "client_screen.hpp"
#include "desk_window.hpp"
#include "fixed_sources.hpp"
#include "photographs/intake.hpp"
#include "temporary_folder.hpp"
#include "text.hpp"
#include "theme.hpp"

using namespace tedge;
using namespace tedge::desk;

namespace {

// Relative luminance and contrast ratio: W3C, Web Content Accessibility Guidelines 2.1, definitions.
double luminance(const QColor& colour) {
    const auto linear = [](double c) { return c <= 0.03928 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4); };
    return 0.2126 * linear(colour.redF()) + 0.7152 * linear(colour.greenF()) + 0.0722 * linear(colour.blueF());
}
double contrast(const QColor& a, const QColor& b) {
    const double la = luminance(a);
    const double lb = luminance(b);
    return (std::max(la, lb) + 0.05) / (std::min(la, lb) + 0.05);
}

// A window over a casebook with one case, a finding and a cost.
struct Desk {
    TemporaryFolder folder;
    FixedClock clock;
    CountingIds ids{3};
    Uuid case_id;
    Uuid cost;
    std::unique_ptr<DeskWindow> window;

    Desk() {
        {
            auto book = casebook::Casebook::create(folder / "book", {&clock, &ids}).value();
            const usecases::Acting acting{book, book.person_named("Ada Wren").value(), clock};
            case_id = usecases::open_case(acting, {"River landscape", "", SizeMm{812, 610}}).value();
            const Currency pounds = Currency::parse("GBP").value();
            cost = usecases::add_record(acting, case_id, "cost_line",
                                        casebook::FieldValues()
                                            .text("name", "lining")
                                            .money_estimate("estimate", {30000, 40000, 90000}, pounds))
                       .value()
                       .record;
        }
        auto session = BookSession::open({folder / "book", "Ada Wren", &clock, &ids});
        window = std::make_unique<DeskWindow>(std::move(session).value());
        window->show();
        window->open_case(case_id);
    }
};

QString all_text(const QWidget& root) {
    QString text;
    for (const QLabel* label : root.findChildren<QLabel*>()) {
        if (label->isVisibleTo(&root)) text += label->text() + QLatin1Char('\n');
    }
    for (const QListWidget* list : root.findChildren<QListWidget*>()) {
        for (int i = 0; i < list->count(); ++i) text += list->item(i)->text() + QLatin1Char('\n');
    }
    return text;
}

}  // namespace

TEST_CASE("Text stands out from its ground in both themes (WCAG 2.1, 1.4.3: 4.5 to 1)") {
    for (const Theme* t : {&light_theme(), &dark_theme()}) {
        for (const QColor& ground : {t->paper, t->sheet}) {
            CHECK(contrast(t->ink, ground) >= 4.5);
            CHECK(contrast(t->faded_ink, ground) >= 4.5);
            CHECK(contrast(t->done, ground) >= 4.5);
            CHECK(contrast(t->warning, ground) >= 4.5);
            CHECK(contrast(t->closed, ground) >= 4.5);
        }
        CHECK(contrast(t->on_done, t->done) >= 4.5);
    }
    CHECK(picture_surround == QColor(0x80, 0x80, 0x80));
}

TEST_CASE("The text face has tabular figures") {
    const QFontMetrics metrics(text_font());
    for (const QChar digit : QStringLiteral("123456789"))
        CHECK(metrics.horizontalAdvance(digit) == metrics.horizontalAdvance(u'0'));
}

TEST_CASE("Everything that takes the focus has a name for those who do not see it") {
    const Desk desk;
    for (const QWidget* widget : desk.window->findChildren<QWidget*>()) {
        if (widget->focusPolicy() == Qt::NoFocus || widget->metaObject()->className() == QByteArray("QWidget"))
            continue;
        const auto* button = qobject_cast<const QAbstractButton*>(widget);
        const bool inner =
            widget->inherits("QLabel") || widget->inherits("QComboBoxListView") ||
            widget->objectName().startsWith(QStringLiteral("qt_")) ||
            widget->parentWidget()->inherits("QAbstractItemView") ||
            widget->parentWidget()->inherits("QAbstractScrollArea") || widget->parentWidget()->inherits("QComboBox") ||
            widget->parentWidget()->inherits("QLineEdit") || widget->inherits("QScrollBar") ||
            widget->inherits("QSplitterHandle") || widget->inherits("QProgressBar") || widget->inherits("QScrollArea");
        if (inner) continue;
        CAPTURE(widget->metaObject()->className(), widget->objectName().toStdString());
        CHECK((!widget->accessibleName().isEmpty() || (button != nullptr && !button->text().isEmpty())));
    }
}

TEST_CASE("F9 hides money and names everywhere at once, and shows them again") {
    Desk desk;
    desk.window->case_view().show_sheet(usecases::Stage::ceiling);
    REQUIRE(all_text(*desk.window).contains(QStringLiteral("400.00")));
    desk.window->session().set_client_looks(true);
    CHECK_FALSE(all_text(*desk.window).contains(QStringLiteral("400.00")));
    CHECK_FALSE(all_text(*desk.window).contains(QStringLiteral("lining")));
    desk.window->session().set_client_looks(false);
    CHECK(all_text(*desk.window).contains(QStringLiteral("400.00")));
}

TEST_CASE("An act is taken back by its inverse, and done again") {
    Desk desk;
    BookSession& session = desk.window->session();
    auto done =
        usecases::change_record(session.acting(), desk.cost, casebook::FieldValues().text("name", "strip-lining"));
    REQUIRE(done);
    session.did(*std::move(done), QStringLiteral("cost"));
    session.undo();
    CHECK(session.book().record(desk.cost)->body.text("name") == "lining");
    session.redo();
    CHECK(session.book().record(desk.cost)->body.text("name") == "strip-lining");
    CHECK(session.book().check()->ok());
}

TEST_CASE("A half-typed form is there again in another window; a wrong value is named beside its field") {
    Desk desk;
    const casebook::Kind& kind = *casebook::find_kind("measurement");
    {
        Drafts drafts(desk.folder / "half-typed.json");
        RecordForm form(desk.window->session(), drafts);
        form.begin_new(desk.case_id, kind);
        auto* what = form.findChildren<QLineEdit*>().at(0);
        auto* value = form.findChildren<QLineEdit*>().at(1);
        what->setText(QStringLiteral("thread count"));
        value->setText(QStringLiteral("twelve"));
        form.save();
        CHECK(all_text(form).contains(QStringLiteral("\"twelve\" is not a number")));
        QTest::qWait(600);
    }
    Drafts drafts(desk.folder / "half-typed.json");
    RecordForm form(desk.window->session(), drafts);
    form.begin_new(desk.case_id, kind);
    CHECK(form.findChildren<QLineEdit*>().at(0)->text() == QStringLiteral("thread count"));
    form.findChildren<QLineEdit*>().at(1)->setText(QStringLiteral("12.5"));
    form.findChildren<QLineEdit*>().at(2)->setText(QStringLiteral("threads/cm"));
    QTest::keyClick(&form, Qt::Key_Return, Qt::ControlModifier);
    form.save();
    const auto snapshot = desk.window->session().book().snapshot(desk.case_id);
    REQUIRE(snapshot->of_kind("measurement").size() >= 1);
    CHECK(snapshot->of_kind("measurement").front()->body.number("value") == 12.5);
    CHECK(drafts.of_form(shown(to_text(desk.case_id) + " measurement")).isEmpty());
}

TEST_CASE("Face, light and stage are guessed from file names") {
    const auto guess = guess_from_name("IMG_12 verso raking half_cleaned.jpg");
    CHECK(guess.face == Face::verso);
    CHECK(guess.light == "raking");
    CHECK(guess.stage == "half-cleaned");
    CHECK(guess_from_name("mill-uv.tif").light == "ultraviolet");
    CHECK(guess_from_name("frame-back.jpg").face == Face::frame_back);
    CHECK(guess_from_name("DSC0001.NEF").face == Face::recto);
}
