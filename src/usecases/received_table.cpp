#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "tedge/base/text.hpp"
#include "tedge/usecases/invoice_check.hpp"

namespace tedge::usecases {

namespace {

std::unexpected<Error> table_not_read(const std::string& line, const std::string& reason) {
    return fail("invoice.not-read", fmt::format("The line \"{}\" of the invoice cannot be read: {}.", line, reason),
                "Write a line for each charge: its name, a tab, a semicolon or a blank, and the amount.",
                {{"reason", reason}});
}

struct NameAndAmount {
    std::string name;
    std::string amount;
};

std::string without_quotes(std::string_view cell) {
    const std::string_view inside = trimmed(cell);
    if (inside.size() < 2 || !inside.starts_with('"') || !inside.ends_with('"')) return std::string(inside);
    return std::string(inside.substr(1, inside.size() - 2));
}

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

// A comma parts name and amount where it does not part thousands: behind it stands no group of three, or before it no
// figure.
std::size_t parting_comma(std::string_view line) {
    if (line.ends_with('"')) {
        const auto quoted = line.find(",\"");
        if (quoted != std::string_view::npos) return quoted;
    }
    for (std::size_t at = line.find(','); at != std::string_view::npos; at = line.find(',', at + 1))
        if (at == 0 || !is_digit(line[at - 1])) return at;
    return std::string_view::npos;
}

NameAndAmount parted(std::string_view line, const Currency& currency) {
    std::size_t at = line.rfind('\t');
    if (at == std::string_view::npos) at = line.rfind(';');
    if (at == std::string_view::npos) at = parting_comma(line);
    if (at != std::string_view::npos) return {without_quotes(line.substr(0, at)), without_quotes(line.substr(at + 1))};
    at = line.rfind(' ');
    if (at == std::string_view::npos) return {std::string(line), {}};
    // "premium GBP 2,125.00": the currency is no part of the name.
    std::string_view name = trimmed(line.substr(0, at));
    for (const std::string_view mark :
         {currency.code(), std::string_view("£"), std::string_view("€"), std::string_view("$")}) {
        if (name.ends_with(mark)) name = trimmed(name.substr(0, name.size() - mark.size()));
    }
    return {std::string(name), std::string(line.substr(at + 1))};
}

// As invoices write it; several currencies are called dollar. Empty for those without a sign of their own. The sign of
// another currency is left standing, so that its amount is refused instead of taken for one of the sale's.
std::string_view sign_of(const Currency& currency) {
    if (currency.code() == "GBP") return "£";
    if (currency.code() == "EUR") return "€";
    return currency.code().ends_with('D') ? "$" : "";
}

// "£1,700.00", "1700", "GBP 1,700.00": what stands before the figure may be the currency, commas part three digits.
std::string bare_amount(std::string_view text, const Currency& currency) {
    std::string amount(trimmed(text));
    for (const std::string_view mark :
         {currency.code(), sign_of(currency), std::string_view("\u00a0"), std::string_view(" ")}) {
        if (mark.empty()) continue;
        for (auto at = amount.find(mark); at != std::string::npos; at = amount.find(mark))
            amount.erase(at, mark.size());
    }
    const auto whole_ends = std::min(amount.find('.'), amount.size());
    for (auto at = amount.find(','); at != std::string::npos; at = amount.find(',', at + 1)) {
        const auto next = std::min(amount.find(',', at + 1), whole_ends);
        if (at >= whole_ends || next - at != 4) return amount;  // no thousands: nobody knows what it parts
    }
    std::erase(amount, ',');
    return amount;
}

bool is_one_of(const std::string& name, std::initializer_list<std::string_view> names) {
    std::string wanted = lowered_ascii(name);
    while (wanted.ends_with(':') || wanted.ends_with('.')) wanted.pop_back();
    return std::ranges::find(names, wanted) != names.end();
}

}  // namespace

Expected<ReceivedInvoice> parse_invoice_table(std::string_view text, const Currency& currency) {
    ReceivedInvoice received;
    for (const std::string_view each : split(text, '\n')) {
        const std::string line(trimmed(each));
        if (line.empty()) continue;
        if (has_controls(line, "\t") || line.size() > 500) return table_not_read("…", "it is no text");
        const auto [name, said] = parted(line, currency);
        if (is_one_of(name, {"name", "charge", "description", "item"})) continue;  // the head of the table
        if (is_one_of(name, {"invoice number", "invoice no", "invoice", "number"})) {
            received.number = said;
            continue;
        }
        if (name.empty() || said.empty()) return table_not_read(line, "it has no name or no amount");
        const auto amount = parse_money(bare_amount(said, currency), currency);
        if (!amount) return table_not_read(line, amount.error().message);
        if (is_one_of(name, {"total", "total due", "amount due", "invoice total"})) {
            received.total = *amount;
        } else {
            received.lines.push_back({name, *amount});
        }
    }
    if (received.lines.empty()) return table_not_read("", "it names no charge");
    return received;
}

Expected<ReceivedInvoice> read_received_invoice(std::string_view text, const Currency& currency) {
    return trimmed(text).starts_with('{') ? parse_received_invoice(text, currency)
                                          : parse_invoice_table(text, currency);
}

}  // namespace tedge::usecases
