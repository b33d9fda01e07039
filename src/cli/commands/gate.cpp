// Gates asked without an act, and what one of them wants taken upon oneself.
#include <fmt/format.h>

#include <algorithm>

#include "command.hpp"
#include "gate_words.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"
#include "tedge/usecases/cases.hpp"
#include "values.hpp"

namespace tedge::cli {

using nlohmann::json;

json gate_fields(const casebook::GateAnswer& answer) {
    json fields = {{"gate", answer.gate},
                   {"before", std::string(answer.before)},
                   {"state", to_text(answer.state())},
                   {"missing", json::array()}};
    for (const casebook::Requirement& requirement : answer.missing) {
        fields["missing"].push_back({{"code", requirement.code},
                                     {"message", requirement.message},
                                     {"opened_by", requirement.opened_by},
                                     {"sheet", requirement.sheet},
                                     {"closes", requirement.closes},
                                     {"overridden", requirement.overridden_by.has_value()}});
    }
    return fields;
}

Expected<std::vector<usecases::Override>> overrides_of(const Arguments& arguments, const Uuid& case_id) {
    std::vector<usecases::Override> overrides;
    const auto codes = arguments.option("override");
    if (!codes && !arguments.option("name")) return overrides;
    if (!codes)
        return fail("usage.no-override", "--name goes with --override.", "Say which requirement is overridden.");
    for (const std::string_view code : split(*codes, ',')) {
        const auto gate = parse_integer(code.substr(0, code.find('.')));
        if (!gate || *gate < 1 || *gate > 99) {
            return fail("usage.not-a-requirement", fmt::format("\"{}\" is not what a gate asks for.", code),
                        "Give its code as the refusal names it, such as 8.unstable-paint.");
        }
        usecases::Override wanted;
        wanted.case_id = case_id;
        wanted.gate = static_cast<int>(*gate);
        wanted.requirement = code;
        wanted.name = arguments.option_or("name", "");
        wanted.reason = arguments.option_or("reason", "");
        overrides.push_back(std::move(wanted));
    }
    return overrides;
}

std::vector<casebook::GateAnswer> without(std::vector<casebook::GateAnswer> answers,
                                          const std::vector<usecases::Override>& overrides) {
    for (casebook::GateAnswer& answer : answers) {
        std::erase_if(answer.missing, [&](const casebook::Requirement& requirement) {
            return std::ranges::find(overrides, requirement.code, &usecases::Override::requirement) != overrides.end();
        });
    }
    return answers;
}

namespace {

Expected<Answer> ask(Context& context, const Arguments& arguments) {
    const auto values = parse_values(arguments.position("VALUES"));
    if (!values) return pass_on(values);
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto case_id = usecases::find_case(**book, arguments.position("CASE"));
    if (!case_id) return pass_on(case_id);
    const auto answers = usecases::gates_before_act(**book, *case_id, arguments.position("KIND"), *values);
    if (!answers) return pass_on(answers);
    Answer answer;
    answer.fields["gates"] = json::array();
    for (const casebook::GateAnswer& gate : *answers) {
        answer.fields["gates"].push_back(gate_fields(gate));
        answer.lines.push_back(
            fmt::format("gate {} ({}): {} {}", gate.gate, gate.before, to_text(gate.state()), gate.sentence()));
    }
    if (answers->empty()) answer.lines.emplace_back("Nothing stands in the way.");
    return answer;
}

Expected<Answer> override_one(Context& context, const Arguments& arguments) {
    const auto values = parse_values(arguments.position("VALUES"));
    const auto number = said_by("gate", parse_integer(*arguments.option("gate")));
    if (!values) return pass_on(values);
    if (!number) return pass_on(number);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto case_id = usecases::find_case(acting->book, arguments.position("CASE"));
    if (!case_id) return pass_on(case_id);
    usecases::Override wanted;
    wanted.case_id = *case_id;
    wanted.requirement = *arguments.option("requirement");
    wanted.name = *arguments.option("name");
    wanted.reason = *arguments.option("reason");
    wanted.whole_picture = arguments.flag("whole-picture");
    const auto answers = usecases::gates_before_act(acting->book, *case_id, arguments.position("KIND"), *values);
    if (!answers) return pass_on(answers);
    for (const casebook::GateAnswer& answer : *answers) {
        if (answer.gate != *number) continue;
        wanted.gate = answer.gate;
        const auto done = usecases::override_gate(*acting, wanted, answer);
        if (!done) return pass_on(done);
        return done_answer(*done, "overridden by name and reason");
    }
    return fail("gate.nothing-to-override", "That gate is open for this act.", "Go on with the act.");
}

}  // namespace

std::vector<Command> gate_commands() {
    return {
        {"gate ask",
         {{"DIR", "CASE", "KIND", "VALUES"}, {}},
         "Says what stands before an act, and what would open it.",
         ask},
        {"gate override",
         {{"DIR", "CASE", "KIND", "VALUES"},
          {"gate", "requirement", "name", "reason"},
          {"gate", "requirement", "name", "reason"},
          {"whole-picture"}},
         "Takes upon oneself, once for the picture, what a gate asks for; --override of record add and change is for "
         "one act.",
         override_one},
    };
}

}  // namespace tedge::cli
