// Title, identification, photographs. The identification follows the categories of Object ID (Thornes, "Introduction to
// Object ID", Getty Information Institute, 1999): type, materials and techniques, measurements, inscriptions and
// markings, distinguishing features, title, subject, date or period, maker; the description is the condition section.
#include <algorithm>

#include "placed_photographs.hpp"
#include "sections.hpp"
#include "tedge/base/clock.hpp"
#include "tedge/base/length.hpp"
#include "tedge/provenance/date_words.hpp"

namespace tedge::dossier {

using casebook::Record;

namespace {

constexpr std::size_t photographs_in_row = 3;

void add_row(std::vector<std::pair<std::string, std::string>>& rows, std::string label, std::string text) {
    if (!text.empty()) rows.emplace_back(std::move(label), std::move(text));
}

std::string size_text(const Record& picture) {
    const auto width = picture.body.number("width_mm");
    const auto height = picture.body.number("height_mm");
    return width && height ? format_size_height_first(*height, *width) : "";
}

std::string inscriptions_text(const Extract& extract) {
    std::string text;
    for (const Record* inscription : extract.of_kind("inscription")) {
        const std::string sort = word_text(inscription->body.text_or("kind"));
        const std::string words = inscription->body.text_or("transcription");
        if (!text.empty()) text += "\n";
        text += sentence_case(sort) + (words.empty() ? "" : ": " + words);
    }
    return text;
}

std::string with_full_stop(std::string text) {
    constexpr std::string_view ends = ".!?";
    if (!text.empty() && ends.find(text.back()) == std::string_view::npos && !text.ends_with("…")) text += '.';
    return text;
}

}  // namespace

std::optional<Picture> picture_of(const Sections& sections, const Record& photograph) {
    const auto width = photograph.body.integer("width_px");
    const auto height = photograph.body.integer("height_px");
    if (!width || !height || *width <= 0 || *height <= 0 || *width > 200'000 || *height > 200'000) return std::nullopt;
    Picture picture;
    picture.size = {static_cast<int>(*width), static_cast<int>(*height)};
    picture.pixels = [&pictures = sections.pictures, id = photograph.id](int longest_side_px) {
        return pictures.photograph(id, longest_side_px);
    };
    return picture;
}

std::string photograph_caption(const Extract& extract, const Record& photograph) {
    std::string text = sentence_case(name_of(extract, photograph)) + ".";
    const std::string taken = photograph.body.text_or("taken_at").substr(0, 10);
    if (parse_date(taken)) text += " " + provenance::words_for_day(taken) + ".";
    return text;
}

const Record* best_photograph(const Extract& extract) {
    const Record* best = nullptr;
    for (const Record* photograph : extract.of_kind("photograph")) {
        const auto& body = photograph->body;
        const std::string light = body.text_or("light");
        if (body.text_or("face") != "recto" || (light != "normal" && light != "cross-polarised")) continue;
        if (!body.integer("width_px") || !body.integer("height_px")) continue;
        if (best == nullptr || stage_rank(*photograph) >= stage_rank(*best)) best = photograph;
    }
    return best;
}

void add_identification(const Sections& sections) {
    const auto& extract = sections.extract;
    const auto& picture = extract.picture();
    std::vector<std::pair<std::string, std::string>> rows;
    add_row(rows, "Type of object", "Painting");
    add_row(rows, "Title", picture.body.text_or("title"));
    add_row(rows, "Maker", picture.body.text_or("artist"));
    add_row(rows, "Date or period", value_text(extract, picture, "date_made"));
    add_row(rows, "Materials and techniques", picture.body.text_or("technique"));
    add_row(rows, "Measurements", size_text(picture));
    add_row(rows, "Subject", picture.body.text_or("subject"));
    add_row(rows, "Inscriptions and markings", inscriptions_text(extract));
    add_row(rows, "Distinguishing features", picture.body.text_or("distinguishing"));
    add_row(rows, "Stock number", picture.body.text_or("stock_number"));
    const std::vector<std::string_view> told{"title",          "artist",   "date_made", "technique",   "subject",
                                             "distinguishing", "width_mm", "height_mm", "stock_number"};
    for (auto& row : labelled_values(extract, picture, told)) rows.push_back(std::move(row));
    // The figures of a purchase stay in the house, with the own file's further records; its day may go to an insurer.
    if (extract.reader() != casebook::Reader::own)
        for (const Record* purchase : extract.of_kind("purchase"))
            for (auto& row : labelled_values(extract, *purchase)) rows.push_back(std::move(row));
    sections.heading(1, "Identification");
    sections.add(KeyValues{std::move(rows)});
}

void add_photographs(const Sections& sections) {
    std::vector<const Record*> photographs = sections.extract.of_kind("photograph");
    std::ranges::stable_sort(photographs, {}, [](const Record* record) { return stage_rank(*record); });
    std::vector<Picture> pictures;
    for (const Record* photograph : photographs) {
        auto picture = picture_of(sections, *photograph);
        if (!picture) continue;
        picture->caption = photograph_caption(sections.extract, *photograph);
        const std::string caption = photograph->body.text_or("caption");
        if (!caption.empty()) picture->caption += " " + with_full_stop(caption);
        pictures.push_back(std::move(*picture));
    }
    if (pictures.empty()) return;
    sections.heading(1, "Photographs");
    for (std::size_t i = 0; i < pictures.size(); i += photographs_in_row) {
        PictureRow row;
        row.columns = static_cast<int>(photographs_in_row);
        row.max_height_mm = 42.0;  // an upright picture does not make its row tall
        for (std::size_t j = i; j < std::min(i + photographs_in_row, pictures.size()); ++j)
            row.pictures.push_back(std::move(pictures[j]));
        sections.add(std::move(row));
    }
}

}  // namespace tedge::dossier
