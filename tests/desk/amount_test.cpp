#include <QComboBox>
#include <QLineEdit>
#include <catch2/catch.hpp>

#include "form_fixture.hpp"
#include "tedge/usecases/ceilings.hpp"

using namespace tedge;
using namespace tedge::desk;
using casebook::FieldValues;

TEST_CASE("An amount is checked beside its field by the digits its currency has, while it is typed") {
    FormBook b;
    Drafts drafts = b.drafts();
    RecordForm form(*b.session, drafts);
    form.begin_new(b.case_id, kind("lot"));
    FieldEditor* low = form.editor("estimate_low");
    REQUIRE(low != nullptr);
    // ISO 4217: pounds have two decimals, yen none, Tunisian dinars three.
    low->set_typed("900.50 GBP");
    CHECK(low->fault().isEmpty());
    CHECK(says(*low, "GBP 900.50"));
    low->set_typed("900.505 GBP");
    CHECK_FALSE(low->fault().isEmpty());
    low->set_typed("900.505 TND");
    CHECK(low->fault().isEmpty());
    low->set_typed("900.5 JPY");
    CHECK_FALSE(low->fault().isEmpty());
    // As catalogues print thousands; what is grouped otherwise may be a comma before pennies, and is refused.
    for (const char* printed : {"1,200 GBP", "1 200 GBP", "1'200.00 GBP", "1200 GBP"}) {
        CAPTURE(printed);
        low->set_typed(printed);
        CHECK(says(*low, "GBP 1,200.00"));
    }
    for (const char* unclear : {"1,20 GBP", "12,00,000 GBP", "1,200 500 GBP", "1,2000 GBP", ",200 GBP"}) {
        CAPTURE(unclear);
        low->set_typed(unclear);
        CHECK_FALSE(low->fault().isEmpty());
    }
    low->set_typed("-3 GBP");
    CHECK_FALSE(low->fault().isEmpty());
    low->set_typed("3 QQQ");
    CHECK_FALSE(low->fault().isEmpty());
    low->set_typed("90000 JPY");
    form.save();
    const auto snapshot = b.snapshot();
    const auto lots = snapshot.of_kind("lot");
    REQUIRE(lots.size() == 1);
    CHECK(lots.front()->body.as_json().at("estimate_low").dump() == R"({"currency":"JPY","minor":90000})");
}

TEST_CASE("The currency proposed is that of the case's other money") {
    FormBook b;
    b.add("lot", FieldValues().money("estimate_low", {900'000, Currency::parse("EUR").value()}));
    Drafts drafts = b.drafts();
    RecordForm form(*b.session, drafts);
    form.begin_new(b.case_id, kind("cost_line"));
    form.editor("name")->set_typed("lining");
    FieldEditor* estimate = form.editor("estimate");
    const auto figures = estimate->findChildren<QLineEdit*>();
    CHECK(estimate->findChild<QComboBox*>()->currentText() == "EUR");
    for (QLineEdit* figure : figures) {
        if (figure->placeholderText() == "low") figure->setText("300");
        if (figure->placeholderText() == "likely") figure->setText("400.25");
    }
    CHECK_FALSE(estimate->fault().isEmpty());  // two of three
    for (QLineEdit* figure : figures) {
        if (figure->placeholderText() == "high") figure->setText("350");
    }
    CHECK(estimate->fault().contains("rise"));
    for (QLineEdit* figure : figures) {
        if (figure->placeholderText() == "high") figure->setText("900");
    }
    form.save();
    const auto snapshot = b.snapshot();
    const auto written = snapshot.of_kind("cost_line").front()->body.money_estimate("estimate");
    REQUIRE(written);
    CHECK(written->minor == Estimate<std::int64_t>{30'000, 40'025, 90'000});
    CHECK(written->currency.code() == "EUR");

    // Opened again it stands as it was, and saving it untouched writes nothing.
    form.edit(*snapshot.of_kind("cost_line").front());
    CHECK(form.editor("estimate")->typed() == "300.00 – 400.25 – 900.00 EUR");
    form.save();
    CHECK(b.session->book().history(snapshot.of_kind("cost_line").front()->id)->size() == 1);
}

TEST_CASE("A cost in another currency than the plan's is refused, not added up") {
    FormBook b;
    b.add("cost_line", FieldValues()
                           .text("name", "lining")
                           .money_estimate("estimate", {100, 200, 300}, Currency::parse("EUR").value()));
    CHECK(usecases::draft_plan(b.snapshot(), Currency::parse("EUR").value()));
    const auto mixed = usecases::draft_plan(b.snapshot(), Currency::parse("GBP").value());
    REQUIRE_FALSE(mixed);
    CHECK(mixed.error().code == "money.mixed-currencies");
    CHECK(mixed.error().message.find("lining") != std::string::npos);
}
