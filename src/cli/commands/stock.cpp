#include <fmt/format.h>

#include "amounts.hpp"
#include "command.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/own_files.hpp"
#include "tedge/usecases/portfolio.hpp"
#include "tedge/usecases/stock.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

json word_or_null(const std::string& text) {
    return text.empty() ? json(nullptr) : json(text);
}

// Writes the table where --OPTION names a file for it.
Expected<void> write_csv(const Arguments& arguments, std::string_view option, const std::string& csv) {
    const auto out = arguments.option(option);
    if (!out) return {};
    return write_table_durably(path_from_utf8(*out), csv);
}

json stock_book_row(const money::StockBookRow& row) {
    const money::StockBookEntry& e = row.entry;
    return {{"stock_number", word_or_null(e.stock_number)},
            {"purchased_on", word_or_null(e.purchased_on)},
            {"purchase_invoice", word_or_null(e.purchase_invoice)},
            {"purchase_price", amount(e.purchase_price)},
            {"seller", word_or_null(e.seller)},
            {"description", e.description},
            {"sold_on", word_or_null(e.sold_on)},
            {"sales_invoice", word_or_null(e.sales_invoice)},
            {"selling_price", amount(e.selling_price)},
            {"disposal", word_or_null(e.disposal)},
            {"buyer", word_or_null(e.buyer)},
            {"margin", amount(row.margin)},
            {"vat_due", amount(row.vat)}};
}

std::string stock_book_line(const money::StockBookRow& row) {
    const money::StockBookEntry& e = row.entry;
    const auto told = [](const std::optional<Money>& money) { return money ? to_display_text(*money) : "–"; };
    const std::string left = e.sold_on.empty() ? "in stock"
                             : e.disposal.empty()
                                 ? fmt::format("sold {} to {} for {}, margin {}, VAT {}", e.sold_on, e.buyer,
                                               told(e.selling_price), told(row.margin), told(row.vat))
                                 : fmt::format("{} {}", e.sold_on, e.disposal);
    return fmt::format("{:8} {}  {} from {}, {}; {}", e.stock_number, e.purchased_on, told(e.purchase_price), e.seller,
                       e.description, left);
}

json ordinary_row(const usecases::OrdinaryVatRow& row) {
    return {{"stock_number", word_or_null(row.stock_number)},
            {"description", row.description},
            {"purchased_on", word_or_null(row.purchased_on)},
            {"purchase_invoice", word_or_null(row.purchase_invoice)},
            {"seller", word_or_null(row.seller)},
            {"purchase_price", amount(row.purchase_price)},
            {"input_vat", amount(row.input_vat)},
            {"sold_on", word_or_null(row.sold_on)},
            {"sales_invoice", word_or_null(row.sales_invoice)},
            {"buyer", word_or_null(row.buyer)},
            {"selling_price", amount(row.selling_price)},
            {"exported", row.exported},
            {"output_vat", amount(row.output_vat)}};
}

void tell_ordinary(const usecases::OrdinaryVat& ordinary, Answer& answer) {
    json rows = json::array();
    for (const usecases::OrdinaryVatRow& row : ordinary.rows) rows.push_back(ordinary_row(row));
    answer.fields["ordinary"] = {{"rows", rows},
                                 {"input_vat", amount(ordinary.input_vat)},
                                 {"output_vat", amount(ordinary.output_vat)},
                                 {"missing", ordinary.missing}};
    if (ordinary.rows.empty()) return;
    answer.lines.push_back(
        fmt::format("Under ordinary VAT {}: VAT on sales {}, reclaimed on purchases {}.",
                    ordinary.rows.size() == 1 ? "1 picture" : fmt::format("{} pictures", ordinary.rows.size()),
                    to_display_text(ordinary.output_vat), to_display_text(ordinary.input_vat)));
    answer.lines.insert(answer.lines.end(), ordinary.missing.begin(), ordinary.missing.end());
}

Expected<Answer> stock_book(Context& context, const Arguments& arguments) {
    const auto from = said_by("from", parse_date(*arguments.option("from")));
    const auto to = said_by("to", parse_date(*arguments.option("to")));
    if (!from) return pass_on(from);
    if (!to) return pass_on(to);
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto made = usecases::stock_book_of(**book, *from, *to);
    if (!made) return pass_on(made);
    if (auto written = write_csv(arguments, "out", money::stock_book_csv(made->book)); !written)
        return pass_on(written);
    if (auto written = write_csv(arguments, "ordinary-out", usecases::ordinary_vat_csv(made->ordinary)); !written)
        return pass_on(written);
    Answer answer;
    answer.fields = {{"rows", json::array()},
                     {"purchases", amount(made->book.purchases)},
                     {"sales", amount(made->book.sales)},
                     {"vat_due", amount(made->book.vat_due)},
                     {"currency", made->book.vat_due.currency.code()},
                     {"missing", made->book.missing},
                     {"left_out", made->left_out}};
    for (const money::StockBookRow& row : made->book.rows) {
        answer.fields["rows"].push_back(stock_book_row(row));
        answer.lines.push_back(stock_book_line(row));
    }
    answer.lines.push_back(fmt::format("Sold for {}, bought for {}; VAT due on the margins {}.",
                                       to_display_text(made->book.sales), to_display_text(made->book.purchases),
                                       to_display_text(made->book.vat_due)));
    for (const auto* sentences : {&made->book.missing, &made->left_out})
        answer.lines.insert(answer.lines.end(), sentences->begin(), sentences->end());
    tell_ordinary(made->ordinary, answer);
    if (!made->book.missing.empty() || !made->ordinary.missing.empty()) answer.code = ExitCode::not_to_be_trusted;
    return answer;
}

Expected<Answer> stock_list(Context& context, const Arguments& arguments) {
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto rows = usecases::stock_list(**book);
    if (!rows) return pass_on(rows);
    if (auto written = write_csv(arguments, "out", usecases::stock_list_csv(*rows)); !written) return pass_on(written);
    Answer answer;
    answer.fields["pictures"] = json::array();
    for (const usecases::StockListRow& row : *rows) {
        answer.fields["pictures"].push_back({{"case", to_text(row.case_id)},
                                             {"stock_number", word_or_null(row.stock_number)},
                                             {"description", row.description},
                                             {"bought_on", word_or_null(row.bought_on)},
                                             {"cost_in_code", word_or_null(row.cost_in_code)},
                                             {"asking_price", amount(row.asking_price)}});
        answer.lines.push_back(fmt::format("{:8} {:12} {}{}", row.stock_number, row.cost_in_code, row.description,
                                           row.asking_price ? ", asked " + to_display_text(*row.asking_price) : ""));
    }
    return answer;
}

json portfolio_row(const usecases::PortfolioRow& row) {
    return {{"case", to_text(row.case_id)},
            {"title", row.title},
            {"sold", row.sold},
            {"paid_out", amount(row.paid_out)},
            {"paid_in", amount(row.paid_in)},
            {"owed_by_us", amount(row.owed_by_us)},
            {"owed_to_us", amount(row.owed_to_us)},
            {"result", amount(row.result)},
            {"limit", amount(row.limit)},
            {"costs_to_come", amount(row.costs_to_come)},
            {"costs_at_most", amount(row.costs_at_most)},
            {"expected_out", amount(row.expected_out)},
            {"expected_result", amount(row.expected_result)},
            {"worst_result", amount(row.worst_result)},
            {"expected_month", word_or_null(row.expected_month)}};
}

void tell_row(const usecases::PortfolioRow& row, Answer& answer) {
    answer.fields["pictures"].push_back(portfolio_row(row));
    std::string line =
        fmt::format("{}: paid out {}, in {}", row.title, to_display_text(row.paid_out), to_display_text(row.paid_in));
    if (row.sold) line += fmt::format(", sold, result {}", to_display_text(row.result));
    if (row.limit) line += fmt::format(", not bought, limit {}", to_display_text(*row.limit));
    if (row.expected_out)
        line += fmt::format(", expected out {}{}, at worst {}", to_display_text(*row.expected_out),
                            row.expected_month.empty() ? "" : " in " + row.expected_month,
                            to_display_text(*row.worst_result));
    answer.lines.push_back(std::move(line));
}

Expected<Answer> show_portfolio(Context& context, const Arguments& arguments) {
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto made = usecases::portfolio(**book);
    if (!made) return pass_on(made);
    if (auto written = write_csv(arguments, "csv", usecases::portfolio_csv(*made)); !written) return pass_on(written);
    if (auto written = write_csv(arguments, "months-csv", usecases::portfolio_months_csv(*made)); !written)
        return pass_on(written);
    Answer answer;
    answer.fields = {{"currency", made->currency.code()},
                     {"pictures", json::array()},
                     {"months", json::array()},
                     {"paid_out", amount(made->paid_out)},
                     {"paid_in", amount(made->paid_in)},
                     {"owed_by_us", amount(made->owed_by_us)},
                     {"owed_to_us", amount(made->owed_to_us)},
                     {"expected_out", amount(made->expected_out)},
                     {"worst_result", amount(made->worst_result)},
                     {"doubts", made->doubts}};
    for (const usecases::PortfolioRow& row : made->rows) tell_row(row, answer);
    for (const usecases::PortfolioMonth& month : made->months) {
        answer.fields["months"].push_back({{"month", word_or_null(month.month)},
                                           {"needed", amount(month.needed)},
                                           {"at_most", amount(month.at_most)},
                                           {"expected", amount(month.expected)}});
        answer.lines.push_back(fmt::format(
            "{:14} needed {}, at most {}; expected {}", month.month.empty() ? "no day said" : month.month,
            to_display_text(month.needed), to_display_text(month.at_most), to_display_text(month.expected)));
    }
    answer.lines.push_back(fmt::format("In all: paid out {}, in {}, expected out {}; if every picture goes worst: {}.",
                                       to_display_text(made->paid_out), to_display_text(made->paid_in),
                                       to_display_text(made->expected_out), to_display_text(made->worst_result)));
    answer.lines.insert(answer.lines.end(), made->doubts.begin(), made->doubts.end());
    return answer;
}

}  // namespace

std::vector<Command> stock_commands() {
    return {
        {"stock-book",
         {{"DIR"}, {"from", "to", "out", "ordinary-out"}, {"from", "to"}},
         "The margin scheme's stock book of a period with its particulars; --out FILE.csv writes it, --ordinary-out "
         "FILE.csv what stands under ordinary VAT.",
         stock_book},
        {"stock-list",
         {{"DIR"}, {"out"}},
         "What is in stock, its cost price in the house's private code; --out FILE.csv writes it.",
         stock_list},
        {"portfolio",
         {{"DIR"}, {"csv", "months-csv"}},
         "All pictures: money in, expected out, cash needed by month, worst case; --csv and --months-csv write them.",
         show_portfolio},
    };
}

}  // namespace tedge::cli
