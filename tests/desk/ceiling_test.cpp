// A bid thought through at the desk: what is left, what nobody saw, the charts, and the sheet after the purchase.
#include <QCheckBox>
#include <QCoreApplication>
#include <QLineEdit>
#include <QSignalSpy>
#include <catch2/catch.hpp>

#include "ceiling/ceiling_panel.hpp"
#include "ceiling/profit_chart.hpp"
#include "ceiling/swing_chart.hpp"
#include "ceiling/typed_plan.hpp"
#include "form_fixture.hpp"

using namespace tedge;
using namespace tedge::desk;
using casebook::FieldValues;
using nlohmann::json;

namespace {

struct Sheet {
    FormBook b;
    std::unique_ptr<CeilingPanel> panel;

    Sheet() { open(); }
    void open() {
        panel = std::make_unique<CeilingPanel>(*b.session);
        panel->resize(420, 1400);
        panel->show_case(b.snapshot());
    }
    QLineEdit& line(const char* name) {
        for (QLineEdit* each : panel->findChildren<QLineEdit*>()) {
            if (each->accessibleName() == QString::fromUtf8(name) && !each->isHidden()) return *each;
        }
        throw std::logic_error(name);
    }
    void type(const char* name, const char* text) { line(name).setText(QString::fromUtf8(text)); }
    void type_two_outcomes() {
        type("chance (%), 1", "40");
        type("sells for, 1", "15,000 – 20,000 – 32,000");
        type("sells for, 2", "5000 - 7000 - 9000");
        type("Profit wanted", "2000");
    }
    void study() {
        QSignalSpy spy(panel.get(), &CeilingPanel::studied);
        REQUIRE(spy.wait(20'000));
    }
    json fixed() { return b.snapshot().of_kind("ceiling").back()->body.as_json(); }
};

}  // namespace

TEST_CASE("What is typed into a plan is read as people write it, and comes back the same") {
    CHECK(estimate_typed(QStringLiteral("600 – 900 – 1,800")) == json::parse("[600, 900, 1800]"));
    CHECK(estimate_typed(QStringLiteral("600 to 1800")) == json::parse("[600, 1800]"));
    CHECK(estimate_typed(QStringLiteral("12 500.50")) == json(12500.5));
    CHECK(shares_typed(QStringLiteral("40 – 55 – 70 %")) == json::parse("[0.4, 0.55, 0.7]"));
    CHECK(shares_text(json::parse("[0.4, 0.55, 0.7]")) == QStringLiteral("40 – 55 – 70"));
    CHECK(estimate_text(json::parse("[600, 900, 1800]")) == QStringLiteral("600 – 900 – 1800"));
    CHECK(amount_typed(QStringLiteral("a lot")) == json("a lot"));
}

TEST_CASE("The outcome without a chance takes what is left, and says how much that is") {
    Sheet sheet;
    sheet.type_two_outcomes();
    CHECK(sheet.line("chance (%), 2").placeholderText() == QStringLiteral("= 60 %"));
    button(*sheet.panel, QStringLiteral("Fix this limit"))->click();
    const json outcomes = sheet.fixed().at("plan").at("outcomes");
    REQUIRE(outcomes.size() == 2);
    CHECK(outcomes[1].at("probability") == 0.6);
    CHECK(outcomes[1].at("name") == "no name");
    sheet.type("chance (%), 2", "30");
    CHECK(says(*sheet.panel, QStringLiteral("⊘")));
    CHECK_FALSE(button(*sheet.panel, QStringLiteral("Fix this limit"))->isEnabled());
}

TEST_CASE("The charts follow the typing, and plans stand beside one another with sold as found") {
    Sheet sheet;
    sheet.type_two_outcomes();
    sheet.study();
    CHECK_FALSE(sheet.panel->findChild<ProfitChart*>()->isHidden());
    auto* swings = sheet.panel->findChild<SwingChart*>();
    CHECK_FALSE(swings->isHidden());
    CHECK(swings->accessibleDescription().contains(QStringLiteral("no name: price")));
    sheet.type("Sold as found it brings", "3000 – 4000 – 5000");
    sheet.study();
    CHECK(says(*sheet.panel, QStringLiteral("as found")));
    button(*sheet.panel, QStringLiteral("Set beside as another plan"))->click();
    sheet.type("Profit wanted", "5000");
    sheet.study();
    CHECK(says(*sheet.panel, QStringLiteral("the one beside")));
    button(*sheet.panel, QStringLiteral("Exchange the two"))->click();
    CHECK(sheet.line("Profit wanted").text() == QStringLiteral("2000"));
}

TEST_CASE("A plan that was fixed is there again when the case is opened") {
    Sheet sheet;
    sheet.type_two_outcomes();
    sheet.type("months, 1", "3 – 8 – 24");
    button(*sheet.panel, QStringLiteral("Its condition may be …"))->click();
    sheet.type("Under the dirt, 1", "sound");
    button(*sheet.panel, QStringLiteral("Its condition may be …"))->click();
    sheet.type("Under the dirt, 2", "skinned");
    sheet.type("chance of it (%), 1", "70");
    sheet.type("price, % of sound, 2", "40 – 55 – 70");
    button(*sheet.panel, QStringLiteral("Fix this limit"))->click();
    sheet.open();
    CHECK(sheet.line("sells for, 1").text() == QStringLiteral("15000 – 20000 – 32000"));
    CHECK(sheet.line("months, 1").text() == QStringLiteral("3 – 8 – 24"));
    CHECK(sheet.line("Profit wanted").text() == QStringLiteral("2000"));
    CHECK(sheet.line("Under the dirt, 2").text() == QStringLiteral("skinned"));
    CHECK(sheet.line("price, % of sound, 2").text() == QStringLiteral("40 – 55 – 70"));
}

TEST_CASE("What nobody has seen makes a plan dearer, is told, and is not counted twice when the plan is opened again") {
    Sheet sheet;
    sheet.b.add("viewing_note", FieldValues().value("answers/lined/answer", "not-seen"));
    sheet.b.add("cost_line", FieldValues()
                                 .text("name", "lining")
                                 .money_estimate("estimate", {30'000, 40'000, 60'000}, Currency::parse("GBP").value()));
    sheet.open();
    sheet.type_two_outcomes();
    CHECK(says(*sheet.panel, QStringLiteral("lined before")));
    button(*sheet.panel, QStringLiteral("Fix this limit"))->click();
    const json first = sheet.fixed();
    sheet.open();
    button(*sheet.panel, QStringLiteral("Fix this limit"))->click();
    CHECK(sheet.fixed().at("limit") == first.at("limit"));
    CHECK(sheet.fixed().at("plan").at("outcomes") == first.at("plan").at("outcomes"));
    for (QCheckBox* each : sheet.panel->findChildren<QCheckBox*>()) each->setChecked(false);
    CHECK_FALSE(says(*sheet.panel, QStringLiteral("lined before")));
}

TEST_CASE("After the purchase the sheet asks what may still be spent and which course is best") {
    Sheet sheet;
    sheet.type_two_outcomes();
    button(*sheet.panel, QStringLiteral("Fix this limit"))->click();
    const Currency gbp = Currency::parse("GBP").value();
    sheet.b.add("purchase", FieldValues()
                                .money("hammer", {300'000, gbp})
                                .money("all_in", {390'000, gbp})
                                .money("margin_price", {390'000, gbp}));
    sheet.open();
    CHECK(says(*sheet.panel, QStringLiteral("Go on")));
    CHECK(says(*sheet.panel, QStringLiteral("May still be spent")));
    CHECK(button(*sheet.panel, QStringLiteral("Fix this limit"))->isHidden());
    sheet.type("Sold as it stands it brings", "9000 – 10000 – 12000");
    CHECK(says(*sheet.panel, QStringLiteral("Sell as it stands")));
}
