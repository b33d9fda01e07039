// The accounts of a picture as a table that a spreadsheet reads.
#include <algorithm>
#include <map>

#include "account_records.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/table.hpp"
#include "tedge/usecases/accounts.hpp"

namespace tedge::usecases {

namespace {

using casebook::CaseSnapshot;

std::string amount_cell(const std::optional<Money>& amount) {
    return amount ? to_decimal_text(*amount) : std::string();
}

std::string currency_of(const AccountEntry& entry) {
    if (entry.due) return std::string(entry.due->currency.code());
    if (entry.paid) return std::string(entry.paid->currency.code());
    return entry.estimate ? std::string(entry.estimate->currency.code()) : std::string();
}

std::string entry_line(const CaseSnapshot& snapshot, const AccountEntry& entry) {
    const auto estimated = [&](std::int64_t minor) { return to_decimal_text({minor, entry.estimate->currency}); };
    return to_csv_line({entry.incoming ? "in" : "out", entry.kind, entry.what, name_in(snapshot, entry.party),
                        currency_of(entry), entry.estimate ? estimated(entry.estimate->minor.low) : "",
                        entry.estimate ? estimated(entry.estimate->minor.likely) : "",
                        entry.estimate ? estimated(entry.estimate->minor.high) : "", amount_cell(entry.due),
                        amount_cell(entry.paid), amount_cell(entry.owed), entry.due_on, "", "",
                        amount_cell(entry.counts)});
}

Expected<std::string> payment_line(const CaseSnapshot& snapshot, const casebook::Record& payment,
                                   const std::string& what, const Currency& currency) {
    const auto& body = payment.body;
    const auto amount = body.money("amount");
    const auto counts = amount ? at_recorded_rate(payment, *amount, currency) : Money{0, currency};
    if (!counts) return pass_on(counts);
    const bool converted = amount && amount->currency != currency;
    return to_csv_line({body.text_or("direction"), "payment", what, name_in(snapshot, body.record("party")),
                        amount ? std::string(amount->currency.code()) : "", "", "", "", "", amount_cell(amount), "",
                        body.text_or("on"), converted ? format_number(body.number("rate").value_or(0.0)) : "",
                        converted ? body.text_or("rate_on") : "", to_decimal_text(*counts)});
}

}  // namespace

Expected<std::string> accounts_csv(const CaseSnapshot& snapshot, const CaseAccounts& accounts) {
    std::string csv = to_csv_line({"direction", "kind", "what", "party", "currency", "estimate_low", "estimate_likely",
                                   "estimate_high", "due", "paid", "owed", "day", "rate", "rate_on",
                                   "in_" + std::string(accounts.currency.code())});
    std::map<Uuid, std::string> settled;
    for (const AccountEntry& entry : accounts.entries) {
        csv += entry_line(snapshot, entry);
        for (const Uuid& payment : entry.payments) settled[payment] = entry.what;
    }
    for (const AccountsShare& share : accounts.shares) {
        csv += to_csv_line({"", "share", share.percent.to_text() + " %", name_in(snapshot, share.party), "", "", "", "",
                            "", "", "", "", "", "", to_decimal_text(share.part)});
    }
    for (const casebook::Record* payment : snapshot.of_kind("payment")) {
        const auto line = payment_line(snapshot, *payment, settled[payment->id], accounts.currency);
        if (!line) return pass_on(line);
        csv += *line;
    }
    return csv;
}

}  // namespace tedge::usecases
