#include "sheets/lines/record_line.hpp"

#include <QRegularExpression>
#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "form_fixture.hpp"
#include "sheets/answers/answer.hpp"
#include "sheets/kinds_of.hpp"
#include "sheets/where_words.hpp"

using namespace tedge;
using namespace tedge::desk;
using casebook::FieldValues;

namespace {

QString only_line(FormBook& b, std::string_view of, bool client_looks = false) {
    const auto snapshot = b.snapshot();
    return line_of(*snapshot.of_kind(of).front(), snapshot, client_looks).text;
}

FieldValues finding(FormBook& b, const char* term, const char* severity, bool unstable) {
    return FieldValues()
        .record("face_frame", b.recto())
        .region("region", Region::rectangle({700, 20}, {40, 30}).value())
        .text("layer", "paint")
        .text("term", term)
        .text("severity", severity)
        .flag("unstable", unstable);
}

}  // namespace

TEST_CASE("A finding is told by what it is, where, how bad; the unstable and the worst first") {
    FormBook b;
    b.clock.advance(std::chrono::days(20));
    b.add("finding", finding(b, "abrasion", "slight", false));
    b.add("finding", finding(b, "loss", "severe", false));
    b.add("finding", finding(b, "cupping", "moderate", true));
    b.add("finding", finding(b, "flaking", "severe", true).text("consolidated_on", "2026-03-14"));
    const auto snapshot = b.snapshot();
    QStringList told;
    for (const casebook::Record* record : in_order("finding", snapshot)) told << line_of(*record, snapshot, false).text;
    REQUIRE(told.size() == 4);
    CHECK(told[0] == "⊘ unstable: cupping · paint, moderate, upper right, 30 × 40 mm");
    CHECK(told[1].startsWith("Flaking"));
    CHECK(told[1].contains("consolidated 14 March 2026"));
    CHECK(told[2].startsWith("Loss"));
    CHECK(told[3].startsWith("Abrasion"));
}

TEST_CASE("A frame's line says what it is that there is none of") {
    FormBook b;
    b.add("picture_frame",
          FieldValues().text("description", "Gilt frame").number("rebate_depth_mm", 14).text("glazing", "none"));
    CHECK(only_line(b, "picture_frame") == "Gilt frame · rebate 14 mm · glazing none");
}

TEST_CASE("The survey sheet opens on whether something is unstable, by findings and by the newest surveys") {
    FormBook b;
    b.clock.advance(std::chrono::days(20));
    const auto survey = [](const char* condition, const char* day) {
        return FieldValues().text("face", "recto").text("condition", condition).text("surveyed_on", day);
    };
    const auto says_all_is_well = [&] {
        const auto lines = survey_answer(b.snapshot());
        return std::ranges::any_of(
            lines, [](const AnswerLine& line) { return line.text == "Nothing is recorded as unstable now."; });
    };
    CHECK_FALSE(says_all_is_well());  // nobody has looked
    b.add("survey", survey("unstable", "2026-01-10"));
    CHECK_FALSE(says_all_is_well());
    b.add("survey", survey("good", "2026-03-10"));
    CHECK(says_all_is_well());
    b.add("survey", survey("good", "2026-03-11").text("loose_paint", "mapped"));
    CHECK_FALSE(says_all_is_well());  // and no place was drawn
    b.add("finding", finding(b, "flaking", "severe", true));
    CHECK_FALSE(says_all_is_well());
}

TEST_CASE("A trial is told by passage, agent, verdict and swab, the newest first") {
    FormBook b;
    const auto trial = [&](const char* verdict, const char* swab, const char* day) {
        return FieldValues()
            .record("face_frame", b.recto())
            .region("region", Region::rectangle({10, 10}, {8, 8}).value())
            .text("passage", "sky")
            .text("layer", "varnish")
            .text("agent", "acetone 30, isooctane 70")
            .text("swab_colour", "yellow-brown")
            .text("swab_answer", swab)
            .text("verdict", verdict)
            .number("seconds", 30)
            .text("done_on", day);
    };
    b.clock.advance(std::chrono::days(20));
    b.add("trial", trial("cleared", "tinted-varnish", "2026-03-20"));
    b.add("trial", trial("too-weak", "undecided", "2026-03-18"));
    const auto snapshot = b.snapshot();
    const auto trials = in_order("trial", snapshot);
    CHECK(line_of(*trials[0], snapshot, false).text ==
          "Sky: acetone 30, isooctane 70 · cleared · swab yellow-brown, tinted varnish · 30 s · 20 March 2026");
    const RecordLine stop = line_of(*trials[1], snapshot, false);
    CHECK(stop.text.startsWith("⊘ Sky: acetone"));
    CHECK(stop.tone == Tone::closed);
}

TEST_CASE("A trial that nobody judged is none that failed to clear") {
    FormBook b;
    b.clock.advance(std::chrono::days(20));
    const auto trial = [&](const char* passage) {
        return FieldValues()
            .record("face_frame", b.recto())
            .region("region", Region::rectangle({10, 10}, {8, 8}).value())
            .text("passage", passage)
            .text("layer", "varnish")
            .text("agent", "acetone 30, isooctane 70");
    };
    b.add("trial", trial("sky"));
    b.add("trial", trial("foliage").text("verdict", "cleared").text("swab_answer", "varnish"));
    b.add("trial", trial("foliage").text("verdict", "too-weak").text("swab_answer", "varnish"));
    b.add("trial", trial("foliage"));
    b.add("trial", trial("water").text("verdict", "too-weak").text("swab_answer", "varnish"));
    const AnswerLines lines = trial_answer(b.snapshot());
    const auto says = [&](const char* text) {
        return std::ranges::any_of(lines, [&](const AnswerLine& line) { return line.text == QString(text); });
    };
    CHECK(says("Sky: 1 not judged yet."));
    CHECK(says("Foliage: cleared in 1 of 2 trials, 1 not judged yet."));
    CHECK(says("Water: cleared in 0 of 1 trials."));
}

TEST_CASE("A deadline that is due next stands first, owners in their order, plans before what is done") {
    FormBook b;
    for (const auto& [what, on] : {std::pair{"pay", "2026-03-20"}, std::pair{"collect", "2026-03-12"}})
        b.add("deadline", FieldValues().text("what", what).text("on", on));
    b.add("deadline", FieldValues().text("what", "register").text("on", "2026-03-01").text("done_on", "2026-02-20"));
    b.add("provenance_link", FieldValues().number("order", 2).text("owner", "Oort").text("from", "1701~"));
    b.add("provenance_link", FieldValues().number("order", 1).text("owner", "Visser"));
    b.add("treatment_step", FieldValues().text("act", "filling").flag("planned", true));
    b.clock.advance(std::chrono::days(60));
    b.add("treatment_step", FieldValues().text("act", "varnish-removal").text("done_on", "2026-04-21"));
    const auto snapshot = b.snapshot();
    const auto told = [&](std::string_view of, std::size_t at) {
        return line_of(*in_order(of, snapshot)[at], snapshot, false).text;
    };
    CHECK(told("deadline", 0) == "12 March 2026 · collect");
    CHECK(told("deadline", 2).contains("register"));
    CHECK(told("provenance_link", 0) == "Visser");
    CHECK(told("provenance_link", 1) == "Oort · from about 1701");
    CHECK(told("treatment_step", 0) == "Filling · planned");
    CHECK(told("treatment_step", 1) == "Varnish removal · 21 April 2026");
}

TEST_CASE("Money and people are told with currency and name, and not at all while a client looks") {
    FormBook b;
    b.add("cost_line", FieldValues()
                           .text("name", "lining")
                           .money_estimate("estimate", {30'000, 40'000, 90'000}, Currency::parse("EUR").value()));
    CHECK(only_line(b, "cost_line") == "Lining · EUR 400.00 likely (EUR 300.00 to EUR 900.00)");
    b.add("custody", FieldValues()
                         .text("place", "workshop")
                         .record("holder", b.session->book().person_named("Ines Falk").value())
                         .text("from", "2026-03-12"));
    CHECK(only_line(b, "custody").contains("held by Ines Falk"));
    CHECK_FALSE(only_line(b, "custody", true).contains("Falk"));
    CHECK_FALSE(only_line(b, "cost_line", true).contains("400"));
}

// An example value of each field's own type.
static void fill(FormBook& b, const casebook::Field& field, FieldValues& values) {
    using casebook::FieldType;
    const Currency pounds = Currency::parse("GBP").value();
    switch (field.type) {
        case FieldType::text:
        case FieldType::long_text:
            values.text(field.name, "something");
            return;
        case FieldType::number:
            values.number(field.name, 2.5);
            return;
        case FieldType::integer:
            values.integer(field.name, 3);
            return;
        case FieldType::flag:
            values.flag(field.name, true);
            return;
        case FieldType::word:
            // The longest word is the likeliest to hold a hyphen.
            values.text(field.name, std::ranges::max(words_of(field), {}, &std::string_view::size));
            return;
        case FieldType::money:
            values.money(field.name, {100, pounds});
            return;
        case FieldType::money_estimate:
            values.money_estimate(field.name, {100, 200, 300}, pounds);
            return;
        case FieldType::date:
        case FieldType::edtf:
            values.text(field.name, "2026-03-14");
            return;
        case FieldType::instant:
            values.text(field.name, "2026-03-14T10:00:00Z");
            return;
        case FieldType::zone:
            values.text(field.name, "Europe/London");
            return;
        case FieldType::record:
            if (field.of == "face_frame") values.record(field.name, b.recto());
            if (field.of == "person") values.record(field.name, b.session->acting().author);
            return;
        case FieldType::sha256:
            values.text(field.name, std::string(64, 'a'));
            return;
        case FieldType::region:
            values.region(field.name, Region::rectangle({10, 10}, {8, 8}).value());
            return;
        case FieldType::values:
            values.value(field.name, nlohmann::json{{"binding", "risk"}});
            return;
        case FieldType::placement:
            return;
    }
}

TEST_CASE("No line of any kind shows an id, a digest, a raw date, JSON or the code of a word") {
    FormBook b;
    const QRegularExpression raw(
        "[0-9a-f]{8}-[0-9a-f]{4}|[0-9a-f]{32}|\\d{4}-\\d{2}-\\d{2}|[{}\\[\\]]|[a-z]+_[a-z]+|[a-z]-[a-z]");
    for (const usecases::Stage stage : usecases::all_stages) {
        for (const std::string_view name : kinds_of(stage)) {
            FieldValues values;
            for (const casebook::Field& field : kind(name).fields) fill(b, field, values);
            casebook::Record record;
            record.kind = std::string(name);
            record.body = casebook::Body(values.set_values());
            const auto snapshot = b.snapshot();
            for (const bool client : {false, true}) {
                const QString told = line_of(record, snapshot, client).text;
                CAPTURE(std::string(name), client, told.toStdString());
                CHECK_FALSE(told.isEmpty());
                // "all-in" is a word of the trade.
                CHECK_FALSE(QString(told).remove("all-in").contains(raw));
            }
        }
    }
}

TEST_CASE("A place is told by the ninth of the face it lies in, the back by its name") {
    CHECK(ninth_of({10, 10}, {900, 600}) == "upper left");
    CHECK(ninth_of({450, 300}, {900, 600}) == "centre");
    CHECK(ninth_of({890, 300}, {900, 600}) == "middle right");
    CHECK(ninth_of({450, 590}, {900, 600}) == "lower centre");
    FormBook b;
    const Uuid verso =
        b.add("face_frame", FieldValues().text("face", "verso").number("width_mm", 812).number("height_mm", 610));
    b.add("inscription",
          FieldValues().record("face_frame", verso).text("kind", "chalk-mark").text("transcription", "412"));
    CHECK(only_line(b, "inscription") == "Chalk mark · “412” · verso");
}

TEST_CASE("The line of a viewing note tells what was answered, and what was not seen") {
    FormBook b;
    FieldValues values;
    values.text("viewed_on", "2026-03-04")
        .value("answers/loose-paint", {{"answer", "yes"}, {"note", "lower left"}})
        .value("answers/ultraviolet", {{"answer", "not-seen"}});
    const Uuid note = b.add("viewing_note", values);
    const auto snapshot = b.snapshot();
    CHECK(line_of(*snapshot.find(note), snapshot, false).text ==
          "4 March 2026 · loose paint: yes, lower left; ultraviolet: not seen");
}

TEST_CASE("Answers of a viewing are told in the order of its questions") {
    FormBook b;
    b.add("viewing_note", FieldValues()
                              .value("answers/ultraviolet", {{"answer", "not-seen"}})
                              .value("answers/patch", {{"answer", "yes"}})
                              .value("answers/dealer-asked", {{"answer", "no"}})
                              .value("answers/lined", {{"answer", "no"}}));
    const QString told = only_line(b, "viewing_note");
    INFO(plain(told));
    CHECK(told.contains("Lined: no; patch: yes; ultraviolet: not seen; dealer asked: no"));
}
