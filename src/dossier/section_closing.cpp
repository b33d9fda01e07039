// Care and cautions, what is unfinished, sources, and whatever the reader may have that no section told.
#include <algorithm>
#include <array>

#include "sections.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"
#include "tedge/casebook/findings.hpp"
#include "tedge/dossier/recorded_chain.hpp"

namespace tedge::dossier {

using casebook::Reader;
using casebook::Record;

namespace {

constexpr std::array<std::string_view, 19> told_kinds{"case",
                                                      "person",
                                                      "photograph",
                                                      "registration",
                                                      "measurement",
                                                      "survey",
                                                      "finding",
                                                      "facing",
                                                      "picture_frame",
                                                      "inscription",
                                                      "trial",
                                                      "treatment_step",
                                                      "structure_step",
                                                      "provenance_link",
                                                      "face_frame",
                                                      "attribution_claim",
                                                      "custody",
                                                      "derived_picture",
                                                      "cleaning_forecast"};

constexpr std::array<std::string_view, 2> care_on_the_wall{
    "Hang it away from direct sun, radiators, fireplaces and outside walls that sweat. Steady air matters more than a "
    "particular figure: sudden changes of humidity slacken and tighten a canvas and make a panel move.",
    "Do not clean, dust with a cloth, spray or oil the paint; a soft dry brush is for sound surfaces only. Carry it by "
    "the sides of the frame, upright, with clean dry hands. Look at it once a year in light from the side; call a "
    "restorer when paint lifts, a key is lost or the canvas bulges."};

constexpr std::array<std::string_view, 2> care_on_the_way{
    "Carry it by the sides of the frame with clean dry hands, never by the top or by the stretcher bars; a large "
    "picture takes two. Nothing may touch the paint or press on the canvas from behind. Upright, unless the packing "
    "named in "
    "this dossier says flat: then face up.",
    "Keep it dry, and out of the sun and of a vehicle that is hot or freezing. A packed picture comes slowly to the "
    "air of the room before it is opened; a day is usual. Do not wipe, press back or stick down what has come loose: "
    "keep every fragment, photograph it, and ask whoever sent it."};

std::size_t count_where(const std::vector<const Record*>& records, auto wanted) {
    return static_cast<std::size_t>(std::ranges::count_if(records, [&](const Record* r) { return wanted(*r); }));
}

bool has_photograph(const Extract& extract, std::string_view face, std::string_view light) {
    const auto photographs = extract.of_kind("photograph");
    return std::ranges::any_of(photographs, [&](const Record* p) {
        return p->body.text_or("face") == face && p->body.text_or("light") == light;
    });
}

void note_if(std::vector<std::string>& lines, bool condition, std::string line) {
    if (condition) lines.push_back("– " + std::move(line));
}

// Only what the records show; a reader who may not have a kind of record is told nothing about its absence.
std::vector<std::string> unfinished_lines(const Extract& extract) {
    std::vector<std::string> lines;
    const auto loose =
        count_where(extract.of_kind("finding"), [&](const Record& f) { return extract.is_open_danger(f); });
    note_if(lines, loose > 0, counted(loose, "unstable finding is", "unstable findings are") + " not consolidated.");
    for (const std::string_view kind : {"treatment_step", "structure_step"})
        for (const Record* step : extract.of_kind(kind))
            note_if(lines, step->body.flag("planned"),
                    sentence_case(value_text(extract, *step, "act")) + " is planned and not done.");
    const auto not_looked = count_where(extract.of_kind("survey"),
                                        [](const Record& s) { return s.body.text_or("loose_paint") == "not-looked"; });
    note_if(lines, not_looked > 0, "Loose paint was not looked for in " + counted(not_looked, "survey.", "surveys."));
    const auto trials = extract.of_kind("trial");
    const auto undecided =
        count_where(trials, [](const Record& t) { return t.body.text_or("verdict") == "undecided"; });
    note_if(lines, undecided > 0, counted(undecided, "cleaning trial is", "cleaning trials are") + " undecided.");
    const auto not_judged = count_where(trials, [](const Record& t) { return !t.body.has("verdict"); });
    note_if(lines, not_judged > 0,
            counted(not_judged, "cleaning trial is", "cleaning trials are") + " not judged yet.");
    const auto unknown_swab = count_where(trials, [](const Record& t) {
        return t.body.text_or("verdict") != "undecided" && t.body.text_or("swab_answer") == "undecided";
    });
    note_if(lines, unknown_swab > 0,
            "What came off on the swab was left undecided in " +
                counted(unknown_swab, "cleaning trial.", "cleaning trials."));
    const auto gaps = provenance::findings(recorded_chain(extract)).size();
    note_if(lines, gaps > 0, counted(gaps, "question is", "questions are") + " open in the provenance.");
    note_if(lines, extract.of_kind("survey").empty(), "No survey of the condition is recorded.");
    note_if(lines, !has_photograph(extract, "recto", "normal"), "No photograph of the front in normal light.");
    note_if(lines, !has_photograph(extract, "verso", "normal"), "No photograph of the back in normal light.");
    note_if(lines, !has_photograph(extract, "recto", "raking"), "No photograph of the front in raking light.");
    note_if(lines, !has_photograph(extract, "recto", "ultraviolet"), "No photograph of the front in ultraviolet.");
    return lines;
}

// The columns keep the order in which the lists have their labels.
std::vector<std::string> labels_of(const std::vector<KeyValues>& lists) {
    std::vector<std::string> labels;
    for (const auto& list : lists) {
        auto at = labels.begin();
        for (const auto& [label, text] : list.rows) {
            const auto known = std::ranges::find(labels, label);
            at = known != labels.end() ? known : labels.insert(at, label);
            ++at;
        }
    }
    return labels;
}

// Several short records of one kind read better below each other: costs, deadlines.
std::optional<DataTable> as_table(const std::vector<KeyValues>& lists) {
    constexpr std::size_t least_records = 3;
    constexpr std::size_t most_columns = 5;
    const auto labels = labels_of(lists);
    if (lists.size() < least_records || labels.size() < 2 || labels.size() > most_columns) return std::nullopt;
    DataTable table;
    table.rows.assign(lists.size(), std::vector<std::string>(labels.size()));
    for (std::size_t column = 0; column < labels.size(); ++column) {
        std::size_t longest = labels[column].size();
        for (std::size_t row = 0; row < lists.size(); ++row)
            for (const auto& [label, text] : lists[row].rows)
                if (label == labels[column]) {
                    table.rows[row][column] = text;
                    longest = std::max(longest, text.size());
                }
        table.columns.push_back({labels[column], static_cast<double>(std::clamp<std::size_t>(longest, 12, 40))});
    }
    return table;
}

}  // namespace

void add_care(const Sections& sections) {
    const Reader reader = sections.extract.reader();
    sections.heading(1, "Care and cautions");
    for (const std::string_view paragraph : reader == Reader::carrier ? care_on_the_way : care_on_the_wall)
        sections.add(Paragraph{std::string(paragraph)});
    sections.add(Paragraph{"Common practice of the trade; not a guarantee, and no substitute for a restorer's advice.",
                           Voice::quiet});
    sections.add(
        Note{Tone::caution, "Old paint",
             "Old paint may hold lead, arsenic or mercury. Do not sand, scrape or heat it, and keep flakes from "
             "hands and children. Local codes and licensed practice go before anything said here."});
    if (reader == Reader::restorer || reader == Reader::own)
        sections.add(Note{Tone::caution, "Solvents and lamps",
                          "Solvents named here were used in small amounts on one picture by a trained hand. Ventilate, "
                          "wear gloves and keep flames away; keep ultraviolet sessions short with eyes and skin "
                          "covered. Safety data sheets, local codes and licensed practice decide."});
}

void add_unfinished(const Sections& sections) {
    const auto lines = unfinished_lines(sections.extract);
    sections.heading(1, "Named as unfinished");
    if (lines.empty()) {
        sections.add(Paragraph{"The records name nothing as unfinished."});
    } else {
        sections.add(Paragraph{join(lines, "\n")});
    }
}

void add_sources(const Sections& sections) {
    const auto& extract = sections.extract;
    KeyValues list;
    const auto tell_of = [&](std::string_view kind, std::string what, std::string how_sure) {
        if (!extract.of_kind(kind).empty()) list.rows.emplace_back(std::move(what), std::move(how_sure));
    };
    list.rows.emplace_back("Records",
                           "Everything here was drawn from the records of the case; it says what was recorded, by "
                           "whoever recorded it, when it was recorded.");
    tell_of("registration", "Laid over each other",
            "Photographs were matched by computation; the error stated is an estimate of one standard deviation.");
    tell_of("derived_picture", "Pictures made from photographs",
            "They were computed; each says from which photographs, how, and from where on a difference counts.");
    tell_of("measurement", "Measurements",
            "They carry their uncertainty where one was recorded; where none is stated, none is known.");
    tell_of("inscription", "Inscriptions", "Their readings say how sure they are; a doubtful reading is not evidence.");
    tell_of("photograph", "Photographs",
            "Colours in print are not a measure of colour. The pictures are reduced copies without their cameras' "
            "data; rights in them remain with their makers.");
    sections.heading(1, "Sources, and how sure they are");
    sections.add(std::move(list));
}

void add_further_records(const Sections& sections) {
    const auto& extract = sections.extract;
    bool headed = false;
    for (const casebook::Kind* kind : casebook::all_kinds()) {
        const auto records = extract.of_kind(kind->name);
        const bool told = std::ranges::find(told_kinds, kind->name) != told_kinds.end() ||
                          (kind->name == "purchase" && extract.reader() != Reader::own);  // under identification
        if (told || records.empty()) continue;
        std::vector<KeyValues> lists;
        for (const Record* record : records)
            if (auto rows = labelled_values(extract, *record); !rows.empty()) lists.push_back({std::move(rows)});
        if (lists.empty()) continue;
        if (!std::exchange(headed, true)) sections.heading(1, "Further records");
        sections.heading(2, sentence_case(kind->plural));
        if (auto table = as_table(lists)) {
            sections.add(*std::move(table));
        } else {
            for (auto& list : lists) sections.add(std::move(list));
        }
    }
}

}  // namespace tedge::dossier
