// Gate 22, before a dossier or sale text leaves: no internal figure, private name or note in it, metadata included.
// Warned about: work not finished and not named as unfinished; the list "known and left out" not signed; rights in
// pictures and letters; wording that differs from the recorded claim. Common practice; what must be disclosed to a
// buyer is for the law of the place and for advice.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "gates/evidence.hpp"
#include "gates/gate_rules.hpp"
#include "tedge/base/text.hpp"
#include "tedge/casebook/leak_search.hpp"

namespace tedge::casebook {

namespace {

bool is_finished_or_said(const Asking& asking) {
    const Body& picture = asking.snapshot().picture.body;
    if (picture.has("finished_on") || asking.act().says_unfinished) return true;
    const std::string still_to_do = picture.text_or("unfinished");
    return is_written(picture, "unfinished") && asking.act().leaving_text.find(still_to_do) != std::string::npos;
}

bool is_left_out_signed(const Body& picture) {
    return picture.has("left_out_signed_by") && picture.has("left_out_signed_on");
}

std::size_t leaving_without_rights(const Asking& asking) {
    std::size_t count = 0;
    for (const Uuid& id : asking.act().leaving_records) {
        const Record* record = asking.snapshot().find(id);
        if (record == nullptr) continue;
        const std::string_view field = record->kind == "photograph" ? "licence" : "rights";
        if (!is_written(record->body, field)) ++count;
    }
    return count;
}

// A plain claim is the artist's name alone, whether it says "by" before it or not.
std::string wording_of(const Body& claim) {
    const std::string qualifier = lowered_ascii(trimmed(claim.text_or("qualifier")));
    const std::string artist = claim.text_or("artist");
    return qualifier.empty() || qualifier == "full name" || qualifier == "by" ? artist : qualifier + " " + artist;
}

std::vector<const Record*> our_claims(const CaseSnapshot& snapshot) {
    auto claims = snapshot.of_kind("attribution_claim");
    std::erase_if(claims, [](const Record* claim) { return !claim->body.flag("ours"); });
    return claims;
}

// A reader who may not have claims is not told one, so none need be recorded for him; where one is, he must not be told
// another authorship beside the title either.
bool is_worded_as_claimed(const Asking& asking) {
    std::string said = lowered_ascii(trimmed(asking.act().attribution));
    if (said.empty()) return true;
    if (said.starts_with("by ")) said.erase(0, 3);
    const auto claims = our_claims(asking.snapshot());
    const bool is_told_claims =
        find_kind("attribution_claim")->field("qualifier")->readers.contains(asking.act().reader);
    if (claims.empty() && !is_told_claims) return true;
    return std::ranges::any_of(claims,
                               [&](const Record* claim) { return lowered_ascii(wording_of(claim->body)) == said; });
}

constexpr std::string_view leak_code = "22.internal:";

// Each field found there once, with the first record whose value it is.
std::map<InternalField, Uuid> leaking_fields(const Asking& asking) {
    std::map<InternalField, Uuid> fields;
    for (const Leak& leak : find_leaks(asking.snapshot(), asking.act().reader, {{"text", asking.act().leaving_text}}))
        fields.emplace(InternalField{leak.kind, leak.field}, leak.record);
    return fields;
}

// "\"Private note\" (picture)": label and kind, never the value.
std::string label_of(const InternalField& leak) {
    const Kind* kind = find_kind(leak.kind);
    return fmt::format("\"{}\" ({})", kind->field(leak.field)->label, kind->label);
}

void ask_leaving(Asking& asking) {
    for (const auto& [field, record] : leaking_fields(asking)) {
        asking.closed_unless(
            false, {fmt::format("internal:{}.{}", field.kind, field.field),
                    fmt::format("It holds what is not for this reader: {}.", label_of(field)),
                    "Take it out of the text, or out of the file's metadata.", "dossier", Answered::each_time, record});
    }
    asking.warns_unless(is_finished_or_said(asking),
                        {"unfinished", "The work is not finished and the text does not say so.",
                         "Record the day it was finished, or name what is still to be done.", "dossier"});
    asking.warns_unless(is_left_out_signed(asking.snapshot().picture.body),
                        {"left-out", "The list \"known and left out\" is not signed.",
                         "Go through what is known and not said, and sign the list.", "dossier"});
    const std::size_t without_rights = leaving_without_rights(asking);
    asking.warns_unless(without_rights == 0,
                        {"rights",
                         fmt::format("{} without a word on the rights in it.",
                                     counted(without_rights, "picture or letter leaves", "pictures or letters leave")),
                         "Record licence or rights with each.", "dossier"});
    asking.warns_unless(
        is_worded_as_claimed(asking),
        {"wording",
         our_claims(asking.snapshot()).empty() ? "An authorship is named, and no claim of our own is recorded."
                                               : "The authorship is worded otherwise than the recorded claim.",
         "Use the wording of our own claim, or record the claim that is meant.", "research"});
}

}  // namespace

std::string leaving_code(const InternalField& field) {
    return fmt::format("{}{}.{}", leak_code, field.kind, field.field);
}

std::optional<InternalField> field_of_leaving_code(std::string_view code) {
    if (!code.starts_with(leak_code)) return std::nullopt;
    code.remove_prefix(leak_code.size());
    const std::size_t point = code.find('.');
    if (point == std::string_view::npos) return std::nullopt;
    return InternalField{std::string(code.substr(0, point)), std::string(code.substr(point + 1))};
}

const GateRule gate_leaving{22, "a dossier or sale text leaving", [](const Act& act) { return act.kind == "dossier"; },
                            ask_leaving, ""};

}  // namespace tedge::casebook
