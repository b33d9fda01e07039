// The cards to take to a sale.
#include "command.hpp"
#include "tedge/base/files.hpp"
#include "tedge/usecases/bid_cards.hpp"
#include "tedge/usecases/cases.hpp"

namespace tedge::cli {

namespace {

Expected<Answer> write_cards(Context& context, const Arguments& arguments) {
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto case_id = usecases::find_case(**book, arguments.position("CASE"));
    if (!case_id) return pass_on(case_id);
    const auto ground = arguments.flag("dark") ? dossier::CardGround::dark : dossier::CardGround::light;
    const auto written = usecases::write_bid_cards(
        **book, *case_id, path_from_utf8(*arguments.option("out")), ground, context.clock().now(), context.progress(),
        arguments.flag("replace") ? usecases::OldCards::are_replaced : usecases::OldCards::stay);
    if (!written) return pass_on(written);
    Answer answer;
    answer.fields = {
        {"pdfs", nlohmann::json::array()}, {"pngs", nlohmann::json::array()}, {"out_of_date", written->out_of_date}};
    for (const auto& file : written->pdfs) answer.fields["pdfs"].push_back(to_utf8(file));
    for (const auto& file : written->pngs) answer.fields["pngs"].push_back(to_utf8(file));
    for (const auto& file : written->pdfs) answer.lines.push_back(to_utf8(file));
    for (const auto& file : written->pngs) answer.lines.push_back(to_utf8(file));
    if (written->out_of_date)
        answer.lines.emplace_back("Something was learnt after the limit was fixed: fix it again before the sale.");
    answer.lines.emplace_back("The pocket card may be seen by others; the desk card may not.");
    return answer;
}

}  // namespace

std::vector<Command> card_commands() {
    return {{"cards",
             {{"DIR", "CASE"}, {"out"}, {"out"}, {"dark", "replace"}},
             "Two cards from the limit fixed last, as PDF and PNG: one for the pocket, one for the desk; --replace "
             "takes the place of older ones.",
             write_cards}};
}

}  // namespace tedge::cli
