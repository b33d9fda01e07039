// Cleaning trials with their places, treatment with its materials, work on the structure, the frame.
#include <algorithm>

#include "picture_cut.hpp"
#include "sections.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"
#include "tedge/casebook/findings.hpp"

namespace tedge::dossier {

using casebook::Record;

namespace {

std::string filled(const std::vector<std::string>& parts, std::string_view between) {
    std::vector<std::string> kept;
    for (const auto& part : parts)
        if (!part.empty()) kept.push_back(part);
    return join(kept, between);
}

Tone tone_of(const Record& trial) {
    const std::string verdict = trial.body.text_or("verdict");
    return verdict == "stop" ? Tone::closed : verdict == "cleared" ? Tone::plain : Tone::caution;
}

// On the photograph taken before the trials.
void add_trial_map(const Sections& sections) {
    const auto pair = before_and_after(placed_photographs(sections.extract, "recto"));
    if (pair.before == nullptr) return;
    auto picture = picture_of(sections, *pair.before);
    if (!picture) return;
    int number = 0;
    for (const Record* trial : sections.extract.of_kind("trial")) {
        ++number;
        auto mark = mark_in_photograph(sections.extract, *trial, *pair.before);
        if (!mark) continue;
        mark->label = std::to_string(number);
        mark->tone = tone_of(*trial);
        picture->marks.push_back(std::move(*mark));
    }
    if (picture->marks.empty()) return;
    picture->px_per_mm = px_per_mm_of(*pair.before);
    picture->caption = photograph_caption(sections.extract, *pair.before) +
                       " Places of the trials. Red: stopped; ochre: too weak, undecided or not judged yet.";
    if (const auto cut = cut_to_face(sections.extract, *pair.before)) picture = cut_out(*std::move(picture), *cut);
    sections.add(PictureRow{.pictures = {std::move(*picture)}, .max_height_mm = 98.0});
}

std::string change_text(const Record& trial) {
    const auto inside = trial.body.number("delta_e00_inside");
    const auto outside = trial.body.number("delta_e00_outside");
    return filled({inside ? format_fixed(*inside, 1) + " in" : "", outside ? format_fixed(*outside, 1) + " out" : ""},
                  "\n");
}

std::vector<std::string> trial_row(const Extract& extract, const Record& trial, int number) {
    const auto text = [&](std::string_view field) { return value_text(extract, trial, field); };
    const std::string passes = text("passes");
    return {std::to_string(number),
            filled({text("passage"), text("passage_colour")}, ", "),
            text("layer"),
            filled({text("agent"), text("application"), text("batch"),
                    text("clearing").empty() ? "" : "cleared with " + text("clearing")},
                   "\n"),
            filled({text("seconds"), passes.empty() ? "" : passes + " ×"}, "\n"),
            filled({text("swab_colour"), text("swab_answer")}, ": "),
            change_text(trial),
            filled({trial.body.has("verdict") ? text("verdict") : "not judged yet", text("done_on"), text("done_by"),
                    text("note")},
                   "\n")};
}

DataTable work_table(const Extract& extract, const std::vector<const Record*>& steps) {
    DataTable table{{{"When", 1.1}, {"Work", 1.2}, {"Materials", 2.0}, {"What was done", 3.2}}, {}, {}};
    for (const Record* step : steps) {
        const auto rest =
            labelled_values(extract, *step, {"act", "materials", "text", "planned", "done_on", "face_frame"});
        std::vector<std::string> done{value_text(extract, *step, "text")};
        for (const auto& [label, text] : rest) done.push_back(label + ": " + text);
        const std::string when = value_text(extract, *step, "done_on");
        table.rows.push_back({step->body.flag("planned") ? "planned"
                              : when.empty()             ? "not dated"
                                                         : when,
                              sentence_case(value_text(extract, *step, "act")), value_text(extract, *step, "materials"),
                              filled(done, "\n")});
    }
    return table;
}

// "finding 2, flaking": what a facing holds down, by the numbers of the list of findings.
std::string findings_below(const Extract& extract, const Record& facing) {
    const auto frame = facing.body.record("face_frame");
    const auto zone = frame ? region_in_frame(extract, facing, *frame) : std::nullopt;
    if (!zone) return {};
    std::vector<std::string> below;
    std::size_t number = 0;
    for (const Record* finding : extract.of_kind("finding")) {
        ++number;
        // What was consolidated under the tissue was loose when it was faced.
        if (!casebook::is_unstable(finding->body) && extract.consolidated_on(*finding).empty()) continue;
        const auto place = region_in_frame(extract, *finding, *frame);
        if (!place || !place->within_margin(*zone, 0.0)) continue;
        below.push_back("finding " + std::to_string(number) + ", " + finding->body.text_or("term"));
    }
    return join(below, "\n");
}

}  // namespace

void add_trials(const Sections& sections) {
    const auto trials = sections.extract.of_kind("trial");
    if (trials.empty()) return;
    sections.heading(1, "Cleaning trials");
    DataTable table{{{"No", 0.45, Align::right},
                     {"Passage", 1.4},
                     {"Layer", 1.0},
                     {"Agent", 2.2},
                     {"Time", 0.6},
                     {"Swab", 1.2},
                     {"ΔE00", 0.8},
                     {"Verdict", 1.7}},
                    {},
                    {}};
    int number = 0;
    for (const Record* trial : trials) table.rows.push_back(trial_row(sections.extract, *trial, ++number));
    const bool compared = std::ranges::any_of(trials, [](const Record* trial) {
        return trial->body.has("delta_e00_inside") || trial->body.has("delta_e00_outside");
    });
    sections.add(without_empty_columns(std::move(table)));
    std::string reading = "A trial speaks for its own place and no further. Mixtures are in per cent by volume.";
    if (compared) {
        reading +=
            " ΔE00 is the colour difference CIEDE2000 computed from photographs, inside the trial and beside it.";
    }
    sections.add(Paragraph{reading, Voice::quiet});
    // After the list, which fills the page that is begun.
    add_trial_map(sections);
}

void add_treatment(const Sections& sections) {
    const auto& extract = sections.extract;
    if (const auto steps = extract.of_kind("treatment_step"); !steps.empty()) {
        sections.heading(1, "Treatment");
        sections.add(work_table(extract, steps));
    }
    if (const auto steps = extract.of_kind("structure_step"); !steps.empty()) {
        sections.heading(1, "Structure");
        sections.add(work_table(extract, steps));
    }
    if (const auto facings = extract.of_kind("facing"); !facings.empty()) {
        sections.heading(1, "Facings");
        for (const Record* facing : facings) {
            auto rows = labelled_values(extract, *facing);
            if (std::string below = findings_below(extract, *facing); !below.empty())
                rows.insert(rows.begin(), {"Over", std::move(below)});
            sections.add(KeyValues{std::move(rows)});
        }
    }
}

void add_frame(const Sections& sections) {
    const auto frames = sections.extract.of_kind("picture_frame");
    if (frames.empty()) return;
    sections.heading(1, "Frame");
    for (const Record* frame : frames) sections.add(KeyValues{labelled_values(sections.extract, *frame)});
}

}  // namespace tedge::dossier
