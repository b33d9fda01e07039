#include "tedge/casebook/leak_search.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "leaks/sum_search.hpp"
#include "leaks/telling_values.hpp"

namespace tedge::casebook {

namespace {

using nlohmann::json;

template <class Visit>
void visit_fields(const Record& record, Visit visit) {
    const Kind* kind = find_kind(record.kind);
    if (kind == nullptr) return;
    const json& body = record.body.as_json();
    for (const Field& field : kind->fields) {
        if (const auto value = body.find(field.name); value != body.end()) visit(record, *kind, field, *value);
    }
}

template <class Visit>
void visit_case(const CaseSnapshot& snapshot, Visit visit) {
    visit_fields(snapshot.picture, visit);
    for (const auto* records : {&snapshot.records, &snapshot.people}) {
        for (const Record& record : *records) visit_fields(record, visit);
    }
}

bool is_secret(const Field& field, Reader reader) {
    return !field.readers.contains(reader) && !field.readers.contains(Reader::buyer) &&
           !field.readers.contains(Reader::scholar);
}

// What this reader is told anyway.
struct Told {
    std::set<std::u32string> words;
    std::set<std::int64_t> sums_minor;

    Told(const CaseSnapshot& snapshot, Reader reader) {
        visit_case(snapshot, [&](const Record&, const Kind& kind, const Field& field, const json& value) {
            if (!field.readers.contains(reader)) return;
            TellingValues told = told_values(kind, field, value);
            for (TellingWords& word : told.words) words.insert(std::move(word.text.folded));
            for (const TellingSum& sum : told.sums) sums_minor.insert(sum.money.minor);
        });
        // An attribution is read as one wording and recorded in two fields: the saleroom's own words, too, are told
        // where the claim is.
        for (const Record* claim : snapshot.of_kind("attribution_claim")) {
            const Kind& kind = *find_kind(claim->kind);
            if (!kind.field("qualifier")->readers.contains(reader)) continue;
            words.insert(reading_of(claim->body.text_or("qualifier") + " " + claim->body.text_or("artist")).folded);
        }
    }
};

// A single word with a point inside is a file's name or an address: with a hyphen it goes on.
bool goes_on_over_hyphens(const Reading& value) {
    return value.written.find(U' ') == std::u32string::npos && value.written.find(U'.') != std::u32string::npos;
}

bool joins(char32_t beside, bool over_hyphens) {
    return is_word_character(beside) || (over_hyphens && (beside == U'-' || beside == U'_'));
}

// All in capitals, or letter by letter as it is written.
bool is_the_name(const Reading& text, std::size_t from, const Reading& name) {
    bool capitals = true;
    for (std::size_t i = 0; i < name.size(); ++i) {
        const char32_t c = text.written[from + i];
        capitals = capitals && (c != text.folded[from + i] || is_digit(c) || !is_word_character(c));
    }
    return capitals || text.written.compare(from, name.size(), name.written) == 0;
}

bool stands_in(const TellingWords& words, const Reading& text) {
    const std::u32string& wanted = words.text.folded;
    const bool over_hyphens = goes_on_over_hyphens(words.text);
    for (std::size_t at = text.folded.find(wanted); at != std::u32string::npos; at = text.folded.find(wanted, at + 1)) {
        const std::size_t end = at + wanted.size();
        const bool joined_before =
            at > 0 && is_word_character(wanted.front()) && joins(text.folded[at - 1], over_hyphens);
        const bool joined_after =
            end < text.size() && is_word_character(wanted.back()) && joins(text.folded[end], over_hyphens);
        if (joined_before || joined_after) continue;
        if (!words.as_written || is_the_name(text, at, words.text)) return true;
    }
    return false;
}

bool tells(const TellingValues& secret, const Told& told, const Reading& text) {
    return std::ranges::any_of(secret.words,
                               [&](const TellingWords& words) {
                                   return !told.words.contains(words.text.folded) && stands_in(words, text);
                               }) ||
           std::ranges::any_of(secret.sums, [&](const TellingSum& sum) {
               return !told.sums_minor.contains(sum.money.minor) && stands_in(sum, text);
           });
}

}  // namespace

std::vector<Leak> find_leaks(const CaseSnapshot& snapshot, Reader reader,
                             const std::vector<std::pair<std::string, std::string>>& texts) {
    const Told told(snapshot, reader);
    std::vector<std::pair<std::string, Reading>> leaving;
    leaving.reserve(texts.size());
    for (const auto& [name, content] : texts) leaving.emplace_back(name, reading_of(content));
    std::vector<Leak> leaks;
    visit_case(snapshot, [&](const Record& record, const Kind& kind, const Field& field, const json& value) {
        if (!is_secret(field, reader)) return;
        const TellingValues secret = telling_values(kind, field, value);
        for (const auto& [name, text] : leaving) {
            if (tells(secret, told, text)) leaks.push_back({record.id, record.kind, std::string(field.name), name});
        }
    });
    return leaks;
}

}  // namespace tedge::casebook
