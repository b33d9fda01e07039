#include "opening_dialog.hpp"

#include <QLineEdit>
#include <QSettings>
#include <catch2/catch.hpp>

#include "../casebook/raw_sql.hpp"
#include "fixed_sources.hpp"
#include "tedge/base/files.hpp"
#include "temporary_folder.hpp"
#include "text.hpp"

using namespace tedge;
using namespace tedge::desk;

namespace {

// Nothing is remembered of an earlier start.
struct Newcomer {
    TemporaryFolder folder{};

    Newcomer() {
        QSettings::setDefaultFormat(QSettings::IniFormat);
        QSettings::setPath(QSettings::IniFormat, QSettings::UserScope, shown(to_utf8(folder / "settings")));
    }
};

}  // namespace

TEST_CASE("A newcomer begins an empty casebook at the desk, and opens it again") {
    const Newcomer newcomer;
    const TemporaryFolder& folder = newcomer.folder;
    FixedClock clock;
    CountingIds ids;
    const QString book = shown(to_utf8(folder / "book"));
    {
        OpeningDialog dialog(clock, ids, QStringLiteral("Ada Wren"));
        dialog.open_folder(book);
        CHECK_FALSE(dialog.note().isEmpty());
        CHECK(dialog.take_session() == nullptr);
        dialog.begin_in(book);
        const auto session = dialog.take_session();
        REQUIRE(session != nullptr);
        CHECK(session->book().cases()->empty());
        CHECK(dialog.result() == QDialog::Accepted);
    }
    OpeningDialog again(clock, ids, QStringLiteral("somebody else"));
    CHECK(again.findChild<QLineEdit*>()->text() == QStringLiteral("Ada Wren"));
    again.begin_in(book);  // what is there is not made anew
    CHECK_FALSE(again.note().isEmpty());
    CHECK(again.take_session() == nullptr);
    again.findChild<QLineEdit*>()->clear();
    again.open_folder(book);
    CHECK(again.note().contains(QStringLiteral("who works")));
    again.findChild<QLineEdit*>()->setText(QStringLiteral("Ada Wren"));
    again.open_folder(book);
    CHECK(again.take_session() != nullptr);
}

TEST_CASE("A look into a casebook that is only read asks nobody's name") {
    const Newcomer newcomer;
    const TemporaryFolder& folder = newcomer.folder;
    FixedClock clock;
    CountingIds ids;
    REQUIRE(casebook::Casebook::create(folder / "book", {&clock, &ids}));
    const QString book = shown(to_utf8(folder / "book"));
    OpeningDialog dialog(clock, ids, QString());
    dialog.begin_in(shown(to_utf8(folder / "new")));  // to begin one is to write
    CHECK(dialog.note().contains(QStringLiteral("who works")));
    CHECK_FALSE(std::filesystem::exists(folder / "new"));
    dialog.open_folder(book);
    CHECK(dialog.note().contains(QStringLiteral("who works")));
    CHECK(dialog.take_session() == nullptr);
    casebook::run_sql(folder / "book", "PRAGMA user_version = 99");  // as a newer program would leave it
    dialog.open_folder(book);
    const auto session = dialog.take_session();
    REQUIRE(session != nullptr);
    CHECK(session->book().read_only());
}
