#include "tedge/usecases/next_trial.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

#include "tedge/cleaning/trial_order.hpp"

namespace tedge::usecases {

namespace {

using casebook::Body;
using casebook::CaseSnapshot;
using casebook::FieldValues;
using casebook::Record;

constexpr std::array<std::string_view, 11> carried{"face_frame", "region",   "passage",     "passage_colour",
                                                   "layer",      "batch",    "application", "seconds",
                                                   "passes",     "clearing", "done_by"};

bool is_later(const Record& one, const Record& other) {
    const auto rank = [](const Record& r) { return std::tuple(r.body.text_or("done_on"), r.first_written, r.id); };
    return rank(one) > rank(other);
}

bool stops_in(const CaseSnapshot& snapshot, const std::string& passage) {
    const auto trials = snapshot.of_kind("trial");
    return std::ranges::any_of(
        trials, [&](const Record* t) { return t->body.text_or("passage") == passage && says_stop(t->body); });
}

void propose_agent(NextTrial& next, const Body& last) {
    const std::string agent = last.text_or("agent");
    if (last.text_or("verdict") != "too-weak") {
        next.values.text("agent", agent);
        next.why = fmt::format("The same agent again: {}.", agent);
        return;
    }
    const auto mixture = cleaning::parse_mixture(agent);
    const auto stronger = mixture ? cleaning::next_stronger(*mixture) : std::nullopt;
    if (!stronger) {
        next.why = fmt::format("{} was too weak; no series here says what comes next.", agent);
        return;
    }
    next.values.text("agent", cleaning::to_text(*stronger));
    next.why = fmt::format("{} was too weak; to consider next: {}.", agent, cleaning::to_text(*stronger));
}

}  // namespace

bool says_stop(const Body& trial) {
    const std::string swab = trial.text_or("swab_answer");
    return trial.text_or("verdict") == "stop" || swab == "original-paint" || swab == "undecided";
}

NextTrial next_trial(const CaseSnapshot& snapshot, const Record& last) {
    NextTrial next;
    for (const std::string_view field : carried) {
        if (last.body.has(field)) next.values.value(field, last.body.as_json().at(field));
    }
    if (stops_in(snapshot, last.body.text_or("passage"))) {
        next.why = "A trial of this passage says stop: the colour on its swab is answered before anything stronger.";
    } else {
        propose_agent(next, last.body);
    }
    return next;
}

std::vector<const Record*> last_trials(const CaseSnapshot& snapshot) {
    std::vector<const Record*> trials = snapshot.of_kind("trial");
    std::ranges::sort(trials, [](const Record* a, const Record* b) { return is_later(*a, *b); });
    std::vector<const Record*> last;
    for (const Record* trial : trials) {
        const auto passage = trial->body.text_or("passage");
        const auto same = [&](const Record* seen) { return seen->body.text_or("passage") == passage; };
        if (std::ranges::none_of(last, same)) last.push_back(trial);
    }
    return last;
}

}  // namespace tedge::usecases
