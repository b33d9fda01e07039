// The terms of a sale, entered with the lot and reckoned with in the ceiling.
#include <QComboBox>
#include <QLineEdit>
#include <catch2/catch.hpp>
#include <map>

#include "ceiling/ceiling_panel.hpp"
#include "form_fixture.hpp"
#include "forms/band_text.hpp"

using namespace tedge;
using namespace tedge::desk;
using nlohmann::json;

TEST_CASE("A premium by bands is written as it is printed and kept as a plan knows it") {
    const json expected = json::parse(R"([{"up_to": 500000, "percent": 25}, {"up_to": 1000000, "percent": 20},
                                          {"percent": 14.5}])");
    for (const char* text : {"25 to 500000; 20 to 1000000; 14.5", "25 % up to 500,000; 20 % up to 1 000 000; 14.5 %",
                             "25 to 500k; 20 to 1m; 14,5"}) {
        CAPTURE(text);
        CHECK(read_bands(QString::fromUtf8(text)).value() == expected);
    }
    CHECK(read_bands(bands_text(expected)).value() == expected);
    CHECK(bands_text(json::parse(R"([{"percent": 25}])")) == QStringLiteral("25 %"));
    const auto code = [](const char* text) { return read_bands(QString::fromUtf8(text)).error().code; };
    CHECK(code("25 to 500000") == "bands.no-open-band");
    CHECK(code("25; 20 to 500000") == "bands.not-rising");
    CHECK(code("25 to 500000; 20 to 400000; 10") == "bands.not-rising");
    CHECK(code("125") == "bands.percent");
    CHECK(code("a quarter") == "bands.not-read");
}

TEST_CASE("Terms entered with the lot are those of the ceiling, and what else stands in the map stays") {
    FormBook b;
    const Uuid lot = b.add("lot", casebook::FieldValues().text("lot_number", "12").value("terms/date", "2026-03-20"));
    Drafts drafts = b.drafts();
    RecordForm form(*b.session, drafts);
    form.edit(b.session->book().record(lot).value());
    const auto type = [&](const char* field, const char* text) {
        CAPTURE(field);
        REQUIRE(form.editor(field) != nullptr);
        form.editor(field)->set_typed(QString::fromUtf8(text));
    };
    type("terms/premium", "25 to 5000; 20");
    type("terms/vat_on_premium_percent", "20");
    type("terms/fixed_fees", "35");
    type("terms/premium_includes_vat", "no");
    type("terms/surcharge_percent", "103");
    form.save();
    CHECK(form.editor("terms/surcharge_percent")->fault().contains(QStringLiteral("from 0 to 100")));
    type("terms/surcharge_percent", "3");
    form.save();
    const json terms = b.session->book().record(lot)->body.as_json().at("terms");
    CHECK(terms == json::parse(R"({"date": "2026-03-20", "premium": [{"up_to": 5000, "percent": 25}, {"percent": 20}],
        "premium_includes_vat": false, "vat_on_premium_percent": 20, "fixed_fees": 35, "surcharge_percent": 3})"));

    form.edit(b.session->book().record(lot).value());
    CHECK(form.editor("terms/premium")->typed() == QStringLiteral("25 % to 5000; 20 %"));
    CHECK(form.editor("terms/vat_on_premium_percent")->typed() == QStringLiteral("20"));

    CeilingPanel panel(*b.session);
    panel.show_case(b.snapshot());
    CHECK(says(panel, QStringLiteral("premium 25 % up to")));
    const auto line = [&](const char* name) -> QLineEdit& {
        for (QLineEdit* each : panel.findChildren<QLineEdit*>()) {
            if (each->accessibleName() == QString::fromUtf8(name)) return *each;
        }
        throw std::logic_error(name);
    };
    CHECK(line("Premium (%)").isHidden());
    line("chance (%), 1").setText(QStringLiteral("100"));
    line("sells for, 1").setText(QStringLiteral("20000"));
    line("Profit wanted").setText(QStringLiteral("1000"));
    button(panel, QStringLiteral("Fix this limit"))->click();
    REQUIRE(b.snapshot().of_kind("ceiling").size() == 1);
    const json sale = b.snapshot().of_kind("ceiling").front()->body.as_json().at("plan").at("sale");
    CHECK(sale.at("premium") == terms.at("premium"));
    CHECK(sale.at("fixed_fees") == 35);
    CHECK(sale.at("surcharge_percent") == 3);
}

TEST_CASE("Terms that are recorded in part count, and what is missing comes from the panel's own lines") {
    const auto sale_with = [](const json& terms) {
        FormBook b;
        b.add("lot", casebook::FieldValues()
                         .money("estimate_low", {180'000, Currency::parse("GBP").value()})
                         .value("terms", terms));
        CeilingPanel panel(*b.session);
        panel.show_case(b.snapshot());
        std::map<QString, QLineEdit*> lines;  // the first of each name
        for (QLineEdit* each : panel.findChildren<QLineEdit*>()) lines.emplace(each->accessibleName(), each);
        CHECK(lines.at(QStringLiteral("Premium (%)"))->isHidden() == terms.contains("premium"));
        CHECK_FALSE(lines.at(QStringLiteral("VAT on it (%)"))->isHidden());
        lines.at(QStringLiteral("chance (%), 1"))->setText(QStringLiteral("100"));
        lines.at(QStringLiteral("sells for, 1"))->setText(QStringLiteral("18,000 - 20,000 - 23,000"));
        lines.at(QStringLiteral("Profit wanted"))->setText(QStringLiteral("1000"));
        button(panel, QStringLiteral("Fix this limit"))->click();
        const json sale = b.snapshot().of_kind("ceiling").front()->body.as_json().at("plan").at("sale");
        panel.findChild<QComboBox*>()->setEditText(QStringLiteral("EUR"));
        CHECK(says(panel, QStringLiteral("Reckon in GBP, the currency of the sale")));
        CHECK_FALSE(button(panel, QStringLiteral("Fix this limit"))->isEnabled());
        return sale;
    };
    const json bands = sale_with({{"premium", {{{"percent", 30}}}}});
    CHECK(bands.at("premium")[0].at("percent") == 30);
    CHECK(bands.at("vat_on_premium_percent") == 20);
    const json import_vat = sale_with({{"vat_on_hammer_percent", 5}});
    CHECK(import_vat.at("vat_on_hammer_percent") == 5);
    CHECK(import_vat.at("premium")[0].at("percent") == 25);
}
