// Reading a little of every case at once, for lists.
#include <algorithm>
#include <set>
#include <unordered_map>

#include "book_state.hpp"
#include "tedge/casebook/field_table.hpp"

namespace tedge::casebook {

namespace {

constexpr std::string_view case_kind = "case";

std::vector<std::string> kinds_to_read(const KindsWanted& wanted) {
    std::set<std::string> kinds{wanted.all_of.begin(), wanted.all_of.end()};
    kinds.insert(wanted.any_of.begin(), wanted.any_of.end());
    kinds.insert(std::string(case_kind));
    return {kinds.begin(), kinds.end()};
}

// Lets the first record of a kind of which one is enough pass, and all of the others.
class OneIsEnough {
public:
    explicit OneIsEnough(const KindsWanted& wanted) : of_(wanted.any_of.begin(), wanted.any_of.end()) {
        for (const std::string& kind : wanted.all_of) of_.erase(kind);
    }
    bool operator()(const Uuid& case_id, std::string_view kind) {
        const auto found = of_.find(kind);
        return found == of_.end() || passed_[case_id].insert(*found).second;
    }

private:
    std::set<std::string, std::less<>> of_;
    std::unordered_map<Uuid, std::set<std::string_view>> passed_;
};

bool is_written_before(const Record& a, const Record& b) {
    return std::tie(a.first_written, a.id) < std::tie(b.first_written, b.id);
}

void add_people_named_in(const Record& record, std::set<Uuid>& people) {
    const Kind* kind = find_kind(record.kind);
    if (kind == nullptr) return;
    for (const Field& field : kind->fields) {
        if (field.type != FieldType::record || field.of != "person") continue;
        if (const auto id = record.body.record(field.name)) people.insert(*id);
    }
}

// In the order in which the whole book lists its people.
std::vector<Record> people_of(const CaseSnapshot& snapshot, const std::vector<Record>& all) {
    std::set<Uuid> named;
    add_people_named_in(snapshot.picture, named);
    for (const Record& record : snapshot.records) add_people_named_in(record, named);
    std::vector<Record> people;
    if (named.empty()) return people;
    std::ranges::copy_if(all, std::back_inserter(people), [&](const Record& p) { return named.contains(p.id); });
    return people;
}

using ByCase = std::unordered_map<Uuid, CaseSnapshot>;

ByCase read_by_case(const sqlite::Connection& db, const KindsWanted& wanted) {
    ByCase cases;
    OneIsEnough is_wanted(wanted);
    for_each_living(db, kinds_to_read(wanted), std::ref(is_wanted), [&](FoldedRecord folded) {
        CaseSnapshot& snapshot = cases[folded.case_id];
        if (folded.id == folded.case_id) {
            snapshot.picture = to_record(std::move(folded));
        } else {
            snapshot.records.push_back(to_record(std::move(folded)));
        }
    });
    return cases;
}

}  // namespace

Expected<std::vector<CaseSnapshot>> Casebook::snapshots(const KindsWanted& kinds) {
    return guarded(folder(), [&]() -> Expected<std::vector<CaseSnapshot>> {
        const sqlite::ReadTransaction one_moment(state_->db);
        ByCase by_case = read_by_case(state_->db, kinds);
        const auto all_people = people();
        if (!all_people) return pass_on(all_people);
        std::vector<CaseSnapshot> snapshots;
        for (auto& [id, snapshot] : by_case) {
            if (snapshot.picture.id != id) continue;  // its case was deleted
            std::ranges::sort(snapshot.records, is_written_before);
            snapshot.people = people_of(snapshot, *all_people);
            snapshots.push_back(std::move(snapshot));
        }
        std::ranges::sort(snapshots, is_written_before, &CaseSnapshot::picture);
        return snapshots;
    });
}

}  // namespace tedge::casebook
