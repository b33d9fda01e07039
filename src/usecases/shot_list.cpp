#include "tedge/usecases/shot_list.hpp"

#include <algorithm>
#include <array>
#include <set>

#include "embedded_tables.hpp"
#include "tedge/base/table.hpp"
#include "tedge/casebook/field_table.hpp"

namespace tedge::usecases {

namespace {

using casebook::Body;
using casebook::CaseSnapshot;
using casebook::Record;

std::ptrdiff_t rank_in(std::string_view field, std::string_view word) {
    const auto words = casebook::words_of(*casebook::find_kind("photograph")->field(field));
    return std::ranges::find(words, word) - words.begin();
}

// What was done leads to the stage at which the picture is photographed next. Order and words are common practice.
struct Step {
    std::string_view kind;
    std::string_view act;  // "" for any
    std::string_view stage;
};
constexpr std::array steps{
    Step{"lot", "", "saleroom"},
    Step{"purchase", "", "as-received"},
    Step{"survey", "", "as-received"},
    Step{"trial", "", "trials"},
    Step{"treatment_step", "varnish-removal", "cleaned"},
    Step{"treatment_step", "overpaint-removal", "cleaned"},
    Step{"treatment_step", "filling", "filled"},
    Step{"treatment_step", "retouching", "retouched"},
    Step{"treatment_step", "final-varnish", "varnished"},
    Step{"structure_step", "lining", "lined"},
    Step{"structure_step", "relining", "lined"},
    Step{"structure_step", "strip-lining", "lined"},
    Step{"structure_step", "loose-lining", "lined"},
    Step{"structure_step", "marouflage", "lined"},
};

void add_facing_stages(const Record& facing, std::set<std::string>& reached) {
    reached.insert("before-facing");
    if (facing.body.has("laid_on")) reached.insert("faced");
    if (facing.body.has("removed_on")) reached.insert("facing-off");
}

std::set<std::string> reached_stages(const CaseSnapshot& snapshot) {
    std::set<std::string> reached;
    for (const Step& step : steps)
        for (const Record* record : snapshot.of_kind(step.kind)) {
            const bool is_done = !record->body.flag("planned");
            if (is_done && (step.act.empty() || record->body.text_or("act") == step.act))
                reached.insert(std::string(step.stage));
        }
    for (const Record* facing : snapshot.of_kind("facing")) add_facing_stages(*facing, reached);
    for (const Record* photograph : snapshot.of_kind("photograph")) {
        if (!photograph->body.flag("guessed")) reached.insert(photograph->body.text_or("stage"));
    }
    for (const Record* wanted : snapshot.of_kind("shot_wanted")) reached.insert(wanted->body.text_or("stage"));
    reached.erase("");
    return reached;
}

Shot shot_of(const Body& body) {
    return {body.text_or("face"), body.text_or("light"), body.text_or("stage")};
}

const std::vector<ListedShot>& usual_shots() {
    static const std::vector<ListedShot> shots = [] {
        const Table table = Table::parse(embedded::shot_list_csv).value();
        std::vector<ListedShot> read;
        for (std::size_t i = 0; i < table.row_count(); ++i) {
            ListedShot row;
            row.shot = {table.cell(i, "face"), table.cell(i, "light"), table.cell(i, "stage")};
            row.how = table.cell(i, "how");
            row.source = table.cell(i, "source");
            row.status = table.cell(i, "status");
            read.push_back(std::move(row));
        }
        return read;
    }();
    return shots;
}

std::vector<ListedShot>::iterator add_shot(std::vector<ListedShot>& shots, const Shot& shot) {
    ListedShot row;
    row.shot = shot;
    return shots.insert(shots.end(), std::move(row));
}

// What the case says of its own list.
void add_wishes(const CaseSnapshot& snapshot, std::vector<ListedShot>& shots) {
    for (const Record* record : snapshot.of_kind("shot_wanted")) {
        const Shot shot = shot_of(record->body);
        auto row = std::ranges::find(shots, shot, &ListedShot::shot);
        if (row == shots.end()) row = add_shot(shots, shot);
        row->note = record->body.text_or("note");
        row->not_needed = record->body.text_or("not_needed");
        row->wanted = record->id;
    }
}

void find_photographs(const CaseSnapshot& snapshot, ListedShot& row) {
    bool is_confirmed = false;
    for (const Record* photograph : snapshot.of_kind("photograph")) {
        if (shot_of(photograph->body) != row.shot) continue;
        row.photographs.push_back(photograph->id);
        is_confirmed = is_confirmed || !photograph->body.flag("guessed");
    }
    if (is_confirmed) {
        row.state = ShotState::there;
    } else if (!row.photographs.empty()) {
        row.state = ShotState::guessed;
    } else if (!row.not_needed.empty()) {
        row.state = ShotState::not_needed;
    }
}

bool asks_for_ultraviolet(const ShotList& list) {
    return std::ranges::any_of(list.shots, [](const ListedShot& row) { return row.shot.light == "ultraviolet"; });
}

}  // namespace

std::string_view to_text(ShotState state) {
    switch (state) {
        case ShotState::there:
            return "there";
        case ShotState::guessed:
            return "guessed";
        case ShotState::missing:
            return "missing";
        case ShotState::not_needed:
            return "not-needed";
    }
    return "missing";
}

std::vector<const ListedShot*> ShotList::in_state(ShotState state) const {
    std::vector<const ListedShot*> found;
    for (const ListedShot& row : shots) {
        if (row.state == state) found.push_back(&row);
    }
    return found;
}

std::string stage_of_work(const CaseSnapshot& snapshot) {
    const auto reached = reached_stages(snapshot);
    if (reached == std::set<std::string>{"saleroom"}) return "saleroom";
    std::string now = "as-received";
    for (const std::string& stage : reached) {
        if (rank_in("stage", stage) > rank_in("stage", now)) now = stage;
    }
    return now;
}

ShotList shot_list(const CaseSnapshot& snapshot) {
    const auto reached = reached_stages(snapshot);
    ShotList list{.stage = stage_of_work(snapshot), .shots = usual_shots(), .cautions = {}};
    add_wishes(snapshot, list.shots);
    std::erase_if(list.shots, [&](const ListedShot& row) {
        // Nobody goes back to a viewing once the picture is here.
        const bool is_over = row.shot.stage == "saleroom" && list.stage != "saleroom";
        const bool is_reached = row.shot.stage == list.stage || reached.contains(row.shot.stage);
        return !row.wanted && (is_over || !is_reached);
    });
    std::ranges::stable_sort(list.shots, {}, [](const ListedShot& row) { return rank_in("stage", row.shot.stage); });
    for (ListedShot& row : list.shots) {
        row.is_past = rank_in("stage", row.shot.stage) < rank_in("stage", list.stage);
        find_photographs(snapshot, row);
    }
    if (asks_for_ultraviolet(list)) list.cautions.push_back(ultraviolet_caution());
    return list;
}

std::optional<Shot> next_shot(const ShotList& list) {
    for (const ListedShot* row : list.in_state(ShotState::missing)) {
        if (row->shot.stage == list.stage) return row->shot;
    }
    return std::nullopt;
}

std::string ultraviolet_caution() {
    return "Ultraviolet lamps harm eyes and skin: goggles that stop ultraviolet for everybody in the room, skin "
           "covered, nobody looks into the lamp, times kept short for people and for the picture. What the lamp's "
           "maker "
           "and the rules of the place say goes first.";
}

Expected<Done> wish_shot(const Acting& acting, const Uuid& case_id, const ShotWish& wish) {
    return acting.book.in_one_act([&]() -> Expected<Done> {
        const auto said = acting.book.records(case_id, "shot_wanted");
        if (!said) return pass_on(said);
        const auto same = std::ranges::find_if(*said, [&](const Record& r) { return shot_of(r.body) == wish.shot; });
        casebook::FieldValues values;
        values.text("face", wish.shot.face).text("light", wish.shot.light).text("stage", wish.shot.stage);
        for (const auto& [field, text] : {std::pair{"note", &wish.note}, {"not_needed", &wish.not_needed}}) {
            if (!text->empty()) values.text(field, *text);
            if (text->empty() && same != said->end() && same->body.has(field)) values.unset(field);
        }
        return same == said->end() ? add_record(acting, case_id, "shot_wanted", values)
                                   : change_record(acting, same->id, values);
    });
}

}  // namespace tedge::usecases
