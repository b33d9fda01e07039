#include "fold.hpp"

#include <algorithm>

#include "canonical_json.hpp"
#include "field_paths.hpp"
#include "past.hpp"

namespace tedge::casebook {

namespace {

using nlohmann::json;

// A payload read once: what it sets, what it unsets.
struct Touches {
    json set = json::object();
    std::vector<std::string> unset;

    explicit Touches(const std::optional<Payload>& payload) {
        if (!payload) return;
        const auto parsed = parse_json(payload->text);
        if (!parsed || !parsed->is_object()) return;
        if (parsed->contains("set") && (*parsed)["set"].is_object()) set = (*parsed)["set"];
        if (parsed->contains("unset") && (*parsed)["unset"].is_array()) {
            for (const json& path : (*parsed)["unset"]) {
                if (path.is_string()) unset.push_back(path.get<std::string>());
            }
        }
    }

    void apply_to(json& body) const {
        for (const auto& [path, value] : set.items()) set_at(body, path, value);
        for (const std::string& path : unset) unset_at(body, path);
    }

    void add_paths(std::vector<std::string>& paths) const {
        for (const auto& [path, value] : set.items()) paths.push_back(path);
        paths.insert(paths.end(), unset.begin(), unset.end());
    }
};

bool edits_fields(Operation operation) {
    return operation != Operation::remove && operation != Operation::erase;
}

// What one change makes of the record. An edit that knew of the deletion leaves it; one that did not, and comes later
// in the order, shows.
void apply(FoldedRecord& record, const Change& change, bool knows_deletion) {
    record.schema = std::max(record.schema, change.schema);
    switch (change.operation) {
        case Operation::remove:
            record.deleted = true;
            return;
        case Operation::erase:
            record.personal_body = json::object();
            return;
        case Operation::restore:
            record.deleted = false;
            break;
        default:
            record.deleted = record.deleted && knows_deletion;
    }
    Touches(change.public_payload).apply_to(record.public_body);
    Touches(change.personal_payload).apply_to(record.personal_body);
}

void apply_all(FoldedRecord& record, const std::vector<Change>& changes, const Past& past) {
    std::optional<ChangeIndex> deletion;
    record.deleted = true;  // until a change is admitted
    for (const ChangeIndex i : past.order()) {
        if (!changes[i].admitted) continue;
        if (!deletion) record.deleted = false;
        apply(record, changes[i], deletion && past.in_past(*deletion, i));
        if (changes[i].operation == Operation::remove) deletion = i;
    }
}

// Where the two changes write the same thing, or "" where one removes what the other edits.
std::vector<std::string> clashes(const Change& a, const std::vector<std::string>& paths_a, const Change& b,
                                 const std::vector<std::string>& paths_b) {
    const bool removes_a = a.operation == Operation::remove;
    const bool removes_b = b.operation == Operation::remove;
    if (removes_a != removes_b && (removes_a ? edits_fields(b.operation) : edits_fields(a.operation))) return {""};
    std::vector<std::string> found;
    for (const std::string& p : paths_a) {
        for (const std::string& q : paths_b) {
            if (overlapping(p, q)) found.push_back(p.size() >= q.size() ? p : q);
        }
    }
    std::ranges::sort(found);
    found.erase(std::unique(found.begin(), found.end()), found.end());
    return found;
}

class ConflictFinder {
public:
    ConflictFinder(const std::vector<Change>& changes, const Past& past) : changes_(changes), past_(past) {
        paths_.resize(changes.size());
        for (ChangeIndex i = 0; i < changes.size(); ++i) {
            if (!changes[i].admitted) continue;
            paths_[i] = paths_written(changes[i]);
            auto names = changes_named_by(changes[i]);
            if (!names.empty()) settled_.push_back(std::move(names));
        }
    }

    // Pairs that neither has seen of the other, in the order of the fold.
    [[nodiscard]] std::vector<Conflict> find() const {
        std::vector<Conflict> conflicts;
        const auto& order = past_.order();
        for (std::size_t j = 1; j < order.size(); ++j) {
            for (std::size_t i = 0; i < j; ++i) {
                if (past_.in_past(order[i], order[j])) continue;
                if (!changes_[order[i]].admitted || !changes_[order[j]].admitted) continue;
                add(changes_[order[i]], paths_[order[i]], changes_[order[j]], paths_[order[j]], conflicts);
            }
        }
        std::ranges::sort(conflicts);
        return conflicts;
    }

private:
    void add(const Change& earlier, const std::vector<std::string>& earlier_paths, const Change& later,
             const std::vector<std::string>& later_paths, std::vector<Conflict>& conflicts) const {
        if (is_settled(earlier.id, later.id)) return;
        for (std::string& path : clashes(earlier, earlier_paths, later, later_paths)) {
            conflicts.push_back({later.case_id, later.record, std::move(path), earlier.id, later.id});
        }
    }

    [[nodiscard]] bool is_settled(const Uuid& a, const Uuid& b) const {
        return std::ranges::any_of(settled_, [&](const std::vector<Uuid>& names) {
            return std::ranges::find(names, a) != names.end() && std::ranges::find(names, b) != names.end();
        });
    }

    const std::vector<Change>& changes_;
    const Past& past_;
    std::vector<std::vector<std::string>> paths_;
    std::vector<std::vector<Uuid>> settled_;
};

std::vector<Uuid> newest_of(const std::vector<Change>& changes, const Past& past) {
    std::vector<bool> seen(changes.size(), false);
    for (ChangeIndex i = 0; i < changes.size(); ++i) {
        for (const ChangeIndex parent : past.parents(i)) seen[parent] = true;
    }
    std::vector<Uuid> newest;
    for (ChangeIndex i = 0; i < changes.size(); ++i) {
        if (!seen[i]) newest.push_back(changes[i].id);
    }
    std::ranges::sort(newest);
    return newest;
}

}  // namespace

FoldedRecord fold(const std::vector<Change>& changes) {
    const Past past(changes);
    // What a sender may not make says nothing of the record, not even of what kind it is.
    const auto admitted = [&](ChangeIndex i) { return changes[i].admitted; };
    const auto found = std::ranges::find_if(past.order(), admitted);
    const Change& first = changes[found != past.order().end() ? *found : past.order().front()];
    FoldedRecord record;
    record.id = first.record;
    record.case_id = first.case_id;
    record.kind = first.kind;
    record.first_written = first.time;
    record.last_written = changes[past.order().back()].time;
    apply_all(record, changes, past);
    record.newest = newest_of(changes, past);
    if (!past.is_single_line()) record.conflicts = ConflictFinder(changes, past).find();
    return record;
}

void apply_next(FoldedRecord& record, const Change& change) {
    apply(record, change, true);
    record.newest = {change.id};
    record.last_written = change.time;
}

std::vector<std::pair<std::string, json>> values_written(const Change& change) {
    std::vector<std::pair<std::string, json>> values;
    for (const auto* payload : {&change.public_payload, &change.personal_payload}) {
        const Touches touches(*payload);
        for (const auto& [path, value] : touches.set.items()) values.emplace_back(path, value);
    }
    return values;
}

std::vector<std::string> paths_written(const Change& change) {
    std::vector<std::string> paths;
    Touches(change.public_payload).add_paths(paths);
    Touches(change.personal_payload).add_paths(paths);
    return paths;
}

std::vector<Uuid> changes_named_by(const Change& change) {
    std::vector<Uuid> ids;
    if (change.operation != Operation::resolve || !change.public_payload) return ids;
    const auto parsed = parse_json(change.public_payload->text);
    if (!parsed || !parsed->is_object() || !parsed->contains("names")) return ids;
    for (const json& name : (*parsed)["names"]) {
        if (!name.is_string()) continue;
        if (const auto id = parse_uuid(name.get<std::string>())) ids.push_back(*id);
    }
    return ids;
}

std::set<Uuid> changes_erased(const std::vector<Change>& changes) {
    const Past past(changes);
    std::set<Uuid> erased;
    for (ChangeIndex e = 0; e < changes.size(); ++e) {
        if (changes[e].operation != Operation::erase || !changes[e].admitted) continue;
        for (ChangeIndex i = 0; i < changes.size(); ++i) {
            if (i != e && !past.in_past(e, i)) erased.insert(changes[i].id);
        }
    }
    return erased;
}

}  // namespace tedge::casebook
