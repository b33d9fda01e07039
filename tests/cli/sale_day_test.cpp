// The day of a sale by commands. Figures: tests/reference/auction_invoice_examples.csv, inv8.
#include "command_shop.hpp"

using namespace tedge;
using nlohmann::json;

namespace {

struct SaleShop : CommandShop {
    SaleShop() {
        must(run({"record", "add", book, case_id, "lot",
                  R"({"lot_number": "212", "sale_at": "2026-03-02T14:30:00Z", "sale_zone": "Europe/London",
                      "terms/premium": [{"percent": 25}], "terms/vat_on_premium_percent": 20,
                      "terms/pay_within_days": 5})",
                  "--by", "Ada Wren"}));
    }
    Expected<json> result(std::vector<std::string> more) {
        std::vector<std::string> words{"lot", "result", book, case_id, "--by", "Ada Wren"};
        words.insert(words.end(), more.begin(), more.end());
        return run(words);
    }
    std::string file(const std::string& name, std::string_view text) {
        must(write_file_durably(folder / name, text));
        return to_utf8(folder / name);
    }
};

}  // namespace

TEST_CASE("a result by command answers with prices, risk and days") {
    SaleShop s;
    const json said = must(s.result({"--result", "bought", "--hammer", "8500"}));
    CHECK(said["expected_invoice"]["total"] == 11050);
    CHECK(said["risk"]["assumed"] == true);
    CHECK(said["post_mortem"].is_null());  // no limit was fixed
    REQUIRE(said["deadlines"].size() == 1);
    CHECK(said["deadlines"][0]["on"] == "2026-03-07");
    CHECK(said["deadlines"][0]["default"] == false);

    const std::string calendar = to_utf8(s.folder / "due.ics");
    CHECK(must(s.run({"deadlines", "export", s.book, "--out", calendar}))["entries"] == 1);
    CHECK(must(s.run({"deadlines", "export", s.book, s.case_id, "--out", calendar, "--remind-days", "2"}))["entries"] ==
          1);
    CHECK(must(read_file(path_from_utf8(calendar))).find("TRIGGER:-P2D\r\n") != std::string::npos);
}

TEST_CASE("an invoice that differs from the terms ends with 1 and names the line") {
    SaleShop s;
    must(s.result({"--result", "bought", "--hammer", "8500"}));
    const std::string file = s.file("invoice.json", R"({"lines": [{"name": "hammer", "amount": 8500},
        {"name": "premium", "amount": 2125}, {"name": "VAT on premium", "amount": 426}]})");
    const auto answer = must(cli::run_words(s.context, {"invoice", "check", s.book, s.case_id, "--received", file}));
    CHECK(answer.code == cli::ExitCode::refused);
    CHECK(answer.fields["agrees"] == false);
    CHECK(answer.fields["lines"][2] ==
          json({{"name", "VAT on premium"}, {"due", 425}, {"charged", 426}, {"difference", 1}}));
}

TEST_CASE("what falls due is listed, and an invoice may come as a table") {
    SaleShop s;
    must(s.result({"--result", "bought", "--hammer", "8500"}));
    const json listed = must(s.run({"deadlines", "list", s.book, s.case_id}))["deadlines"];
    REQUIRE(listed.size() == 1);
    CHECK(listed[0]["on"] == "2026-03-07");
    CHECK(listed[0]["overdue"] == false);
    CHECK(must(s.run({"deadlines", "list", s.book}))["deadlines"] == listed);
    const std::string table =
        s.file("invoice.csv", "hammer price;8,500.00\npremium;2125\nVAT on premium;425\ntotal;11050\n");
    CHECK(must(s.run({"invoice", "check", s.book, s.case_id, "--received", table}))["agrees"] == true);
}

TEST_CASE("what an option of the sale day cannot be is wrong use") {
    SaleShop s;
    const auto code = [&](std::vector<std::string> more) { return cli::code_of(s.result(std::move(more)).error()); };
    CHECK(code({"--result", "sold"}) == cli::ExitCode::wrong_use);
    CHECK(code({"--result", "bought", "--hammer", "8500.005"}) == cli::ExitCode::wrong_use);
    CHECK(code({"--result", "bought", "--hammer", "8500", "--paid-on", "soon"}) == cli::ExitCode::wrong_use);
    CHECK(code({"--result", "bought"}) == cli::ExitCode::refused);
    const auto remind = s.run({"deadlines", "export", s.book, "--out", "x.ics", "--remind-days", "1.5"});
    CHECK(cli::code_of(remind.error()) == cli::ExitCode::wrong_use);
    CHECK(s.run({"cards", s.book, s.case_id, "--out", to_utf8(s.folder / "cards")}).error().code == "cards.no-limit");
}
