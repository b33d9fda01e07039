// Pictures made from photographs: what each shows, from which photographs it comes, how, at what scale, and from where
// on what it shows counts. The sentences follow from the recipe that is recorded with each.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "placed_photographs.hpp"
#include "sections.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/casebook/number_list.hpp"
#include "tedge/imaging/crack_map.hpp"
#include "tedge/imaging/difference_kind.hpp"

namespace tedge::dossier {

using casebook::Body;
using casebook::Record;

namespace {

constexpr double picture_height_mm = 98.0;

// In millimetres what a recipe has in pixels; "" where it does not say.
std::string in_mm(const Body& body, const std::string& px_field, int decimals) {
    const auto px = body.number("recipe/" + px_field), scale = body.number("recipe/px_per_mm");
    return px && scale && *scale > 0.0 ? format_fixed(*px / *scale, decimals) + " mm" : "";
}

std::string crack_map(const Body& body) {
    const std::string widest = in_mm(body, "widest_px", 1);
    const std::string drawn = imaging::drawing_sentence(body.number("recipe/drawn_share").value_or(0.0));
    return fmt::format(
        "Fine lines {} than the paint on both their sides{} are drawn in blue on the paled photograph.{}{}",
        body.text_or("recipe/tone") == "light" ? "lighter" : "darker",
        widest.empty() ? "" : ", up to " + widest + " wide,", drawn.empty() ? "" : " ", drawn);
}

std::string crack_change(const Body& body) {
    const std::string error = in_mm(body, "error_px", 2);
    return fmt::format(
        "Each crack of one photograph was looked for in the other{}. New ones are drawn in vermilion, those that are "
        "gone in green, undecided ones in yellow, those of both in grey.",
        error.empty() ? "" : ", which lies on it to ± " + error);
}

std::string relief_change(const Body& body) {
    const std::string side = word_text(body.text_or("recipe/lamp_after/side"));
    const auto range = casebook::numbers_at(body, "recipe/scale_times_floor");
    return fmt::format("Where two photographs in raking light{} shade the relief differently, from dark to bright{}.",
                       side.empty() ? "" : " from the " + side,
                       range && range->size() == 2 ? fmt::format(" between {} and {} times the floor",
                                                                 format_number((*range)[0]), format_number((*range)[1]))
                                                   : "");
}

std::string difference(const Body& body) {
    const auto kind = imaging::parse_difference_kind(body.text_or("recipe/map"));
    const auto range = casebook::numbers_at(body, "recipe/scale");
    std::string text = fmt::format("Colour of the later photograph against the earlier, place by place{}",
                                   kind ? ", as " + std::string(imaging::symbol_of(*kind)) : "");
    if (range && range->size() == 2)
        text += body.flag("recipe/scale_both_ways")
                    ? fmt::format("; blue is less, brown more, up to {} either way", format_number((*range)[1]))
                    : fmt::format("; dark to bright is from {} to {}", format_fixed((*range)[0], 1),
                                  format_number((*range)[1]));
    return text + ". Grey is left out: not shown by both, burnt out, or no more than a misfit could make.";
}

std::string weave_map(const Body& /*body*/) {
    return "Threads of the canvas counted square by square, the short lines along them turned five times as far as "
           "they are. Grey squares are not to be trusted.";
}

std::string legible_view(const Body& body) {
    const std::string method = body.text_or("recipe/method");
    const std::string how = method == "local-contrast"  ? "The contrast of one channel evened out over its surroundings"
                            : method == "channel-ratio" ? "One channel of the photographs over another"
                                                        : "All channels of the photographs taken apart by their spread";
    const auto component = body.integer("recipe/component");
    return how + (method == "principal-component" && component ? fmt::format(", component {}", *component + 1) : "") +
           ". Nothing is drawn in; what looks like a letter has still to be read by a person.";
}

std::string comparison(const Body& /*body*/) {
    return "The photographs laid over each other and painted side by side or in one another's place.";
}

std::string forecast(const Body& body) {
    return body.text_or("what") == "uncertainty"
               ? "How unsure the forecast is, place by place."
               : "A forecast, computed from windows that were cleaned: no photograph, and no promise.";
}

// What a newer program made is told without its method.
std::string how_made(const Record& made) {
    const std::string what = made.body.text_or("what");
    if (made.kind == "cleaning_forecast") return forecast(made.body);
    constexpr std::array<std::pair<std::string_view, std::string (*)(const Body&)>, 7> sentences{
        {{"crack-map", crack_map},
         {"crack-change", crack_change},
         {"relief-change", relief_change},
         {"difference", difference},
         {"weave-map", weave_map},
         {"legibility", legible_view},
         {"comparison", comparison}}};
    const auto* found = std::ranges::find(sentences, what, [](const auto& row) { return row.first; });
    return found != sentences.end() ? found->second(made.body) : "";
}

// From where on what a difference shows counts.
std::string floor_of(const Body& body) {
    const std::string what = body.text_or("what");
    if (what == "difference") return body.text_or("recipe/floor");
    if (what == "crack-change") {
        const std::string least = in_mm(body, "least_length_px", 1);
        return least.empty() ? "" : "Shorter pieces than " + least + " that differ are undecided.";
    }
    if (what != "relief-change") return "";
    const std::string error = in_mm(body, "error_px", 2);
    return fmt::format("Twice what the noise of the photographs{} could make; nothing is said below it.",
                       error.empty() ? "" : " and a misfit of ± " + error);
}

std::string made_from(const Extract& extract, const Record& made) {
    struct Source {
        std::string text;
        int rank = 0;
    };
    std::vector<Source> sources;
    for (const std::string& key : made.body.keys("from_photographs")) {
        const auto id = parse_uuid(key);
        const Record* photograph = id ? extract.find(*id) : nullptr;
        const std::string role = made.body.text_or("from_photographs/" + key);
        const bool says_more = role == "before" || role == "after";
        sources.push_back({photograph == nullptr ? "a photograph that is no longer among the records"
                                                 : name_of(extract, *photograph) + (says_more ? " (" + role + ")" : ""),
                           photograph == nullptr ? 1000 : stage_rank(*photograph)});
    }
    std::ranges::stable_sort(sources, {}, &Source::rank);
    std::string text;
    for (const Source& each : sources) text += (text.empty() ? "" : "\n") + sentence_case(each.text);
    return text;
}

std::string scale_text(const std::optional<double>& px_per_mm) {
    return px_per_mm ? fmt::format("{} px to a millimetre of the face", format_fixed(*px_per_mm, 2))
                     : "not placed on the face";
}

void add_made_picture(const Sections& sections, const Record& made) {
    const auto& extract = sections.extract;
    const std::string face = value_text(extract, made, "face_frame");
    sections.heading(2, sentence_case(word_text(made.body.text_or("what"))) + (face.empty() ? "" : ", " + face));
    const auto px_per_mm = px_per_mm_of(made);
    if (auto picture = picture_of(sections, made)) {
        picture->px_per_mm = px_per_mm;
        picture->caption = made.body.text_or("caption");
        sections.add(PictureRow{.pictures = {*std::move(picture)}, .max_height_mm = picture_height_mm});
    }
    KeyValues list;
    for (auto& [label, text] : std::vector<std::pair<std::string, std::string>>{{"Made from", made_from(extract, made)},
                                                                                {"How", how_made(made)},
                                                                                {"Counts from", floor_of(made.body)},
                                                                                {"Scale", scale_text(px_per_mm)}})
        if (!text.empty()) list.rows.emplace_back(std::move(label), std::move(text));
    sections.add(std::move(list));
}

}  // namespace

void add_made_pictures(const Sections& sections) {
    const auto pictures = sections.extract.of_kind("derived_picture");
    if (!pictures.empty()) {
        sections.heading(1, "Pictures made from the photographs");
        sections.add(
            Paragraph{"Computed from the photographs named with each. They help the eye; the photographs are "
                      "the evidence.",
                      Voice::quiet});
        for (const Record* each : pictures) add_made_picture(sections, *each);
    }
    const auto forecasts = sections.extract.of_kind("cleaning_forecast");
    if (forecasts.empty()) return;
    sections.heading(1, "What cleaning may show");
    sections.add(Note{Tone::caution, "Forecast",
                      "Nothing here has been seen. It is for those who work on the picture "
                      "and goes to nobody else."});
    for (const Record* each : forecasts) add_made_picture(sections, *each);
}

}  // namespace tedge::dossier
