#include "forms/typed_value.hpp"

#include <catch2/catch.hpp>

#include "form_fixture.hpp"
#include "forms/typed_day.hpp"

using namespace tedge;
using namespace tedge::desk;
using casebook::FieldValues;

namespace {

Typed typed(const char* kind_name, const char* field, const QString& text, FieldValues& into) {
    FormContext context;
    context.kind = &kind(kind_name);
    context.currency = "GBP";
    context.today = "2026-03-18";
    return read_typed(*context.kind->field(field), text, context, into);
}

}  // namespace

TEST_CASE("Days are read as people write them, and never guessed") {
    CHECK(read_day("2026-03-31", "2026-03-18") == "2026-03-31");
    CHECK(read_day("31 March 2026", "2026-03-18") == "2026-03-31");
    CHECK(read_day("1 sep 1939", "2026-03-18") == "1939-09-01");
    CHECK(read_day("today", "2026-03-01") == "2026-03-01");
    CHECK(read_day("yesterday", "2026-03-01") == "2026-02-28");
    for (const char* none : {"31 February 2026", "3/4/26", "31.3.", "March 2026", "31 Mar", "31 Ma 2026", ""})
        CHECK_FALSE(read_day(none, "2026-03-18").has_value());
    CHECK(read_instant("5 March 2026 14:30", "") == "2026-03-05T14:30:00.000Z");
    CHECK(read_instant("5 March 2026, 14:30 UTC", "") == "2026-03-05T14:30:00.000Z");
    CHECK(read_instant("2026-03-05 9:05", "") == "2026-03-05T09:05:00.000Z");
    CHECK_FALSE(read_instant("2026-03-05 25:00", "").has_value());
    CHECK_FALSE(read_instant("2026-03-05", "").has_value());
}

TEST_CASE("Beside a field stands what was understood, in millimetres, words and days") {
    FieldValues values;
    // International inch, 25.4 mm: 32 1/4 in = 819.15 mm.
    CHECK(typed("case", "width_mm", "32 1/4 in", values).meaning == "819.2 mm");
    CHECK(values.set_values().at("width_mm") == Approx(819.15));
    CHECK(typed("case", "width_mm", "819", values).meaning.isEmpty());
    CHECK(typed("custody", "from", "2026-03-12", values).meaning == "12 March 2026");
    CHECK(typed("provenance_link", "from", "1847~", values).meaning == "about 1847");
    CHECK_FALSE(typed("provenance_link", "from", "the forties", values).fits());
    CHECK_FALSE(typed("trial", "removal", "11", values).fits());
    CHECK(typed("trial", "removal", "10", values).fits());
    CHECK_FALSE(typed("trial", "seconds", "half a minute", values).fits());
    CHECK_FALSE(typed("lot", "sale_zone", "Europe/Nowhere", values).fits());
    CHECK(typed("lot", "sale_zone", "Europe/London", values).fits());
}

TEST_CASE("What a form shows of a value reads back as that value, for every field that is typed") {
    FormBook b;
    const Uuid person = b.session->book().person_named("Ines Falk").value();
    FormContext context{b.snapshot(), nullptr, "GBP", "2026-03-18"};
    context.zone = "Europe/Paris";
    const FieldValues examples = FieldValues()
                                     .text("sale_at", "2026-03-05T14:30:00.000Z")
                                     .text("sale_zone", "Europe/Paris")
                                     .money("hammer", {123'456, Currency::parse("CHF").value()})
                                     .text("terms_read", "2026-02-27")
                                     .text("result", "bought-in")
                                     .text("catalogue_text", "School of somebody,\nafter another");
    context.kind = &kind("lot");
    const casebook::Body lot(examples.set_values());
    for (const casebook::Field& field : context.kind->fields) {
        if (!lot.has(field.name)) continue;
        CAPTURE(std::string(field.name));
        FieldValues back;
        CHECK(read_typed(field, typed_text(field, lot, context), context, back).fits());
        CHECK(back.set_values().at(std::string(field.name)) == lot.as_json().at(std::string(field.name)));
    }
    context.snapshot = b.snapshot();
    const casebook::Body held(FieldValues().record("holder", person).set_values());
    const casebook::Field& holder = *kind("custody").field("holder");
    CHECK(typed_text(holder, held, context) == "Ines Falk");
    FieldValues back;
    CHECK_FALSE(read_typed(holder, "Ines Falk", context, back).person.has_value());
    CHECK(back.set_values().at("holder") == to_text(person));
    CHECK(read_typed(holder, "Otto New", context, back).person == QString("Otto New"));
}

TEST_CASE("Codes and dates of records are words to those who read them") {
    CHECK(spoken("tinted-varnish") == "tinted varnish");
    CHECK(spoken("edge-top") == "top edge");
    CHECK(day_text("2026-03-31") == "31 March 2026");
    CHECK(day_text("soon") == "soon");
    CHECK(instant_text("2026-03-05T14:30:00Z") == "5 March 2026, 14:30 UTC");
    CHECK(date_words("1847~") == "about 1847");
}
