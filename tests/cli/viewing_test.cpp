#include <nlohmann/json.hpp>

#include "command_shop.hpp"

using namespace tedge;
using nlohmann::json;

TEST_CASE("A viewing goes out as questions and comes back as answers") {
    CommandShop shop;
    const json brief =
        must(shop.run({"viewing", "brief", shop.book, shop.case_id, "--out", to_utf8(shop.folder / "b")}));
    CHECK(brief["pages"] == 1);
    must(write_file_durably(shop.folder / "message.txt", "1 yes\n2 not seen framed\nsee you"));
    const std::string message = to_utf8(shop.folder / "message.txt");
    const json taken =
        must(shop.run({"viewing", "answers", shop.book, shop.case_id, "--message", message, "--by", "Ada Wren"}));
    CHECK(taken["answers"]["answers/lined"] == "yes");
    CHECK(taken["not_understood"] == json::array({"see you"}));
    const json seen = must(shop.run({"viewing", "seen", shop.book, shop.case_id}));
    CHECK(seen["questions"][1]["why"] == "framed");
    CHECK(seen["questions"][2]["answer"].is_null());
    must(write_file_durably(shop.folder / "plan.json", R"({"currency": "GBP", "sale": {}, "outcomes": [{"price": 9}],
        "costs": [{"name": "lining", "amount": 500}]})"));
    const json wider =
        must(shop.run({"viewing", "widen", shop.book, shop.case_id, "--plan", to_utf8(shop.folder / "plan.json")}));
    CHECK(wider["plan"]["costs"][0]["amount"] == json::array({500.0, 500.0, 750.0}));
    CHECK(wider["widened"][0]["after"] == "750.00");
}

TEST_CASE("A viewing aid writes another file, never over the photograph") {
    CommandShop shop;
    must(imaging::write_picture(shop.folder / "p.png", imaging::Raster8(120, 90, 3), imaging::PictureFormat::png));
    const std::string photo = to_utf8(shop.folder / "p.png");
    const json aid = must(shop.run({"viewing", "aid", photo, "--out", to_utf8(shop.folder / "q.png"), "--tone", "1"}));
    CHECK(aid["evidence"] == false);
    CHECK(shop.run({"viewing", "aid", photo, "--out", photo}).error().code == "usage.writes-over-input");
    CHECK(shop.run({"viewing", "aid", photo, "--out", to_utf8(shop.folder / "q.png"), "--tone", "3"}).error().code ==
          "viewing-aid.slider");
}
