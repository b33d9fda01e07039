// The money of a picture, the stock book and the questions of law, as a script reads them.
#include <algorithm>

#include "command_shop.hpp"
#include "tedge/base/table.hpp"

using namespace tedge;
using nlohmann::json;

namespace {

struct AccountShop : CommandShop {
    AccountShop() { clock.advance(std::chrono::days(400)); }
    json told(std::vector<std::string> words) {
        words.insert(words.end(), {"--by", "Ada Wren"});
        return must(run(std::move(words)));
    }
    std::string add(const std::string& kind, const json& values) {
        return told({"record", "add", book, case_id, kind, values.dump()})["id"].get<std::string>();
    }
    static json gbp(std::int64_t pounds) { return {{"minor", pounds * 100}, {"currency", "GBP"}}; }
};

}  // namespace

// Bought as the buyer of HMRC Notice 718/2 section 8, example 2, pays it, sold at 2,000
// (tests/reference/vat_examples.csv, own/chain).
TEST_CASE("A picture bought, paid in parts and sold: accounts, stock book, list and portfolio by command") {
    AccountShop s;
    s.told({"house", "set", s.book, "--currency", "GBP", "--country", "GB", "--price-code", "blackhorse"});
    CHECK(s.told({"house", "show", s.book})["has_price_code"] == true);
    CHECK(s.told({"house", "show", s.book}).dump().find("blackhorse") == std::string::npos);
    const std::string purchase = s.add(
        "purchase",
        {{"bought_on", "2026-04-01"}, {"scheme", "margin"}, {"margin_price", s.gbp(1180)}, {"all_in", s.gbp(1180)}});
    s.add("payment", {{"direction", "out"}, {"on", "2026-04-03"}, {"amount", s.gbp(1000)}, {"settles", purchase}});

    const json list = s.told({"stock-list", s.book, "--out", to_utf8(s.folder / "list.csv")});
    CHECK(list["pictures"][0]["cost_in_code"] == "BBRE");
    CHECK(must(read_file(s.folder / "list.csv")).find("1180") == std::string::npos);

    s.add("sale", {{"sold_on", "2026-06-01"}, {"scheme", "margin"}, {"price", s.gbp(2000)}});
    const json accounts = s.told({"accounts", "show", s.book, s.case_id, "--out", to_utf8(s.folder / "accounts.csv")});
    CHECK(accounts["entries"][0]["paid"] == 1000.0);
    CHECK(accounts["entries"][0]["owed"] == 180.0);
    CHECK(accounts["sale"]["vat"] == 136.67);
    CHECK(accounts["result"] == 683.33);
    CHECK(must(Table::parse(must(read_file(s.folder / "accounts.csv")))).row_count() == 3);

    const std::string file = to_utf8(s.folder / "book.csv");
    const std::vector<std::string> words{"stock-book", s.book,       "--from", "2026-01-01",
                                         "--to",       "2026-12-31", "--out",  file};
    const json stock = s.told(words);
    CHECK(stock["vat_due"] == 136.67);
    CHECK_FALSE(stock["missing"].empty());  // nobody named seller and buyer
    CHECK(stock["ordinary"]["rows"].empty());
    const Table table = must(Table::parse(must(read_file(path_from_utf8(file)))));
    CHECK(table.cell(0, "vat_due") == "136.67");
    CHECK(table.cell(0, "purchase_price") == "1180.00");
    CHECK(cli::run_words(s.context, words)->code == cli::ExitCode::not_to_be_trusted);

    // What is no such table stays: the casebook itself, a table of another sort.
    for (const std::string& taken : {to_utf8(path_from_utf8(s.book) / "casebook.sqlite"), file}) {
        const auto before = must(read_file(path_from_utf8(taken)));
        for (const std::vector<std::string>& over :
             {std::vector<std::string>{"portfolio", s.book, "--csv", taken},
              std::vector<std::string>{"accounts", "show", s.book, s.case_id, "--out", taken}})
            CHECK(cli::run_words(s.context, over).error().code == "table.exists");
        CHECK(must(read_file(path_from_utf8(taken))) == before);
    }

    const json portfolio = s.told({"portfolio", s.book, "--csv", to_utf8(s.folder / "portfolio.csv")});
    CHECK(portfolio["pictures"][0]["result"] == 683.33);
    CHECK(portfolio["paid_out"] == 1000.0);
    CHECK(s.run({"stock-book", s.book, "--from", "1 May", "--to", "2026-12-31"}).error().values.at("option") == "from");
    CHECK(s.run({"accounts", "show", s.book, s.case_id, "--currency", "EUR"}).error().code == "money.mixed-currencies");
}

TEST_CASE("Questions of law are listed and answered, and a suspicion is shown by its own command alone") {
    AccountShop s;
    s.told({"duties", "answer", s.book, s.case_id, "register-search", "answered", "--text", "searched, nothing found"});
    const json listed = s.told({"duties", s.book, s.case_id});
    REQUIRE(listed["duties"].size() == 11);
    const auto state = [&](std::string_view name) {
        const auto found = std::ranges::find_if(listed["duties"], [&](const json& d) { return d["duty"] == name; });
        REQUIRE(found != listed["duties"].end());
        return (*found)["state"].get<std::string>();
    };
    CHECK(state("register-search") == "answered");
    CHECK(state("sanctions") == "open");
    CHECK(state("joint-purchase") == "not-applicable");
    CHECK(s.run({"duties", "answer", s.book, s.case_id, "luck", "answered", "--text", "x", "--by", "A"}).error().code ==
          "casebook.bad-field");

    s.told({"suspicion", "add", s.book, s.case_id, "--text", "Thornapple paid for another."});
    CHECK(s.told({"suspicion", "list", s.book, s.case_id})["suspicions"].size() == 1);
    for (const std::vector<std::string>& words : {std::vector<std::string>{"case", "show", s.book, s.case_id},
                                                  {"duties", s.book, s.case_id},
                                                  {"accounts", "show", s.book, s.case_id},
                                                  {"portfolio", s.book},
                                                  {"search", s.book, "Thornapple"}}) {
        CAPTURE(words[0]);
        const auto answer = cli::run_words(s.context, words);
        REQUIRE(answer);
        CHECK(answer->fields.dump().find("Thornapple") == std::string::npos);
        CHECK(std::ranges::none_of(answer->lines, [](const std::string& line) {
            return line.find("Thornapple") != std::string::npos || line.find("suspicion") != std::string::npos;
        }));
    }
}

TEST_CASE(
    "An amount, a rate or an estimate that cannot be is refused with its field and the reason; nothing is written") {
    AccountShop s;
    const auto refused = [&](const std::string& kind, const json& values, std::string_view field) {
        const auto answer = s.run({"record", "add", s.book, s.case_id, kind, values.dump(), "--by", "Ada Wren"});
        CAPTURE(kind, values.dump());
        REQUIRE_FALSE(answer);
        CHECK(answer.error().code == "casebook.bad-field");
        CHECK(answer.error().values.at("field") == field);
        CHECK_FALSE(answer.error().values.at("reason").empty());
    };
    const json payment = {{"direction", "out"}, {"on", "2026-04-03"}, {"amount", s.gbp(10)}};
    const auto with = [&](const char* field, const json& value) {
        json values = payment;
        values[field] = value;
        return values;
    };
    refused("payment", with("amount", {{"minor", -1000}, {"currency", "GBP"}}), "amount");
    refused("payment", with("amount", {{"minor", 1000}, {"currency", "POUNDS"}}), "amount");
    refused("payment", with("amount", {{"minor", 1e30}, {"currency", "GBP"}}), "amount");
    refused("payment", with("rate", 0), "rate");
    refused("payment", with("direction", "sideways"), "direction");
    refused("share", {{"percent", 120}, {"bears", "profit"}}, "percent");
    refused("cost_line",
            {{"name", "lining"}, {"estimate", {{"low", 500}, {"likely", 400}, {"high", 900}, {"currency", "GBP"}}}},
            "estimate");
    // A million millions are an amount like any other; two of them too.
    const json millions = {{"minor", 100'000'000'000'000}, {"currency", "GBP"}};
    s.add("payment", with("amount", millions));
    s.add("payment", with("amount", millions));
    CHECK(s.told({"accounts", "show", s.book, s.case_id})["paid_out"] == 2e12);
    CHECK(s.told({"case", "show", s.book, s.case_id})["records"].size() == 3);  // and the face it began with
}
