// The questions for somebody else's eyes, his message, and what treatments may cost.
#include <QClipboard>
#include <QGuiApplication>
#include <QLineEdit>
#include <QSignalSpy>
#include <QSlider>
#include <catch2/catch.hpp>

#include "ceiling/suggested_costs.hpp"
#include "form_fixture.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/photographs.hpp"
#include "viewing/viewing_aid_dialog.hpp"
#include "viewing/viewing_panel.hpp"

using namespace tedge;
using namespace tedge::desk;
using casebook::FieldValues;

TEST_CASE("The questions for a viewer are written as a page and as text, never over others") {
    FormBook b;
    ViewingPanel panel(*b.session);
    panel.show_case(b.snapshot());
    button(panel, QStringLiteral("Copy them as text"))->click();
    CHECK(QGuiApplication::clipboard()->text().contains(QStringLiteral("Lined before")));
    const QString folder = shown((b.folder / "brief").string());
    QSignalSpy spy(&panel, &ViewingPanel::written);
    panel.write_brief_into(folder);
    REQUIRE(spy.wait(60'000));
    CHECK(std::filesystem::file_size(b.folder / "brief" / "viewing-brief.pdf") > 1000);
    CHECK(std::filesystem::file_size(b.folder / "brief" / "viewing-brief.txt") > 100);
    CHECK(says(panel, QStringLiteral("Saved")));
    panel.write_brief_into(folder);
    REQUIRE(spy.wait(60'000));
    CHECK_FALSE(says(panel, QStringLiteral("Saved")));
}

TEST_CASE("A viewer's message becomes a viewing note; what is no answer is handed back") {
    FormBook b;
    ViewingPanel panel(*b.session);
    panel.show_case(b.snapshot());
    panel.take_in(QStringLiteral("1 yes\n2 not seen, framed\nlovely sky by the way"));
    REQUIRE(b.snapshot().of_kind("viewing_note").size() == 1);
    CHECK(says(panel, QStringLiteral("2 answers taken in")));
    CHECK(says(panel, QStringLiteral("lovely sky")));
    panel.show_case(b.snapshot());
    CHECK(says(panel, QStringLiteral("Answered: 1 of")));
    CHECK(says(panel, QStringLiteral("(framed)")));
    panel.take_in(QStringLiteral("nothing of the sort"));
    CHECK(b.snapshot().of_kind("viewing_note").size() == 1);
}

TEST_CASE("Costs are suggested for an hour's price and recorded once") {
    FormBook b;
    SuggestedCosts panel(*b.session);
    panel.show_case(b.snapshot());
    auto* rate = panel.findChild<QLineEdit*>();
    rate->setText(QStringLiteral("dear"));
    button(panel, QStringLiteral("Suggest costs"))->click();
    CHECK(says(panel, QStringLiteral("Say what an hour costs")));
    rate->setText(QStringLiteral("45 – 55 – 70"));
    button(panel, QStringLiteral("Suggest costs"))->click();
    CHECK(says(panel, QStringLiteral("from memory")));
    button(panel, QStringLiteral("Record these as costs"))->click();
    const std::size_t count = b.snapshot().of_kind("cost_line").size();
    CHECK(count > 3);
    panel.show_case(b.snapshot());
    button(panel, QStringLiteral("Suggest costs"))->click();
    button(panel, QStringLiteral("Record these as costs"))->click();
    CHECK(b.snapshot().of_kind("cost_line").size() == count);
    CHECK(says(panel, QStringLiteral("has a cost already")));
}

TEST_CASE("A look through the dirt follows its sliders and keeps nothing") {
    FormBook b;
    imaging::Raster8 brown(300, 200, 3);
    for (int y = 0; y < 200; ++y) {
        for (int x = 0; x < 300; ++x) {
            std::uint8_t* pixel = brown.row(y) + 3 * static_cast<std::ptrdiff_t>(x);
            pixel[0] = static_cast<std::uint8_t>(60 + x / 4);
            pixel[1] = static_cast<std::uint8_t>(45 + x / 5);
            pixel[2] = static_cast<std::uint8_t>(20 + y / 6);
        }
    }
    REQUIRE(imaging::write_picture(b.folder / "telephone.png", brown, imaging::PictureFormat::png));
    usecases::NewPhotograph wanted;
    wanted.case_id = b.case_id;
    wanted.file = b.folder / "telephone.png";
    wanted.light = "normal";
    wanted.stage = "saleroom";
    const Uuid id = usecases::take_in_photograph(b.session->acting(), wanted).value().id;
    const std::size_t records = b.snapshot().records.size();
    ViewingAidDialog dialog(*b.session, id);
    QSignalSpy spy(&dialog, &ViewingAidDialog::looked);
    REQUIRE(spy.wait(60'000));
    const QImage first = dialog.shown_image();
    CHECK(first.size() == QSize(300, 200));
    for (QSlider* slider : dialog.findChildren<QSlider*>()) slider->setValue(100);
    REQUIRE(spy.wait(60'000));
    CHECK(dialog.shown_image() != first);
    CHECK(b.snapshot().records.size() == records);
}
