#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "command.hpp"
#include "gate_words.hpp"
#include "tedge/base/text.hpp"
#include "tedge/casebook/field_table.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/records.hpp"
#include "values.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

void add_warnings(Answer& answer, const std::vector<casebook::GateAnswer>& warnings) {
    answer.fields["warnings"] = json::array();
    for (const casebook::GateAnswer& warning : warnings) {
        if (warning.state() == casebook::GateState::open) continue;
        answer.fields["warnings"].push_back(gate_fields(warning));
        answer.lines.push_back("  " + warning.sentence());
    }
}

Expected<Answer> add(Context& context, const Arguments& arguments) {
    const auto values = parse_values(arguments.position("VALUES"));
    if (!values) return pass_on(values);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto case_id = usecases::find_case(acting->book, arguments.position("CASE"));
    if (!case_id) return pass_on(case_id);
    const auto overrides = overrides_of(arguments, *case_id);
    if (!overrides) return pass_on(overrides);
    const std::string& kind = arguments.position("KIND");
    auto warnings = usecases::gates_before_act(acting->book, *case_id, kind, *values);
    if (!warnings) return pass_on(warnings);
    const auto done = usecases::add_record_overriding(*acting, *case_id, kind, *values, *overrides);
    if (!done) return pass_on(done);
    Answer answer = done_answer(*done, "added");
    add_warnings(answer, without(*std::move(warnings), *overrides));
    return answer;
}

Expected<Answer> change(Context& context, const Arguments& arguments) {
    const auto values = parse_values(arguments.position("VALUES"));
    const auto record = id_at(arguments, "RECORD");
    if (!values) return pass_on(values);
    if (!record) return pass_on(record);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto before = acting->book.record(*record);
    if (!before) return pass_on(before);
    const auto overrides = overrides_of(arguments, before->case_id);
    if (!overrides) return pass_on(overrides);
    const std::string reason = overrides->empty() ? arguments.option_or("reason", "") : std::string();
    const auto done = usecases::change_record_overriding(*acting, *record, *values, *overrides, reason);
    if (!done) return pass_on(done);
    return done_answer(*done, "changed");
}

Expected<Answer> remove(Context& context, const Arguments& arguments) {
    const auto record = id_at(arguments, "RECORD");
    if (!record) return pass_on(record);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto done = usecases::remove_record(*acting, *record, arguments.option_or("reason", ""));
    if (!done) return pass_on(done);
    return done_answer(*done, "removed; it can be restored");
}

Expected<Answer> restore(Context& context, const Arguments& arguments) {
    const auto record = id_at(arguments, "RECORD");
    if (!record) return pass_on(record);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto done = usecases::restore_record(*acting, *record);
    if (!done) return pass_on(done);
    return done_answer(*done, "restored");
}

std::string labels_of(std::string_view kind, const std::vector<std::string>& fields) {
    const casebook::Kind* known = casebook::find_kind(kind);
    std::vector<std::string_view> labels;
    for (const std::string& name : fields) {
        const casebook::Field* field = known != nullptr ? known->field(name) : nullptr;
        labels.push_back(field != nullptr ? field->label : std::string_view(name));
    }
    return fmt::format("{}", fmt::join(labels, ", "));
}

// What is gone, what is not, and what to do about that.
Answer erased_answer(const casebook::Record& left, const casebook::Erasure& done) {
    json others = json::array();
    for (const Uuid& other : done.others) others.push_back(to_text(other));
    Answer answer;
    answer.fields = {{"id", to_text(left.id)}, {"erased", !done.fields.empty() || done.files > 0},
                     {"fields", done.fields},  {"files", done.files},
                     {"stays", done.stays},    {"others", others},
                     {"held_up", done.held_up}};
    std::string gone = done.fields.empty() ? "Nothing of this record was about a person."
                                           : fmt::format("Erased for good: {}.", labels_of(left.kind, done.fields));
    if (done.files > 0) gone += fmt::format(" {} went with it.", counted(done.files, "file", "files"));
    answer.lines.push_back(std::move(gone));
    if (!done.stays.empty()) {
        answer.lines.push_back(fmt::format(
            "What is about no person stays, and the record with it: {}. `record remove` takes it off the list.",
            labels_of(left.kind, done.stays)));
    }
    if (!done.others.empty()) {
        answer.lines.push_back(fmt::format("{} of this case still {} something of persons; erase each of them as well:",
                                           counted(done.others.size(), "record", "records"),
                                           done.others.size() == 1 ? "says" : "say"));
        for (const Uuid& other : done.others) answer.lines.push_back("  " + to_text(other));
    }
    answer.lines.insert(answer.lines.end(), done.held_up.begin(), done.held_up.end());
    return answer;
}

Expected<Answer> erase(Context& context, const Arguments& arguments) {
    const auto record = id_at(arguments, "RECORD");
    if (!record) return pass_on(record);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto done = acting->book.erase(acting->author, *record, *arguments.option("reason"));
    if (!done) return pass_on(done);
    const auto left = acting->book.record(*record);
    if (!left) return pass_on(left);
    return erased_answer(*left, *done);
}

Expected<Answer> kinds(Context& /*context*/, const Arguments& /*arguments*/) {
    Answer answer;
    answer.fields["kinds"] = json::array();
    for (const casebook::Kind* kind : casebook::all_kinds()) {
        json fields = json::array();
        answer.lines.push_back(fmt::format("{}", kind->name));
        for (const casebook::Field& field : kind->fields) {
            fields.push_back({{"name", field.name},
                              {"label", field.label},
                              {"unit", field.unit},
                              {"words", words_of(field)},
                              {"required", field.required},
                              {"personal", field.personal}});
            answer.lines.push_back(fmt::format("  {:28} {}{}{}", field.name, field.label,
                                               field.unit.empty() ? "" : fmt::format(" ({})", field.unit),
                                               field.words.empty() ? "" : fmt::format(": {}", field.words)));
        }
        answer.fields["kinds"].push_back({{"name", kind->name}, {"label", kind->label}, {"fields", fields}});
    }
    return answer;
}

}  // namespace

std::vector<Command> record_commands() {
    return {
        {"kind list", {{}, {}}, "Lists the kinds of record and their fields.", kinds},
        {"record add",
         {{"DIR", "CASE", "KIND", "VALUES"}, {"override", "name", "reason"}},
         "Adds a record to a case; gates are asked first, --override CODE,… lets this one act pass.",
         add},
        {"record change",
         {{"DIR", "RECORD", "VALUES"}, {"reason", "override", "name"}},
         "Changes fields of a record; null takes one away. --override CODE,… as with record add.",
         change},
        {"record remove", {{"DIR", "RECORD"}, {"reason"}}, "Removes a record; it can be restored.", remove},
        {"record restore", {{"DIR", "RECORD"}, {}}, "Takes the removal of a record back.", restore},
        {"record erase",
         {{"DIR", "RECORD"}, {"reason"}, {"reason"}},
         "Erases what a record says of persons, and its file, for good; says what stays.",
         erase},
    };
}

}  // namespace tedge::cli
