#include "tedge/usecases/shot_list.hpp"

#include <algorithm>
#include <set>

#include "tedge/base/files.hpp"
#include "tedge/base/table.hpp"
#include "tedge/casebook/field_table.hpp"
#include "usecase_book.hpp"

using namespace tedge;
using namespace tedge::usecases;
using casebook::FieldValues;

namespace {

struct ShotBook : UsecaseBook {
    Uuid photograph(const Shot& shot, bool guessed = false) {
        const auto file = folder / ("file" + std::to_string(++number));
        must(write_file_durably(file, "of a photograph " + std::to_string(number)));
        FieldValues values;
        values.text("sha256", must(book.store_original(file)).sha256);
        values.text("face", shot.face).text("light", shot.light).text("stage", shot.stage);
        if (guessed) values.flag("guessed", true);
        return add("photograph", values);
    }
    ShotList list() { return shot_list(snapshot()); }
    ShotState state_of(const Shot& shot) {
        for (const ListedShot& row : list().shots) {
            if (row.shot == shot) return row.state;
        }
        FAIL("not on the list");
        return ShotState::missing;
    }
    int number = 0;
};

const Shot ultraviolet{"recto", "ultraviolet", "as-received"};

}  // namespace

TEST_CASE("The table of usual shots is whole: words of the field table, each once, each with source and status") {
    const auto csv = must(read_file(std::filesystem::path(TEDGE_SOURCE_DIR) / "resources/reference/shot_list.csv"));
    const Table table = must(Table::parse(csv));
    std::set<std::string> seen;
    for (std::size_t i = 0; i < table.row_count(); ++i) {
        CAPTURE(i);
        for (const char* field : {"face", "light", "stage"}) {
            const auto words = casebook::words_of(*casebook::find_kind("photograph")->field(field));
            CHECK(std::ranges::find(words, table.cell(i, field)) != words.end());
        }
        CHECK(seen.insert(table.cell(i, "stage") + table.cell(i, "face") + table.cell(i, "light")).second);
        for (const char* column : {"how", "source", "status"}) CHECK_FALSE(table.cell(i, column).empty());
    }
}

TEST_CASE("A new case wants what is usual of a picture as received, with the caution beside the ultraviolet one") {
    ShotBook shop;
    const ShotList list = shop.list();
    CHECK(list.stage == "as-received");
    CHECK(list.in_state(ShotState::missing).size() == list.shots.size());
    CHECK(list.shots.size() == 5);
    REQUIRE(list.cautions.size() == 1);
    for (const char* word : {"eyes", "skin", "short", "maker", "rules"})
        CHECK(list.cautions[0].find(word) != std::string::npos);
}

TEST_CASE("A photograph ticks its shot off; a guess of what it shows does not yet") {
    ShotBook shop;
    const Uuid guess = shop.photograph(ultraviolet, true);
    CHECK(shop.state_of(ultraviolet) == ShotState::guessed);
    must(change_record(shop.acting, guess, FieldValues().flag("guessed", false)));
    CHECK(shop.state_of(ultraviolet) == ShotState::there);
}

TEST_CASE("The list grows with the work, and says what is late") {
    ShotBook shop;
    shop.add("treatment_step", FieldValues().text("act", "varnish-removal").flag("planned", true));
    CHECK(shop.list().stage == "as-received");
    shop.add("treatment_step", FieldValues().text("act", "varnish-removal"));
    const ShotList list = shop.list();
    CHECK(list.stage == "cleaned");
    CHECK(shop.state_of({"recto", "raking", "cleaned"}) == ShotState::missing);
    CHECK(next_shot(list) == Shot{"recto", "normal", "cleaned"});
    shop.photograph({"recto", "normal", "as-received"});
    const ShotList with_first = shop.list();
    const auto late = std::ranges::find(with_first.shots, ultraviolet, &ListedShot::shot);
    REQUIRE(late != with_first.shots.end());
    CHECK(late->is_past);
}

TEST_CASE("A case wants one more, or says why one is not needed, once each and changeable") {
    ShotBook shop;
    const Shot signature{"recto", "infrared", "as-received"};
    must(wish_shot(shop.acting, shop.case_id, {signature, "the signature near", ""}));
    CHECK(shop.state_of(signature) == ShotState::missing);
    must(wish_shot(shop.acting, shop.case_id, {ultraviolet, "", "no lamp here"}));
    CHECK(shop.state_of(ultraviolet) == ShotState::not_needed);
    must(wish_shot(shop.acting, shop.case_id, {ultraviolet, "", ""}));
    CHECK(shop.state_of(ultraviolet) == ShotState::missing);
    CHECK(shop.count("shot_wanted") == 2);
    CHECK_FALSE(wish_shot(shop.acting, shop.case_id, {{"recto", "moonlight", "cleaned"}, "", ""}));
}

TEST_CASE("No caution where no ultraviolet photograph is on the list") {
    ShotBook shop;
    shop.add("lot", FieldValues().text("saleroom", "the old rooms"));
    const ShotList list = shop.list();
    CHECK(list.stage == "saleroom");
    CHECK(list.cautions.empty());
}
