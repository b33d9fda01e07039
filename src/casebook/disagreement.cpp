#include "tedge/casebook/disagreement.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "canonical_json.hpp"
#include "fold.hpp"
#include "seen_past.hpp"

namespace tedge::casebook {

namespace {

using nlohmann::json;

class Told {
public:
    explicit Told(const std::vector<Change>& history) : past_(history) {}

    // The last words alone: who wrote twice is heard once.
    [[nodiscard]] std::vector<Side> sides(const std::set<Uuid>& ids) const {
        std::vector<Side> told;
        for (const Uuid& id : ids) {
            const Change* change = past_.find(id);
            if (change != nullptr && !is_overwritten(id, ids)) told.push_back(side(*change));
        }
        std::ranges::sort(told, {}, [](const Side& s) { return std::pair(s.at, s.change); });
        return told;
    }

private:
    [[nodiscard]] bool is_overwritten(const Uuid& id, const std::set<Uuid>& ids) const {
        return std::ranges::any_of(ids, [&](const Uuid& other) { return other != id && past_.of(other).contains(id); });
    }

    static Side side(const Change& change) {
        json wrote = json::object();
        for (const auto& [path, value] : values_written(change)) set_at(wrote, path, value);
        return {change.id,
                change.author,
                change.time,
                change.reason,
                change.operation == Operation::remove,
                !change.public_payload || !change.personal_payload,
                Body(std::move(wrote))};
    }

    SeenPast past_;
};

}  // namespace

Disagreement disagreement_of(const std::vector<Conflict>& conflicts, const std::vector<Change>& history) {
    Disagreement made;
    std::map<std::string, std::set<Uuid>> paths;
    std::set<Uuid> named;
    for (const Conflict& conflict : conflicts) {
        for (const Uuid& id : {conflict.earlier, conflict.later}) {
            paths[conflict.path].insert(id);
            named.insert(id);
        }
        made.case_id = conflict.case_id;
        made.record = conflict.record;
    }
    if (!history.empty()) made.kind = history.front().kind;
    const Told told(history);
    for (const auto& [path, ids] : paths) made.contested.push_back({path, told.sides(ids)});
    made.changes.assign(named.begin(), named.end());
    return made;
}

void put_side(FieldValues& values, const Side& side, const std::string& path) {
    if (const json* value = value_at(side.wrote.as_json(), path)) {
        values.value(path, *value);
    } else {
        values.unset(path);
    }
}

bool shows(const Record& now, const Side& side, const std::string& path) {
    if (path.empty()) return now.deleted == side.removes;
    const json* said = value_at(side.wrote.as_json(), path);
    const json* stands = value_at(now.body.as_json(), path);
    return said != nullptr && stands != nullptr ? *said == *stands : said == stands;
}

}  // namespace tedge::casebook
