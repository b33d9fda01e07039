// What whoever carries a picture asks first: how large and heavy it is, what is fragile and where, how it was packed.
#include <algorithm>

#include "sections.hpp"
#include "tedge/base/length.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"
#include "tedge/casebook/findings.hpp"

namespace tedge::dossier {

using casebook::Reader;
using casebook::Record;

namespace {

using Rows = std::vector<std::pair<std::string, std::string>>;

std::string size_of(const casebook::Body& body, std::string_view height, std::string_view width) {
    const auto high = body.number(height);
    const auto wide = body.number(width);
    return high && wide ? format_size_height_first(*high, *wide) : "";
}

std::string or_not_recorded(const std::string& text) {
    return text.empty() ? "not recorded: take it before packing" : text;
}

std::string framed_size(const Record& frame) {
    std::string text = size_of(frame.body, "outer_height_mm", "outer_width_mm");
    const auto deep = frame.body.number("outer_depth_mm");
    if (!text.empty() && deep) text += ", " + format_number(*deep) + " mm deep";
    return text;
}

void add_size_and_weight(const Extract& extract, Rows& rows) {
    const auto& picture = extract.picture().body;
    rows.emplace_back("Picture without frame", or_not_recorded(size_of(picture, "height_mm", "width_mm")));
    const auto frames = extract.of_kind("picture_frame");
    const Record* frame = frames.empty() ? nullptr : frames.back();
    if (frame == nullptr) {
        rows.emplace_back("Frame", "none recorded");
        rows.emplace_back("Weight", or_not_recorded(""));
        return;
    }
    rows.emplace_back("Framed", or_not_recorded(framed_size(*frame)));
    rows.emplace_back("Weight, framed", or_not_recorded(value_text(extract, *frame, "weight_kg")));
    for (const auto& [label, field] :
         {std::pair("Glazing", "glazing"), std::pair("Back", "backboard"), std::pair("Fixings", "fixings")})
        if (const std::string text = value_text(extract, *frame, field); !text.empty()) rows.emplace_back(label, text);
}

// Findings that are open, facings that are still on.
std::string fragile_places(const Extract& extract) {
    std::vector<std::string> lines;
    std::size_t number = 0;
    for (const Record* finding : extract.of_kind("finding")) {
        ++number;
        if (!extract.is_open_danger(*finding)) continue;
        const std::string where = value_text(extract, *finding, "face_frame");
        lines.push_back("No " + std::to_string(number) + ", " + finding->body.text_or("term") +
                        (where.empty() ? "" : ", " + where));
    }
    const auto facings = extract.of_kind("facing");
    const auto on = std::ranges::count_if(facings, [](const Record* f) { return !f->body.has("removed_on"); });
    if (on > 0)
        lines.push_back(counted(static_cast<std::size_t>(on), "facing is", "facings are") + " on; keep them dry");
    if (casebook::is_loose_without_place(extract.of_kind("survey"), extract.of_kind("finding")))
        lines.push_back("loose by the survey, and it is not recorded where: ask before it is moved");
    if (!lines.empty()) return join(lines, "\n");
    return extract.of_kind("survey").empty() ? "not known: nobody has surveyed it"
                                             : "nothing recorded as unstable now; look at it before it is moved";
}

// How it travelled the last time that somebody wrote it down.
std::string last_packing(const Extract& extract) {
    auto entries = extract.of_kind("custody");
    std::ranges::stable_sort(entries, {}, [](const Record* entry) { return entry->body.text_or("from"); });
    const auto packed =
        std::find_if(entries.rbegin(), entries.rend(), [](const Record* entry) { return entry->body.has("packing"); });
    if (packed == entries.rend()) return {};
    return value_text(extract, **packed, "packing") + " (" + value_text(extract, **packed, "from") + ")";
}

}  // namespace

void add_journey(const Sections& sections) {
    const auto& extract = sections.extract;
    if (extract.reader() != Reader::carrier) return;
    Rows rows;
    add_size_and_weight(extract, rows);
    rows.emplace_back("Fragile now", fragile_places(extract));
    if (const std::string packing = last_packing(extract); !packing.empty()) rows.emplace_back("Last packed", packing);
    sections.heading(1, "For the journey");
    sections.add(KeyValues{std::move(rows)});
    sections.add(Note{Tone::caution, "Before it leaves",
                      "Photograph front and back, compare them with this dossier, and have both sides sign what is "
                      "seen, on the last page. Both sign again on arrival."});
}

void add_handing_over(const Sections& sections) {
    if (sections.extract.reader() != Reader::carrier) return;
    sections.heading(1, "Handed over and received");
    DataTable table{{{"", 1.3},
                     {"Name", 1.5},
                     {"Day and hour", 1.1},
                     {"What is seen, against this dossier", 2.6},
                     {"Signature", 1.5}},
                    {},
                    {}};
    // Room to write by hand below each line.
    for (const char* who :
         {"Handed over by\n\n", "Taken over by the carrier\n\n", "Delivered by\n\n", "Received by\n\n"})
        table.rows.push_back({who, "", "", "", ""});
    sections.add(std::move(table));
}

}  // namespace tedge::dossier
