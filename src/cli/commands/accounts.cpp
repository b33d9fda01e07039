#include <fmt/format.h>

#include "amounts.hpp"
#include "command.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/own_files.hpp"
#include "tedge/usecases/accounts.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/house.hpp"
#include "tedge/usecases/portfolio.hpp"
#include "values.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;
using usecases::AccountEntry;
using usecases::CaseAccounts;

json name_or_null(const casebook::CaseSnapshot& snapshot, const std::optional<Uuid>& person) {
    const casebook::Record* found = person ? snapshot.find(*person) : nullptr;
    return found != nullptr && found->body.has("name") ? json(found->body.text_or("name")) : json(nullptr);
}

json entry_fields(const casebook::CaseSnapshot& snapshot, const AccountEntry& entry) {
    json estimate = nullptr;
    if (entry.estimate) {
        const auto at = [&](std::int64_t minor) { return amount(Money{minor, entry.estimate->currency}); };
        estimate = {{"low", at(entry.estimate->minor.low)},
                    {"likely", at(entry.estimate->minor.likely)},
                    {"high", at(entry.estimate->minor.high)},
                    {"currency", entry.estimate->currency.code()}};
    }
    const auto& own = entry.due ? entry.due : entry.paid;
    return {{"record", to_text(entry.record)},
            {"kind", entry.kind},
            {"what", entry.what},
            {"party", name_or_null(snapshot, entry.party)},
            {"direction", entry.incoming ? "in" : "out"},
            {"estimate", estimate},
            {"currency", own ? json(own->currency.code()) : json(nullptr)},
            {"due", amount(entry.due)},
            {"paid", amount(entry.paid)},
            {"owed", amount(entry.owed)},
            {"counts", amount(entry.counts)},
            {"due_on", entry.due_on.empty() ? json(nullptr) : json(entry.due_on)}};
}

std::string entry_line(const AccountEntry& entry) {
    const auto told = [](const std::optional<Money>& money) { return money ? to_display_text(*money) : "–"; };
    std::string line = fmt::format("{:3} {:28} {:>16}, paid {}, owed {}", entry.incoming ? "in" : "out", entry.what,
                                   told(entry.due), told(entry.paid), told(entry.owed));
    if (entry.estimate)
        line +=
            fmt::format("; estimated {} to {}", to_display_text({entry.estimate->minor.low, entry.estimate->currency}),
                        to_display_text({entry.estimate->minor.high, entry.estimate->currency}));
    return line;
}

json sale_fields(const std::optional<usecases::AccountsSale>& sale) {
    if (!sale) return nullptr;
    json fields = {{"record", to_text(sale->record)},
                   {"price", amount(sale->price)},
                   {"margin_price", amount(sale->margin_price)},
                   {"all_in", amount(sale->all_in)},
                   {"vat_percent", sale->vat_percent.to_double()},
                   {"margin", nullptr},
                   {"vat", nullptr},
                   {"vat_recovered", nullptr}};
    if (!sale->vat) return fields;
    fields["margin"] = amount(sale->vat->margin);
    fields["vat"] = amount(sale->vat->vat);
    fields["vat_recovered"] = amount(sale->vat->recovered);
    return fields;
}

void tell_sale(const usecases::AccountsSale& sale, Answer& answer) {
    if (!sale.vat) return;
    std::string line = fmt::format("Sold for {}: VAT {} at {} %", to_display_text(sale.price),
                                   to_display_text(sale.vat->vat), sale.vat_percent.to_text());
    if (sale.vat->margin)
        line += fmt::format(" in a margin of {} over {}", to_display_text(*sale.vat->margin),
                            to_display_text(*sale.margin_price));
    if (sale.vat->recovered.minor != 0)
        line += fmt::format(", recovered on the purchase {}", to_display_text(sale.vat->recovered));
    answer.lines.push_back(line + ".");
}

Answer accounts_answer(const casebook::CaseSnapshot& snapshot, const CaseAccounts& accounts) {
    Answer answer;
    answer.fields = {{"currency", accounts.currency.code()},
                     {"entries", json::array()},
                     {"sale", sale_fields(accounts.sale)},
                     {"sold", accounts.is_sold()},
                     {"paid_out", amount(accounts.paid_out)},
                     {"paid_in", amount(accounts.paid_in)},
                     {"deposits_held_by_others", amount(accounts.deposits_held)},
                     {"owed_by_us", amount(accounts.owed_by_us)},
                     {"owed_to_us", amount(accounts.owed_to_us)},
                     {"result", amount(accounts.result)},
                     {"ours", amount(accounts.ours)},
                     {"shares", json::array()},
                     {"doubts", accounts.doubts}};
    for (const AccountEntry& entry : accounts.entries) {
        answer.fields["entries"].push_back(entry_fields(snapshot, entry));
        answer.lines.push_back(entry_line(entry));
    }
    if (accounts.sale) tell_sale(*accounts.sale, answer);
    answer.lines.push_back(fmt::format("Paid out {}, in {}; owed by us {}, to us {}.",
                                       to_display_text(accounts.paid_out), to_display_text(accounts.paid_in),
                                       to_display_text(accounts.owed_by_us), to_display_text(accounts.owed_to_us)));
    answer.lines.push_back(
        fmt::format("Result {}: {}", accounts.is_sold() ? "" : "so far, unsold", to_display_text(accounts.result)));
    for (const usecases::AccountsShare& share : accounts.shares) {
        answer.fields["shares"].push_back({{"record", to_text(share.record)},
                                           {"party", name_or_null(snapshot, share.party)},
                                           {"percent", share.percent.to_double()},
                                           {"part", amount(share.part)},
                                           {"paid_in", amount(share.paid_in)},
                                           {"paid_out", amount(share.paid_out)}});
        answer.lines.push_back(
            fmt::format("  share of {} %: {}", share.percent.to_text(), to_display_text(share.part)));
    }
    if (!accounts.shares.empty()) answer.lines.push_back(fmt::format("  ours: {}", to_display_text(accounts.ours)));
    answer.lines.insert(answer.lines.end(), accounts.doubts.begin(), accounts.doubts.end());
    return answer;
}

json parts(const std::optional<money::SharedResult>& divided) {
    if (!divided) return nullptr;
    json shares = json::array();
    for (const Money& part : divided->shares) shares.push_back(amount(part));
    return {{"shares", shares}, {"ours", amount(divided->ours)}};
}

// What an unsold picture may still come to.
void tell_outlook(const usecases::Outlook& outlook, Answer& answer) {
    answer.fields["outlook"] = nullptr;
    if (!outlook.row || !outlook.row->expected_result) return;
    const usecases::PortfolioRow& row = *outlook.row;
    answer.fields["outlook"] = {{"costs_to_come", amount(row.costs_to_come)},
                                {"costs_at_most", amount(row.costs_at_most)},
                                {"expected_out", amount(row.expected_out)},
                                {"expected_result", amount(row.expected_result)},
                                {"worst_result", amount(row.worst_result)},
                                {"expected", parts(outlook.expected)},
                                {"worst", parts(outlook.worst)}};
    answer.lines.push_back(fmt::format("Result expected {}, at worst {}", to_display_text(*row.expected_result),
                                       to_display_text(*row.worst_result)));
    if (outlook.expected && !outlook.expected->shares.empty())
        answer.lines.push_back(fmt::format("  ours of it: {}, at worst {}", to_display_text(outlook.expected->ours),
                                           to_display_text(outlook.worst->ours)));
}

Expected<Answer> show_accounts(Context& context, const Arguments& arguments) {
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto id = usecases::find_case(**book, arguments.position("CASE"));
    if (!id) return pass_on(id);
    const auto house = usecases::house_of(**book);
    if (!house) return pass_on(house);
    const auto currency = said_by("currency", Currency::parse(arguments.option_or("currency", house->currency.code())));
    if (!currency) return pass_on(currency);
    const auto snapshot = (*book)->snapshot(*id);
    if (!snapshot) return pass_on(snapshot);
    const auto accounts = usecases::accounts_of_case(*snapshot, *currency);
    if (!accounts) return pass_on(accounts);
    if (const auto out = arguments.option("out")) {
        const auto csv = usecases::accounts_csv(*snapshot, *accounts);
        if (!csv) return pass_on(csv);
        if (auto written = write_table_durably(path_from_utf8(*out), *csv); !written) return pass_on(written);
    }
    Answer answer = accounts_answer(*snapshot, *accounts);
    if (accounts->is_sold()) {
        tell_outlook({}, answer);
        return answer;
    }
    const auto outlook = usecases::outlook_of_case(*snapshot, *currency);
    if (!outlook) return pass_on(outlook);
    tell_outlook(*outlook, answer);
    return answer;
}

Expected<Answer> show_house(Context& context, const Arguments& arguments) {
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto house = usecases::house_of(**book);
    if (!house) return pass_on(house);
    Answer answer;
    // The code itself is not shown: somebody may be looking.
    answer.fields = {{"name", house->name.empty() ? json(nullptr) : json(house->name)},
                     {"currency", house->currency.code()},
                     {"country", house->country.empty() ? json(nullptr) : json(house->country)},
                     {"has_price_code", !house->price_code.empty()}};
    answer.lines = {fmt::format("Accounts in {}; country {}; {} price code.", house->currency.code(),
                                house->country.empty() ? "not said" : house->country,
                                house->price_code.empty() ? "no" : "with a")};
    return answer;
}

Expected<Answer> set_house(Context& context, const Arguments& arguments) {
    usecases::HouseChange change{.name = arguments.option("name"),
                                 .currency = arguments.option("currency"),
                                 .country = arguments.option("country"),
                                 .price_code = arguments.option("price-code")};
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto done = usecases::change_house(*acting, change);
    if (!done) return pass_on(done);
    return done_answer(*done, "set");
}

}  // namespace

std::vector<Command> account_commands() {
    return {
        {"accounts show",
         {{"DIR", "CASE"}, {"currency", "out"}},
         "What a picture cost and brings, what is paid and owed, shares and result; --out FILE.csv writes it.",
         show_accounts},
        {"house show", {{"DIR"}, {}}, "Currency of the accounts, country, whether there is a price code.", show_house},
        {"house set",
         {{"DIR"}, {"name", "currency", "country", "price-code"}},
         "Says what holds for the whole house; a price code is a word of ten different letters.",
         set_house},
    };
}

}  // namespace tedge::cli
