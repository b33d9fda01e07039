#include <fmt/format.h>

#include <algorithm>

#include "command.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/settling.hpp"
#include "values.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

json value_of(const casebook::Side& side, const std::string& path) {
    casebook::FieldValues values;
    casebook::put_side(values, side, path);
    return values.set_values().contains(path) ? values.set_values()[path] : json();
}

json side_fields(const casebook::Side& side, const std::string& path, const casebook::Record& now) {
    json fields = {{"change", to_text(side.change)}, {"author", to_text(side.author)},
                   {"at", to_text(side.at)},         {"reason", side.reason},
                   {"removes", side.removes},        {"shows", casebook::shows(now, side, path)}};
    if (!path.empty()) fields["value"] = value_of(side, path);
    return fields;
}

std::string side_line(const casebook::Side& side, const std::string& path, const casebook::Record& now) {
    const std::string said =
        path.empty() ? (side.removes ? "took it away" : "went on with it") : value_of(side, path).dump();
    return fmt::format("    {} {}  {}  ({})", casebook::shows(now, side, path) ? "*" : " ", to_text(side.at), said,
                       to_text(side.change));
}

Expected<void> tell(casebook::Casebook& book, const casebook::Disagreement& found, Answer& answer) {
    const auto now = book.record(found.record);
    if (!now) return pass_on(now);
    for (const casebook::Contested& contested : found.contested) {
        json fields = {{"case", to_text(found.case_id)},
                       {"record", to_text(found.record)},
                       {"kind", found.kind},
                       {"path", contested.path},
                       {"sides", json::array()}};
        answer.lines.push_back(fmt::format("{}  {}  {}", to_text(found.record), found.kind,
                                           contested.path.empty() ? "the record as a whole" : contested.path));
        for (const casebook::Side& side : contested.sides) {
            fields["sides"].push_back(side_fields(side, contested.path, *now));
            answer.lines.push_back(side_line(side, contested.path, *now));
        }
        answer.fields["conflicts"].push_back(std::move(fields));
    }
    return {};
}

Expected<Answer> conflicts(Context& context, const Arguments& arguments) {
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    std::optional<Uuid> only;
    if (const auto reference = arguments.option("case")) {
        const auto found = usecases::find_case(**book, *reference);
        if (!found) return pass_on(found);
        only = *found;
    }
    const auto all = usecases::disagreements(**book, only);
    if (!all) return pass_on(all);
    Answer answer;
    answer.fields["conflicts"] = json::array();
    for (const casebook::Disagreement& each : *all) {
        if (const auto told = tell(**book, each, answer); !told) return pass_on(told);
    }
    if (all->empty()) answer.lines.emplace_back("Nothing is contested.");
    return answer;
}

void put_own(const Arguments& arguments, const casebook::FieldValues& own, usecases::Settlement& settlement) {
    for (const auto& [path, value] : own.set_values().items()) settlement.values.value(path, value);
    for (const std::string& path : own.unset_paths()) settlement.values.unset(path);
    if (arguments.flag("stays")) settlement.stays = true;
    if (!arguments.flag("goes")) return;
    settlement.stays = false;
    // What goes says nothing any more, so what it would have said is not asked for.
    if (own.empty()) settlement.values = {};
}

bool is_a_side(const casebook::Disagreement& disagreement, const Uuid& change) {
    return std::ranges::any_of(disagreement.contested, [&](const casebook::Contested& contested) {
        return std::ranges::find(contested.sides, change, &casebook::Side::change) != contested.sides.end();
    });
}

Expected<Answer> settle(Context& context, const Arguments& arguments) {
    const auto record = id_at(arguments, "RECORD");
    if (!record) return pass_on(record);
    std::optional<Uuid> change;
    if (arguments.option("take")) {
        const auto taken = id_at(arguments, "take");
        if (!taken) return pass_on(taken);
        change = *taken;
    }
    if (arguments.flag("stays") && arguments.flag("goes"))
        return fail("usage.stays-and-goes", "A record cannot both stay and go.", "Give one of the two.");
    const auto own = parse_values(arguments.option_or("values", "{}"));
    if (!own) return pass_on(own);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto now = acting->book.record(*record);
    if (!now) return pass_on(now);
    const auto all = usecases::disagreements(acting->book, std::nullopt);
    if (!all) return pass_on(all);
    const auto found = std::ranges::find(*all, *record, &casebook::Disagreement::record);
    if (found == all->end()) return fail("conflict.settled", "Nothing is contested in this record.");
    if (change && !is_a_side(*found, *change)) {
        return fail("conflict.no-such-side", "That change is none of those that contest this record.",
                    "tedge casebook conflicts lists them.", {{"change", to_text(*change)}});
    }
    usecases::Settlement settlement = usecases::taking(*found, *now, change, arguments.option_or("reason", ""));
    put_own(arguments, *own, settlement);
    const auto done = usecases::settle_conflict(*acting, settlement);
    if (!done) return pass_on(done);
    return done_answer(*done, "settled");
}

}  // namespace

std::vector<Command> settling_commands() {
    return {
        {"casebook conflicts",
         {{"DIR"}, {"case"}},
         "Lists what people wrote differently, and who wrote what; * is what shows.",
         conflicts},
        {"casebook resolve",
         {{"DIR", "RECORD"}, {"reason", "take", "values"}, {"reason"}, {"stays", "goes"}},
         "Settles a record: as it shows, as the change --take says, or by --values.",
         settle},
    };
}

}  // namespace tedge::cli
