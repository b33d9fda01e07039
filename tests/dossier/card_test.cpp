#include "tedge/dossier/card.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <future>

#include "archive_check.hpp"
#include "made_at.hpp"
#include "must.hpp"
#include "pdf_text.hpp"
#include "quick_files.hpp"
#include "tedge/dossier/gui_application.hpp"
#include "tedge/imaging/picture.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using namespace tedge::dossier;

namespace {

Card figures_card() {
    CardTable bids;
    bids.columns.assign(3, {"", 1.0, Align::right});
    bids.rows = {{"4,000", "4,200", "4,500"},
                 {"4,800", "5,000", "5,500"},
                 {"6,000", "6,500", "7,000"},
                 {"7,500", "8,000", "8,500"}};
    bids.marked_row = 3;
    bids.marked_column = 2;
    Card card{.title = "Lot 212", .type = CardType::at_arms_length};
    card.sides.push_back({{CardFact{"Lot", "212", true}, CardFact{"Limit", "GBP 8,500", true}, bids,
                           CardFact{"All-in at the limit", "GBP 11,050"}, CardFact{"Sale", "Quay Rooms, Old Pictures"},
                           CardFact{"", "5 March 2026, 14:30 Europe/London (GMT)"}}});
    return card;
}

imaging::Raster8 pixels_of(const std::string& png) {
    const TemporaryFolder folder(TemporaryFolder::quick_place());
    test::put(folder / "card.png", png);
    const auto picture = must(imaging::read_picture(folder / "card.png"));
    return std::get<imaging::Raster8>(picture.pixels);
}

// Heights, in pixels, of the stretches of rows that hold anything but ground: lines of type, from the top down. The
// rule under what is marked is no line of type.
std::vector<int> heights_of_lines(const imaging::Raster8& raster) {
    std::vector<int> heights;
    int run = 0;
    for (int y = 0; y < raster.height_px(); ++y) {
        bool is_ground = true;
        for (int x = 0; x < raster.width_px() && is_ground; ++x)
            for (int c = 0; c < raster.channels(); ++c)
                if (raster.at(x, y, c) != raster.at(0, 0, c)) is_ground = false;
        if (!is_ground) ++run;
        constexpr int thickest_rule_px = 10;
        if (is_ground && run > 0) {
            if (run > thickest_rule_px) heights.push_back(run);
            run = 0;
        }
    }
    return heights;
}

}  // namespace

TEST_CASE("a card is archival PDF of A6, light and dark, and says what it was given and nothing else", "[pdf]") {
    require_gui_application();
    for (const CardGround ground : {CardGround::light, CardGround::dark}) {
        const std::string pdf = must(card_pdf(figures_card(), ground, noon));
        if (const char* keep = std::getenv("TEDGE_KEEP_CARD"))
            test::put(keep + std::string(ground == CardGround::dark ? "-dark.pdf" : ".pdf"), pdf);
        CHECK(test::archive_faults(pdf) == std::vector<std::string>{});
        const auto view = test::view_of(pdf);
        CHECK(view.pages == 1);
        CHECK(view.title == "Lot 212");
        // ISO 216: 105 × 148 mm, in points of 1/72 inch 297.6 × 419.5, whole ones here.
        CHECK(view.decoded.find("/MediaBox [ 0 0 297") != std::string::npos);
        const std::string words = must(text_in_pdf(pdf));
        for (const char* word : {"212", "8,500", "11,050", "4,000", "Rooms", "14:30", "Europe/", "London"}) {
            INFO(word << " in " << words);
            CHECK(words.find(word) != std::string::npos);
        }
        CHECK(must(card_pdf(figures_card(), ground, noon)) == pdf);
    }
}

TEST_CASE("the picture of a card is A6 at 300 to the inch, its smallest capitals a 200th of an arm's length", "[pdf]") {
    require_gui_application();
    const auto pngs = must(card_pngs(figures_card(), CardGround::light));
    REQUIRE(pngs.size() == 1);
    const auto raster = pixels_of(pngs.front());
    CHECK(raster.width_px() == 1240);  // 105 mm × 300 / 25.4
    CHECK(raster.height_px() == 1748);
    const auto heights = heights_of_lines(raster);
    REQUIRE(heights.size() >= 10);
    // 600 mm / 200 = 3 mm, 35.4 px (common rule, from memory).
    for (const int height : heights) {
        CAPTURE(heights);
        CHECK(height >= 35);
    }
    CHECK(*std::ranges::max_element(heights) > 90);  // the limit stands out
}

TEST_CASE("on a dark ground there is little light, and the letters stand out from it") {
    // W3C, Web Content Accessibility Guidelines 2.1, 1.4.6 (enhanced): at least 7:1.
    CHECK(least_contrast(CardGround::light) >= 7.0);
    CHECK(least_contrast(CardGround::dark) >= 7.0);
    require_gui_application();
    const auto mean = [](CardGround ground) {
        const auto raster = pixels_of(must(card_pngs(figures_card(), ground)).front());
        double sum = 0.0;
        for (int y = 0; y < raster.height_px(); ++y)
            for (int x = 0; x < raster.width_px(); ++x) sum += raster.at(x, y, 1);
        return sum / raster.width_px() / raster.height_px();
    };
    CHECK(mean(CardGround::dark) < 40.0);
    CHECK(mean(CardGround::light) > 215.0);
}

TEST_CASE("cards drawn on two threads at once are those drawn one after the other", "[pdf]") {
    require_gui_application();
    const std::string alone = must(card_pdf(figures_card(), CardGround::light, noon));
    const auto picture = must(card_pngs(figures_card(), CardGround::dark));
    auto other = std::async(std::launch::async, [] { return must(card_pngs(figures_card(), CardGround::dark)); });
    for (int i = 0; i < 3; ++i) CHECK(must(card_pdf(figures_card(), CardGround::light, noon)) == alone);
    CHECK(other.get() == picture);
}

TEST_CASE("long words are set smaller, and what cannot be read at all is refused, not cut off", "[pdf]") {
    require_gui_application();
    Card card = figures_card();
    std::get<CardFact>(card.sides[0].parts[4]).value = "The Old Quay Rooms by the Water, Pictures of Four Centuries";
    const auto heights = heights_of_lines(pixels_of(must(card_pngs(card, CardGround::light)).front()));
    for (const int height : heights) CHECK(height >= 35);
    std::get<CardFact>(card.sides[0].parts[4]).value = std::string(1500, 'w');
    CHECK(card_pngs(card, CardGround::light).error().code == "card.too-full");
    CHECK(card_pdf(card, CardGround::light, noon).error().code == "card.too-full");
    CHECK(card_pdf(Card{}, CardGround::light, noon).error().code == "card.no-side");
}
