#include "tedge/usecases/invoice_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "case_plan.hpp"
#include "lot_on_record.hpp"
#include "tedge/base/text.hpp"

namespace tedge::usecases {

using casebook::CaseSnapshot;
using casebook::Record;
using nlohmann::json;

namespace {

std::unexpected<Error> invoice_not_read(const std::string& reason) {
    return fail("invoice.not-read", "The received invoice cannot be read: " + reason + ".",
                R"(Write it as {"lines": [{"name": "hammer", "amount": 8500}], "total": 11050}.)",
                {{"reason", reason}});
}

Expected<Money> amount_in(const json& value, const Currency& currency, const std::string& of) {
    if (!value.is_number() && !value.is_string()) return invoice_not_read(of + " has no amount");
    auto amount = parse_money(value.is_string() ? value.get<std::string>() : value.dump(), currency);
    if (!amount) return invoice_not_read(fmt::format("{}: {}", of, amount.error().message));
    return amount;
}

Expected<ReceivedInvoice::Line> received_line(const json& value, const Currency& currency) {
    if (!value.is_object() || !value.contains("name") || !value["name"].is_string())
        return invoice_not_read("a line has no name");
    const std::string name(trimmed(value["name"].get<std::string>()));
    if (name.empty() || has_controls(name)) return invoice_not_read("a line has no name");
    auto amount = amount_in(value.value("amount", json()), currency, "the line \"" + name + "\"");
    if (!amount) return pass_on(amount);
    return ReceivedInvoice::Line{name, *amount};
}

// Other usual names of the lines of an invoice (common practice).
constexpr std::array<std::pair<std::string_view, money::Charge>, 14> other_names{
    {{"hammer price", money::Charge::hammer},
     {"buyer's premium", money::Charge::premium},
     {"buyers premium", money::Charge::premium},
     {"vat on buyer's premium", money::Charge::vat_on_premium},
     {"vat on buyers premium", money::Charge::vat_on_premium},
     {"vat on the premium", money::Charge::vat_on_premium},
     {"vat on hammer price", money::Charge::vat_on_hammer},
     {"vat on the hammer price", money::Charge::vat_on_hammer},
     {"import vat", money::Charge::vat_on_hammer},
     {"online surcharge", money::Charge::surcharge},
     {"internet surcharge", money::Charge::surcharge},
     {"vat on online surcharge", money::Charge::vat_on_surcharge},
     {"resale royalty", money::Charge::royalty},
     {"artist's resale right", money::Charge::royalty}}};

}  // namespace

std::optional<money::Charge> charge_of(std::string_view name) {
    using enum money::Charge;
    // Type-setters write the apostrophe in two ways.
    std::string wanted = lowered_ascii(trimmed(name));
    if (const auto curly = wanted.find("\u2019"); curly != std::string::npos) wanted.replace(curly, 3, "'");
    for (const money::Charge charge :
         {hammer, premium, vat_on_premium, vat_on_hammer, surcharge, vat_on_surcharge, fixed_fees, royalty, rounding})
        if (lowered_ascii(money::charge_name(charge)) == wanted) return charge;
    const auto other = std::ranges::find(other_names, wanted, [](const auto& each) { return each.first; });
    return other != other_names.end() ? std::optional(other->second) : std::nullopt;
}

Expected<ReceivedInvoice> parse_received_invoice(std::string_view text, const Currency& currency) {
    const json value = json::parse(text, nullptr, false);
    if (!value.is_object()) return invoice_not_read("it is no JSON object");
    const json lines = value.value("lines", json());
    if (!lines.is_array() || lines.empty()) return invoice_not_read("it has no lines");
    ReceivedInvoice received;
    for (const json& each : lines) {
        auto line = received_line(each, currency);
        if (!line) return pass_on(line);
        received.lines.push_back(*std::move(line));
    }
    if (value.contains("total") && !value["total"].is_null()) {
        const auto total = amount_in(value["total"], currency, "the total");
        if (!total) return pass_on(total);
        received.total = *total;
    }
    if (const json number = value.value("number", json()); number.is_string())
        received.number = number.get<std::string>();
    return received;
}

Expected<Money> hammer_paid(const CaseSnapshot& snapshot) {
    const Record* lot = newest_of_kind(snapshot, "lot");
    if (lot == nullptr)
        return fail("lot.none", "No lot is recorded for this picture.", "Enter the lot and its terms first.");
    const Record* purchase = purchase_of(snapshot, *lot);
    auto hammer = purchase != nullptr ? purchase->body.money("hammer") : std::nullopt;
    if (!hammer) hammer = lot->body.money("hammer");
    if (!hammer)
        return fail("lot.no-hammer", "What it was knocked down at is not recorded.", "Record the result of the lot.");
    return *hammer;
}

namespace {

void say_of_line(const money::InvoiceDifference& line, InvoiceCheck& check) {
    if (line.difference.minor == 0) return;
    const std::string_view name = money::charge_name(line.charge);
    const Money off{line.difference.minor < 0 ? -line.difference.minor : line.difference.minor,
                    line.difference.currency};
    if (line.charged.minor == 0) {
        check.differences.push_back(
            fmt::format("{}: {} is due by the terms and not charged.", name, to_display_text(line.due)));
    } else if (line.due.minor == 0) {
        check.differences.push_back(
            fmt::format("{}: {} is charged, and nothing is due by the terms.", name, to_display_text(line.charged)));
    } else {
        check.differences.push_back(fmt::format("{}: {} charged, {} due by the terms; {} too {}.", name,
                                                to_display_text(line.charged), to_display_text(line.due),
                                                to_display_text(off), line.difference.minor > 0 ? "much" : "little"));
    }
}

Expected<void> add_up(const ReceivedInvoice& received, InvoiceCheck& check) {
    for (const ReceivedInvoice::Line& line : received.lines) {
        const auto sum = add(check.charged, line.amount);
        if (!sum) return pass_on(sum);
        check.charged = *sum;
    }
    if (received.total && *received.total != check.charged) {
        check.differences.push_back(fmt::format("total: its lines come to {}, and {} is printed below them.",
                                                to_display_text(check.charged), to_display_text(*received.total)));
    }
    return {};
}

}  // namespace

Expected<InvoiceCheck> check_invoice(const CaseSnapshot& snapshot, const ReceivedInvoice& received) {
    const auto hammer = hammer_paid(snapshot);
    if (!hammer) return pass_on(hammer);
    const auto terms = terms_of_sale(snapshot, hammer->currency);
    if (!terms) return pass_on(terms);
    const auto bill = money::invoice(*terms, *hammer);
    if (!bill) return pass_on(bill);
    InvoiceCheck check{.due = bill->total, .charged = Money{0, hammer->currency}};
    if (auto remark = nameless_purchase_remark(snapshot, *newest_of_kind(snapshot, "lot")))
        check.remarks.push_back(*std::move(remark));
    std::vector<money::InvoiceLine> charged;
    for (const ReceivedInvoice::Line& line : received.lines) {
        if (const auto charge = charge_of(line.name)) {
            charged.push_back({*charge, line.amount});
        } else {
            check.not_in_terms.push_back(line);
        }
    }
    auto lines = money::compare_invoice(*terms, *hammer, charged);
    if (!lines) return pass_on(lines);
    check.lines = *std::move(lines);
    for (const money::InvoiceDifference& line : check.lines) say_of_line(line, check);
    for (const ReceivedInvoice::Line& line : check.not_in_terms) {
        check.differences.push_back(fmt::format("{}: {} is charged, and the recorded terms know no such charge.",
                                                line.name, to_display_text(line.amount)));
    }
    if (auto added = add_up(received, check); !added) return pass_on(added);
    return check;
}

Expected<Done> keep_invoice(const Acting& acting, const Uuid& case_id, const ReceivedInvoice& received) {
    const auto snapshot = acting.book.snapshot(case_id);
    if (!snapshot) return pass_on(snapshot);
    const Record* lot = newest_of_kind(*snapshot, "lot");
    const Record* purchase = lot != nullptr ? purchase_of(*snapshot, *lot) : nullptr;
    if (purchase == nullptr) {
        return fail("invoice.no-purchase", "No purchase is recorded that the invoice could be kept with.",
                    "Record first that the lot was bought.");
    }
    json lines = json::array();
    for (const ReceivedInvoice::Line& line : received.lines)
        lines.push_back({{"name", line.name}, {"amount", to_decimal_text(line.amount)}});
    casebook::FieldValues values;
    values.value("received_invoice/lines", lines);
    if (received.total) {
        values.value("received_invoice/total", to_decimal_text(*received.total));
    } else if (purchase->body.has("received_invoice/total")) {
        values.unset("received_invoice/total");
    }
    if (!received.number.empty()) values.text("invoice_number", received.number);
    return change_record(acting, purchase->id, values);
}

}  // namespace tedge::usecases
