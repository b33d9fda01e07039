#include "tedge/usecases/duties.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "account_records.hpp"
#include "duty_facts.hpp"
#include "duty_questions.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"
#include "tedge/usecases/accounts.hpp"

namespace tedge::usecases {

namespace {

using casebook::CaseSnapshot;
using casebook::Record;

const Record* newest_answer(const CaseSnapshot& snapshot, std::string_view duty) {
    const Record* newest = nullptr;
    for (const Record* answer : snapshot.of_kind("duty"))
        if (answer->body.text_or("duty") == duty && (newest == nullptr || newest->last_written <= answer->last_written))
            newest = answer;
    return newest;
}

void take_answer(const CaseSnapshot& snapshot, Duty& duty) {
    const Record* answer = newest_answer(snapshot, duty.name);
    if (answer == nullptr) {
        duty.state = duty.called == CalledFor::no ? "not-applicable" : "open";
        return;
    }
    duty.answer = answer->id;
    duty.state = answer->body.text_or("answer", "open");
    duty.found = answer->body.text_or("text");
    duty.answered_on = answer->body.text_or("on");
    const auto document = answer->body.record("document");
    if (document && snapshot.find(*document) != nullptr) duty.document = document;
    if (duty.state == "answered" && !duty.document) duty.remarks.emplace_back("Answered without a document.");
    if (duty.state == "not-applicable" && duty.called == CalledFor::yes)
        duty.remarks.emplace_back("Said to be not applicable, and yet the facts ask for it.");
}

std::vector<IdentityPaper> identity_papers(const CaseSnapshot& snapshot, std::chrono::year_month_day today) {
    std::vector<IdentityPaper> papers;
    for (const Record* document : snapshot.of_kind("document")) {
        const auto& body = document->body;
        if (body.text_or("sort") != "identity") continue;
        if (!body.has("title")) continue;  // erased
        const std::string until = body.text_or("destroy_after");
        papers.push_back({document->id, body.text_or("title"), until, !until.empty() && until < to_text(today)});
    }
    return papers;
}

std::string papers_until(const DutyFacts& facts) {
    if (facts.sale == nullptr && facts.purchase == nullptr) return {};
    const auto term = money::legal_limit_on("identity papers kept", facts.deal_day);
    const auto years = term ? parse_integer(term->value) : Expected<std::int64_t>(0);
    if (!term || !years) return {};
    auto until = facts.deal_day + std::chrono::years(static_cast<int>(*years));
    if (!until.ok()) until = until.year() / until.month() / std::chrono::last;  // 29 February
    return to_text(until);
}

}  // namespace

std::string_view to_text(CalledFor called) {
    return called == CalledFor::yes ? "yes" : called == CalledFor::no ? "no" : "unknown";
}

DutiesOfCase duties_of_case(const CaseSnapshot& snapshot, const House& house, std::chrono::year_month_day today,
                            const std::vector<LinkedSale>& linked) {
    const DutyFacts facts = duty_facts(snapshot, house, today);
    DutiesOfCase made{{}, identity_papers(snapshot, today), papers_until(facts)};
    for (const money::DutyText& text : money::duty_texts()) {
        Asked asked = asked_by_facts(text.duty, facts, linked);
        Duty duty{.name = text.duty, .question = text.question, .called = asked.called, .why = asked.why};
        duty.sources = std::move(asked.sources);
        duty.sources.insert(duty.sources.begin(), text.source);
        duty.remarks = std::move(asked.remarks);
        take_answer(snapshot, duty);
        made.duties.push_back(std::move(duty));
    }
    return made;
}

namespace {

Expected<std::vector<LinkedSale>> linked_sales(casebook::Casebook& book, const CaseSnapshot& snapshot) {
    std::vector<LinkedSale> linked;
    const auto sale = standing_sale(snapshot);
    const auto buyer = sale && *sale ? (*sale)->record->body.record("buyer") : std::nullopt;
    const auto day = buyer ? parse_date((*sale)->record->body.text_or("sold_on")) : parse_date("");
    const auto limit = day ? money::money_laundering_limit_on(*day) : std::nullopt;
    if (!limit) return linked;
    const auto others = book.snapshots({.all_of = {"sale", "return"}, .any_of = {}});
    if (!others) return pass_on(others);
    for (const CaseSnapshot& other : *others) {
        if (other.picture.id == snapshot.picture.id) continue;
        const auto also = standing_sale(other);
        if (!also || !*also || (*also)->record->body.record("buyer") != buyer) continue;
        LinkedSale entry{
            other.picture.id, other.picture.body.text_or("title"), (*also)->record->body.text_or("sold_on"), {}};
        const auto price = at_recorded_rate(*(*also)->record, (*also)->price, limit->amount.currency);
        if (price) entry.price = *price;
        linked.push_back(std::move(entry));
    }
    return linked;
}

}  // namespace

Expected<DutiesOfCase> duties_of_case(casebook::Casebook& book, const Uuid& case_id,
                                      std::chrono::year_month_day today) {
    const auto snapshot = book.snapshot(case_id);
    if (!snapshot) return pass_on(snapshot);
    const auto house = house_of(book);
    if (!house) return pass_on(house);
    const auto linked = linked_sales(book, *snapshot);
    if (!linked) return pass_on(linked);
    return duties_of_case(*snapshot, *house, today, *linked);
}

Expected<Done> answer_duty(const Acting& acting, const Uuid& case_id, const DutyAnswer& answer) {
    if (answer.answer != "open" && trimmed(answer.text).empty() && !answer.document) {
        return fail("duties.nothing-said", "An answer without a word and without a document answers nothing.",
                    "Say what was found, or why it is not applicable, or name the document.");
    }
    casebook::FieldValues values;
    values.text("duty", answer.duty).text("answer", answer.answer).record("by", acting.author);
    if (!answer.on.empty()) values.text("on", answer.on);
    if (!trimmed(answer.text).empty()) values.text("text", answer.text);
    if (answer.document) values.record("document", *answer.document);
    return add_record(acting, case_id, "duty", values);
}

}  // namespace tedge::usecases
