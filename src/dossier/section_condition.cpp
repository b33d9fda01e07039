// Surveys and findings, with maps on the photographs before and after; measurements.
#include <algorithm>
#include <cmath>
#include <functional>

#include "picture_cut.hpp"
#include "sections.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/casebook/findings.hpp"
#include "tedge/geometry/face_frame.hpp"
#include "tedge/provenance/date_words.hpp"

namespace tedge::dossier {

using casebook::Record;

namespace {

constexpr double map_height_mm = 98.0;  // before and after share a page

// Findings are numbered through the dossier, so that a number means one place on every map.
std::optional<Picture> findings_map(const Sections& sections, const Record& photograph) {
    auto picture = picture_of(sections, photograph);
    if (!picture) return std::nullopt;
    int number = 0;
    for (const Record* finding : sections.extract.of_kind("finding")) {
        ++number;
        auto mark = mark_in_photograph(sections.extract, *finding, photograph);
        if (!mark) continue;
        mark->label = std::to_string(number);
        mark->tone = sections.extract.is_open_danger(*finding)       ? Tone::closed
                     : finding->body.text_or("severity") == "severe" ? Tone::caution
                                                                     : Tone::plain;
        picture->marks.push_back(std::move(*mark));
    }
    if (picture->marks.empty()) return std::nullopt;
    picture->px_per_mm = px_per_mm_of(photograph);
    picture->caption =
        photograph_caption(sections.extract, photograph) + " The numbers are those of the list of findings.";
    const auto cut = cut_to_face(sections.extract, photograph);
    return cut ? cut_out(*std::move(picture), *cut) : std::move(picture);
}

void add_map(const Sections& sections, Face face, const Record* photograph, std::string_view when) {
    if (photograph == nullptr) return;
    auto map = findings_map(sections, *photograph);
    if (!map) return;
    sections.heading(2, sentence_case(word_text(to_text(face))) + ", " + std::string(when));
    sections.add(PictureRow{.pictures = {std::move(*map)}, .max_height_mm = map_height_mm});
}

void add_maps_before(const Sections& sections) {
    for (const Face face : all_faces)
        add_map(sections, face, before_and_after(placed_photographs(sections.extract, to_text(face))).before, "before");
}

void add_maps_after(const Sections& sections) {
    for (const Face face : all_faces)
        add_map(sections, face, before_and_after(placed_photographs(sections.extract, to_text(face))).after, "after");
}

std::string area_text(const Record& finding) {
    const auto region = finding.body.region("region");
    if (!region || region->area_mm2() <= 0.0) return {};
    return format_fixed(region->area_mm2(), region->area_mm2() < 100.0 ? 1 : 0);
}

std::string state_text(const Extract& extract, const Record& finding) {
    if (extract.is_open_danger(finding)) return "unstable";
    const std::string consolidated = extract.consolidated_on(finding);
    if (!consolidated.empty()) return "consolidated " + provenance::words_for_day(consolidated);
    return finding.body.has("unstable") ? "stable" : "";
}

void add_findings_table(const Sections& sections) {
    const auto& extract = sections.extract;
    const auto findings = extract.of_kind("finding");
    if (findings.empty()) return;
    sections.heading(2, "Findings");
    DataTable table{{{"No", 0.5, Align::right},
                     {"Face", 0.9},
                     {"Layer", 1.0},
                     {"What it is", 2.6},
                     {"Severity", 0.9},
                     {"State", 1.5},
                     {"Area, mm²", 0.9, Align::right}},
                    {},
                    {}};
    int number = 0;
    for (const Record* finding : findings) {
        const auto& body = finding->body;
        std::string what = body.text_or("term");
        for (const std::string_view more : {"text", "note"})
            if (const std::string text = body.text_or(more); !text.empty()) what += (what.empty() ? "" : "\n") + text;
        table.rows.push_back({std::to_string(++number), value_text(extract, *finding, "face_frame"),
                              word_text(body.text_or("layer")), what, body.text_or("severity"),
                              state_text(extract, *finding), area_text(*finding)});
    }
    sections.add(without_empty_columns(std::move(table)));
}

// Surveys that say the same of several faces on one day are told once: four tacking edges are often alike.
struct SurveyText {
    std::vector<std::string> faces{};
    std::string day{};
    std::string summary{};
    std::vector<std::pair<std::string, std::string>> rows{};
};

std::vector<SurveyText> survey_texts(const Extract& extract) {
    std::vector<SurveyText> texts;
    auto surveys = extract.of_kind("survey");
    // The newest first: whoever reads wants to know how the picture is, then how it was.
    std::ranges::stable_sort(surveys, std::greater<>(),
                             [](const Record* survey) { return survey->body.text_or("surveyed_on"); });
    for (const Record* survey : surveys) {
        SurveyText text{{word_text(survey->body.text_or("face"))},
                        value_text(extract, *survey, "surveyed_on"),
                        survey->body.text_or("summary"),
                        labelled_values(extract, *survey, {"face", "summary", "surveyed_on"})};
        const auto alike = std::ranges::find_if(texts, [&](const SurveyText& other) {
            return other.day == text.day && other.summary == text.summary && other.rows == text.rows;
        });
        if (alike == texts.end())
            texts.push_back(std::move(text));
        else
            alike->faces.push_back(text.faces.front());
    }
    return texts;
}

// "recto", "top edge and left edge", "top edge, right edge and left edge".
std::string listed(const std::vector<std::string>& names) {
    std::string text = names.front();
    for (std::size_t i = 1; i < names.size(); ++i) text += (i + 1 == names.size() ? " and " : ", ") + names[i];
    return text;
}

void add_surveys(const Sections& sections) {
    for (const SurveyText& survey : survey_texts(sections.extract)) {
        sections.heading(2, "Survey of the " + listed(survey.faces) + (survey.day.empty() ? "" : ", " + survey.day));
        if (!survey.summary.empty()) sections.add(Paragraph{survey.summary, Voice::lead});
        sections.add(KeyValues{survey.rows});
    }
}

std::string uncertainty_text(const Record& measurement) {
    const auto uncertainty = measurement.body.number("uncertainty");
    return uncertainty ? "± " + format_number(*uncertainty) : "not stated";
}

}  // namespace

void add_condition(const Sections& sections) {
    const auto& extract = sections.extract;
    if (extract.of_kind("survey").empty() && extract.of_kind("finding").empty()) return;
    sections.heading(1, "Condition");
    add_surveys(sections);
    // The list stands between the maps: it can be parted where a page ends, and a map cannot.
    add_maps_before(sections);
    add_findings_table(sections);
    add_maps_after(sections);
    const auto findings = extract.of_kind("finding");
    const auto dangers = std::ranges::count_if(findings, [&](const Record* f) { return extract.is_open_danger(*f); });
    if (dangers > 0)
        sections.add(Note{Tone::closed, "Unstable",
                          "Findings marked in red are unstable and not consolidated. Do not touch, dust or tilt the "
                          "picture before a restorer has seen them."});
}

void add_measurements(const Sections& sections) {
    const auto measurements = sections.extract.of_kind("measurement");
    if (measurements.empty()) return;
    sections.heading(1, "Measurements");
    DataTable table{
        {{"What was measured", 2.6}, {"Value", 1.6, Align::right}, {"Uncertainty", 1.0}, {"Note", 2.4}}, {}, {}};
    for (const Record* measurement : measurements) {
        const auto value = measurement->body.number("value");
        table.rows.push_back({measurement->body.text_or("what"),
                              (value ? format_number(*value) : "") + " " + measurement->body.text_or("unit"),
                              uncertainty_text(*measurement), measurement->body.text_or("note")});
    }
    sections.add(without_empty_columns(std::move(table)));
}

}  // namespace tedge::dossier
