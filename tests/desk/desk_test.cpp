#include <QAbstractButton>
#include <QApplication>
#include <QCheckBox>
#include <QColor>
#include <QComboBox>
#include <QFontMetrics>
#include <QLabel>
#include <QLineEdit>
#include <QListView>
#include <QListWidget>
#include <QPushButton>
#include <QRadioButton>
#include <QScrollBar>
#include <QStatusBar>
#include <QTest>
#include <QTimer>
#include <QToolButton>
#include <catch2/catch.hpp>
#include <cmath>

#include "client_screen.hpp"
#include "desk_window.hpp"
#include "fixed_sources.hpp"
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

TEST_CASE("Controls are known by their outline in both themes (WCAG 2.1, 1.4.11: 3 to 1)") {
    for (const Theme* t : {&light_theme(), &dark_theme()}) {
        CAPTURE(t->shade.toStdString());
        for (const QColor& ground : {t->paper, t->sheet}) {
            CHECK(contrast(t->edge, ground) >= 3);
            CHECK(contrast(t->done, ground) >= 3);       // what has the focus, is chosen or checked
            CHECK(contrast(t->faded_ink, ground) >= 3);  // a tack that is open
            CHECK(contrast(t->closed, ground) >= 3);
        }
    }
}

namespace {

// The strongest contrast that anything of the widget has against its ground, the pixel in its corner.
double strongest(QWidget& widget) {
    const QImage image = widget.grab().toImage();
    const QColor ground = image.pixelColor(3, 3);
    double most = 1;
    for (int y = 0; y < image.height(); ++y) {
        for (int x = 0; x < image.width(); ++x) most = std::max(most, contrast(image.pixelColor(x, y), ground));
    }
    return most;
}

}  // namespace

TEST_CASE("What the style itself draws stands out too: arrows, ticks, circles, the way to tools that have no room") {
    auto& application = *qobject_cast<QApplication*>(QApplication::instance());
    for (const Shade shade : {Shade::light, Shade::dark}) {
        use_theme(application, shade);
        CAPTURE(theme().shade.toStdString());
        QWidget window;
        QRadioButton radio(&window);
        QCheckBox box(&window);
        QComboBox combo(&window);
        QScrollBar bar(Qt::Vertical, &window);
        bar.setGeometry(0, 100, 14, 80);
        for (QWidget* each : std::initializer_list<QWidget*>{&radio, &box, &combo}) each->resize(40, 32);
        for (const bool checked : {false, true}) {
            radio.setChecked(checked);
            box.setChecked(checked);
            for (QWidget* each : std::initializer_list<QWidget*>{&radio, &box, &combo, &bar}) {
                CAPTURE(each->metaObject()->className(), checked);
                CHECK(strongest(*each) >= 3);
            }
        }
        // What a field asks for before anything is typed.
        QLineEdit field(&window);
        CHECK(contrast(field.palette().color(QPalette::PlaceholderText), theme().sheet) >= 4.5);
        field.setPlaceholderText(QStringLiteral("low – likely – high"));
        field.resize(200, 36);
        const QImage hint = field.grab().toImage();
        double of_hint = 1;
        for (int y = 6; y < hint.height() - 6; ++y) {
            for (int x = 6; x < hint.width() - 6; ++x)
                of_hint = std::max(of_hint, contrast(hint.pixelColor(x, y), theme().sheet));
        }
        CHECK(of_hint >= 4.5);
        // The one act of a sheet that cannot be done yet does not look as if it could.
        QPushButton act(QStringLiteral("Fix this limit"), &window);
        act.setProperty("act", "main");
        act.resize(200, 40);
        CHECK(act.grab().toImage().pixelColor(6, 20) == theme().done);
        act.setEnabled(false);
        CHECK(act.grab().toImage().pixelColor(6, 20) == theme().sheet);
        // The tick by itself, on what it stands on.
        const QImage tick(QStringLiteral(":/desk/tick-%1.png").arg(theme().shade));
        REQUIRE_FALSE(tick.isNull());
        CHECK(contrast(tick.pixelColor(13, 24), theme().done) >= 4.5);
        const Desk desk;
        desk.window->resize(720, 480);
        QTest::qWait(50);
        auto* more =
            desk.window->case_view().easel_side().findChild<QToolButton*>(QStringLiteral("qt_toolbar_ext_button"));
        REQUIRE(more != nullptr);
        REQUIRE(more->isVisible());
        const QImage seen = more->grab().toImage();
        const QRect inside = seen.rect().adjusted(3, 3, -3, -3);  // without the outline
        double most = 1;
        for (int y = inside.top(); y <= inside.bottom(); ++y) {
            for (int x = inside.left(); x <= inside.right(); ++x)
                most = std::max(most, contrast(seen.pixelColor(x, y), theme().sheet));
        }
        CHECK(most >= 3);
    }
    use_theme(application, Shade::light);
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

TEST_CASE("Ctrl+Z in the case takes back and says what; in a field it undoes the typing and leaves the case alone") {
    Desk desk;
    DeskWindow& window = *desk.window;
    BookSession& session = window.session();
    window.activateWindow();
    REQUIRE(QTest::qWaitForWindowActive(&window));
    window.case_view().show_sheet(usecases::Stage::ceiling);
    window.case_view().begin_new_record();
    RecordForm* form = nullptr;
    for (RecordForm* each : window.findChildren<RecordForm*>()) {
        if (each->isVisible()) form = each;
    }
    REQUIRE(form != nullptr);
    form->editor("name")->set_typed("gilding");
    form->save();
    const auto costs = [&] { return session.book().snapshot(desk.case_id)->of_kind("cost_line").size(); };
    REQUIRE(costs() == 2);

    window.case_view().begin_new_record();
    QWidget* line = form->editor("name")->entry();
    line->setFocus();
    QTest::keyClicks(line, "gla");
    QTest::keyClick(line, Qt::Key_Z, Qt::ControlModifier);
    CHECK(form->editor("name")->typed().isEmpty());
    CHECK(costs() == 2);
    form->give_up();

    window.case_view().easel().setFocus();
    QTest::keyClick(&window.case_view().easel(), Qt::Key_Z, Qt::ControlModifier);
    CHECK(costs() == 1);
    // A client may have come in meanwhile: what he may not see is not named.
    CHECK(plain(window.statusBar()->currentMessage()) == "Taken back: new cost");
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

TEST_CASE("A client is told of no closed gate and of nothing that falls due") {
    Desk desk;
    BookSession& session = desk.window->session();
    REQUIRE(usecases::add_record(session.acting(), desk.case_id, "deadline",
                                 casebook::FieldValues().text("what", "money back until").text("on", "2026-03-05")));
    emit session.changed();
    auto& list = *desk.window->rack().findChild<QListView*>();
    const auto card = [&] { return list.model()->index(0, 0).data(Qt::AccessibleTextRole).toString(); };
    REQUIRE(all_text(desk.window->rack()).contains(QStringLiteral("gates closed")));
    const QImage with_deadline = list.grab().toImage();
    session.set_client_looks(true);
    CHECK_FALSE(all_text(desk.window->rack()).contains(QStringLiteral("gates closed")));
    CHECK_FALSE(all_text(desk.window->rack()).contains(QStringLiteral("due within")));
    CHECK_FALSE(card().contains(QStringLiteral("closed")));
    CHECK(list.grab().toImage() != with_deadline);
    session.set_client_looks(false);
    CHECK(all_text(desk.window->rack()).contains(QStringLiteral("gates closed")));
}

TEST_CASE("A new picture is written in lines that hold its title") {
    Desk desk;
    int narrowest = 0;
    QTimer::singleShot(0, desk.window.get(), [&] {
        QWidget* dialog = QApplication::activeModalWidget();
        REQUIRE(dialog != nullptr);
        narrowest = 10'000;
        for (const QLineEdit* line : dialog->findChildren<QLineEdit*>()) narrowest = std::min(narrowest, line->width());
        dialog->close();
    });
    emit desk.window->rack().new_case_wanted();
    CHECK(narrowest >= 360);
    CHECK(narrowest < 10'000);
}
