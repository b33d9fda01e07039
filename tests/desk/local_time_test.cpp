// Sale times by the clock of the saleroom. Offsets: the IANA time zone database; summer time in the United Kingdom and
// the European Union runs from the last Sunday of March to that of October, in New York from the second Sunday of March
// to the first of November.
#include "forms/local_time.hpp"

#include <QLabel>
#include <catch2/catch.hpp>

#include "form_fixture.hpp"
#include "sheets/lines/record_line.hpp"

using namespace tedge;
using namespace tedge::desk;
using casebook::FieldValues;

TEST_CASE("A clock time of a zone is kept as the moment in UTC and read back as that clock time") {
    const auto read = [](const char* text, const char* zone) {
        return read_local(QString::fromUtf8(text), QString::fromUtf8(zone), "2026-03-18");
    };
    const auto [text, zone, utc] = GENERATE(table<const char*, const char*, const char*>(
        {{"5 March 2026, 14:30", "Europe/London", "2026-03-05T14:30:00.000Z"},
         {"5 July 2026, 14:30", "Europe/London", "2026-07-05T13:30:00.000Z"},
         {"5 July 2026, 14:30", "Europe/Paris", "2026-07-05T12:30:00.000Z"},
         {"20 March 2026, 19:00", "America/New_York", "2026-03-20T23:00:00.000Z"},
         {"20 March 2026, 21:00", "America/New_York", "2026-03-21T01:00:00.000Z"},
         {"1 June 2026, 10:00", "Asia/Kolkata", "2026-06-01T04:30:00.000Z"}}));
    CAPTURE(text, zone);
    CHECK(read(text, zone).value() == utc);
    CHECK(local_text(utc, QString::fromUtf8(zone)) == QString::fromUtf8(text));
    CHECK(local_text_with_zone(utc, QString::fromUtf8(zone)).endsWith(QString::fromUtf8(zone)));
    CHECK(read("5 July 2026, 13:30 UTC", zone).value() == "2026-07-05T13:30:00.000Z");
}

TEST_CASE("What is no moment there is refused in one sentence") {
    const auto code = [](const char* text, const char* zone) {
        const auto read = read_local(QString::fromUtf8(text), QString::fromUtf8(zone), "2026-03-18");
        REQUIRE_FALSE(read);
        CHECK(read.error().message.find(". ") == std::string::npos);
        return read.error().code;
    };
    CHECK(code("5 March 2026 14:30", "Europe/Nowhere") == "time.unknown-zone");
    CHECK(code("5 March 2026 14:30", "") == "time.no-zone");
    CHECK(code("half past two", "Europe/London") == "time.not-read");
    CHECK(code("29 March 2026 01:30", "Europe/London") == "time.left-out");
    CHECK(local_text("2026-03-05T14:30:00Z", QStringLiteral("Europe/Nowhere")) == "5 March 2026, 14:30 UTC");
}

TEST_CASE("The form of a lot takes the saleroom's clock; another zone makes another moment of the same time") {
    FormBook b;
    Drafts drafts = b.drafts();
    RecordForm form(*b.session, drafts);
    form.begin_new(b.case_id, kind("lot"));
    CHECK(says(*form.editor("sale_at"), QStringLiteral("local time")));
    form.editor("sale_at")->set_typed(QStringLiteral("5 July 2026 14:30"));
    CHECK(form.editor("sale_at")->fault().contains(QStringLiteral("time zone")));
    form.editor("sale_zone")->set_typed(QStringLiteral("Europe/Paris"));
    CHECK(form.editor("sale_at")->fault().isEmpty());
    CHECK(says(*form.editor("sale_at"), QStringLiteral("12:30 UTC")));
    form.save();
    const auto lot = [&] { return *b.snapshot().of_kind("lot").front(); };
    REQUIRE(b.snapshot().of_kind("lot").size() == 1);
    CHECK(lot().body.text("sale_at") == "2026-07-05T12:30:00.000Z");
    CHECK(line_of(lot(), b.snapshot(), false).text.contains(QStringLiteral("5 July 2026, 14:30 Europe/Paris")));

    form.edit(lot());
    CHECK(form.editor("sale_at")->typed() == QStringLiteral("5 July 2026, 14:30"));
    CHECK_FALSE(form.editor("sale_at")->touched());
    form.editor("sale_zone")->set_typed(QStringLiteral("Europe/Nowhere"));
    form.save();
    CHECK(form.editor("sale_zone")->fault().contains(QStringLiteral("no time zone of that name")));
    CHECK(lot().body.text("sale_zone") == "Europe/Paris");
    form.editor("sale_zone")->set_typed(QStringLiteral("Europe/London"));
    form.save();
    CHECK(lot().body.text("sale_zone") == "Europe/London");
    CHECK(lot().body.text("sale_at") == "2026-07-05T13:30:00.000Z");
}
