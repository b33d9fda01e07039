#include "tedge/usecases/settling.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "act_values.hpp"
#include "tedge/base/text.hpp"
#include "tedge/usecases/resized_face.hpp"

namespace tedge::usecases {

namespace {

using casebook::Conflict;
using casebook::Contested;
using casebook::Disagreement;
using casebook::Edit;
using casebook::Operation;
using casebook::Record;
using casebook::Side;

bool is_named(const Settlement& settlement, const Uuid& change) {
    return std::ranges::find(settlement.changes, change) != settlement.changes.end();
}

// What is open of that which the person decided on.
Expected<Disagreement> open_ones(casebook::Casebook& book, const Settlement& settlement) {
    auto conflicts = book.conflicts();
    if (!conflicts) return pass_on(conflicts);
    std::erase_if(*conflicts, [&](const Conflict& c) {
        return c.record != settlement.record || !is_named(settlement, c.earlier) || !is_named(settlement, c.later);
    });
    if (conflicts->empty()) {
        return fail("conflict.settled", "Nothing is contested here any more.",
                    "Look at what the record says now, and change it if it is not so.");
    }
    const auto history = book.history(settlement.record);
    if (!history) return pass_on(history);
    return casebook::disagreement_of(*conflicts, *history);
}

bool is_inside(std::string_view path, std::string_view other) {
    return path == other || (path.size() > other.size() && path.starts_with(other) && path[other.size()] == '/');
}

bool is_decided(const Settlement& settlement, const std::string& path) {
    if (path.empty()) return settlement.stays.has_value();
    if (settlement.stays == false) return true;
    for (const auto& [set, value] : settlement.values.set_values().items()) {
        if (is_inside(path, set)) return true;
    }
    return std::ranges::any_of(settlement.values.unset_paths(),
                               [&](const std::string& unset) { return is_inside(path, unset); });
}

// A place is a region on a frame, told as one.
bool is_contested(const Disagreement& open, std::string_view path) {
    return std::ranges::any_of(open.contested, [&](const Contested& each) {
        const bool is_place = path == "face_frame" || path == "region";
        const bool place_is_contested = each.path == "face_frame" || each.path == "region";
        return is_inside(path, each.path) || is_inside(each.path, path) || (is_place && place_is_contested);
    });
}

std::unexpected<Error> not_contested(const std::string& path) {
    return fail("conflict.not-contested", fmt::format("Nobody contradicts another over \"{}\".", path),
                "Settle what is contested; change the rest as any record is changed.", {{"path", path}});
}

Expected<void> check(const Settlement& settlement, const Disagreement& open) {
    if (trimmed(settlement.reason).empty()) {
        return fail("conflict.no-reason", "Whoever settles it says why.",
                    "Write a few words: who was asked, what was looked at again.");
    }
    for (const auto& [path, value] : settlement.values.set_values().items()) {
        if (!is_contested(open, path)) return not_contested(path);
    }
    for (const std::string& path : settlement.values.unset_paths()) {
        if (!is_contested(open, path)) return not_contested(path);
    }
    if (settlement.stays == false && !settlement.values.empty()) {
        return fail("conflict.goes-with-values", "A record that goes is not written into as well.",
                    "Let it go, or let it stay and write.");
    }
    for (const Contested& contested : open.contested) {
        if (is_decided(settlement, contested.path)) continue;
        return fail("conflict.undecided", "Not all that is contested is decided.",
                    "Choose one for each, or write another.", {{"path", contested.path}});
    }
    return {};
}

// The change that settles, and after it the coming or going of the record where that was contested.
Expected<std::vector<Edit>> edits_of(const Acting& acting, const Settlement& settlement, const Record& before) {
    Edit settle;
    settle.operation = Operation::resolve;
    settle.record = before.id;
    settle.case_id = before.case_id;
    settle.kind = before.kind;
    settle.values = settlement.values;
    settle.reason = trimmed(settlement.reason);
    settle.names = settlement.changes;
    settle.seen = settlement.seen;
    const bool stays = settlement.stays.value_or(!before.deleted);
    auto edits = stays ? with_what_follows(acting, settle, before, body_with(before.body, settlement.values))
                       : Expected<std::vector<Edit>>(std::vector{settle});
    if (!edits || stays != before.deleted) return edits;
    Edit turn;
    turn.operation = stays ? Operation::restore : Operation::remove;
    turn.record = before.id;
    turn.reason = settle.reason;
    edits->push_back(std::move(turn));
    return edits;
}

Edit inverse_of(const Settlement& settlement, const Record& before) {
    Edit inverse;
    inverse.record = before.id;
    if (settlement.stays.value_or(!before.deleted) == before.deleted) {
        inverse.operation = before.deleted ? Operation::remove : Operation::restore;
        return inverse;
    }
    inverse.operation = Operation::patch;
    inverse.values = inverse_values(before.body, settlement.values);
    return inverse;
}

}  // namespace

Expected<std::vector<Disagreement>> disagreements(casebook::Casebook& book, const std::optional<Uuid>& case_id) {
    const auto conflicts = book.conflicts();
    if (!conflicts) return pass_on(conflicts);
    std::map<Uuid, std::vector<Conflict>> by_record;
    for (const Conflict& conflict : *conflicts) {
        if (!case_id || conflict.case_id == *case_id) by_record[conflict.record].push_back(conflict);
    }
    std::vector<Disagreement> found;
    for (const auto& [record, of_record] : by_record) {
        const auto history = book.history(record);
        if (!history) return pass_on(history);
        found.push_back(casebook::disagreement_of(of_record, *history));
    }
    return found;
}

Settlement taking(const Disagreement& disagreement, const Record& now, const std::optional<Uuid>& change,
                  std::string_view reason) {
    Settlement settlement{disagreement.record, disagreement.changes, {}, {}, std::string(reason), now.newest_changes};
    Side standing;
    standing.removes = now.deleted;
    standing.wrote = now.body;
    for (const Contested& contested : disagreement.contested) {
        const auto chosen = std::ranges::find_if(contested.sides, [&](const Side& s) { return s.change == change; });
        const Side& side = chosen != contested.sides.end() ? *chosen : standing;
        if (contested.path.empty()) {
            settlement.stays = !side.removes;
        } else {
            casebook::put_side(settlement.values, side, contested.path);
        }
    }
    return settlement;
}

Expected<Done> settle_conflict(const Acting& acting, const Settlement& settlement) {
    return acting.book.in_one_act([&]() -> Expected<Done> {
        const auto before = acting.book.record(settlement.record);
        if (!before) return pass_on(before);
        const auto open = open_ones(acting.book, settlement);
        if (!open) return pass_on(open);
        if (auto checked = check(settlement, *open); !checked) return pass_on(checked);
        // One that goes is taken from under what stands on it, as by any removal.
        const bool goes = !before->deleted && settlement.stays == false;
        const auto said = goes ? std::nullopt : std::optional(settlement.values);
        if (auto stands = check_frame_stands(acting, *before, said); !stands) return pass_on(stands);
        const casebook::Body after = body_with(before->body, settlement.values);
        const bool changes_what_shows =
            settlement.stays.value_or(true) && (before->deleted || !(after == before->body));
        if (changes_what_shows) {
            const auto passed = pass_gates_of_change(acting.book, *before, act_of(before->kind, after, before->id));
            if (!passed) return pass_on(passed);
        }
        const auto edits = edits_of(acting, settlement, *before);
        if (!edits) return pass_on(edits);
        if (const auto made = acting.book.commit(acting.author, *edits); !made) return pass_on(made);
        return Done{before->id, inverse_of(settlement, *before)};
    });
}

}  // namespace tedge::usecases
