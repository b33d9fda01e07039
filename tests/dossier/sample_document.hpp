// A document that uses every block, with invented content.
#pragma once

#include <cmath>

#include "tedge/dossier/document.hpp"

namespace tedge::test {

// A made landscape: sky above, land below, some texture.
inline imaging::Raster8 made_picture(int width_px, int height_px) {
    imaging::Raster8 raster(width_px, height_px, 3);
    for (int y = 0; y < height_px; ++y)
        for (int x = 0; x < width_px; ++x) {
            const double wave = 18.0 * std::sin(x * 0.05) * std::sin(y * 0.07 + x * 0.01);
            const bool sky = y < height_px * (0.55 + 0.06 * std::sin(6.3 * x / width_px));
            const double base[3] = {sky ? 172.0 : 84.0, sky ? 178.0 : 82.0, sky ? 170.0 : 52.0};
            for (int c = 0; c < 3; ++c) raster.at(x, y, c) = static_cast<std::uint8_t>(base[c] + wave);
        }
    return raster;
}

inline dossier::Picture sample_picture(SizePx size, std::string caption) {
    dossier::Picture picture;
    picture.size = size;
    picture.caption = std::move(caption);
    picture.pixels = [size](int longest_px) -> Expected<imaging::Raster8> {
        const double scale = std::min(1.0, static_cast<double>(longest_px) / std::max(size.width_px, size.height_px));
        return made_picture(static_cast<int>(size.width_px * scale), static_cast<int>(size.height_px * scale));
    };
    return picture;
}

inline dossier::Document sample_document() {
    using namespace dossier;
    Document document;
    document.title = "Wooded river at evening";
    document.running_head = "Wooded river at evening";
    document.running_note = "Dossier for the buyer";
    document.title_page = {.kicker = "Dossier for the buyer",
                           .title = "Wooded river at evening, with a ferry",
                           .subtitle = "Follower of Aart van der Linne, about 1660",
                           .facts = {"Oil on canvas", "618 × 824 mm (24 3/8 × 32 1/2 in)", "Stock number TE-0017"},
                           .picture = sample_picture({2400, 1800}, "Recto, normal light, varnished."),
                           .imprint = {"Made on 3 March 2026."}};
    auto marked = sample_picture({2400, 1800}, "Recto as received. The numbers are those of the table.");
    marked.px_per_mm = 2.913;
    marked.marks.push_back({.rings = {{{300, 300}, {700, 280}, {760, 620}, {340, 640}}},
                            .label_at = PointPx{520, 460},
                            .label = "1",
                            .tone = Tone::closed});
    marked.marks.push_back(
        {.lines = {{{1200, 200}, {1350, 700}, {1300, 1200}}}, .label_at = PointPx{1350, 700}, .label = "2"});
    marked.marks.push_back(
        {.points = {{2000, 1500}}, .label_at = PointPx{2030, 1470}, .label = "12", .tone = Tone::caution});
    DataTable table{{{"No", 0.5, Align::right}, {"Layer", 1.2}, {"What it is", 2.5}, {"Area, mm²", 1.0, Align::right}},
                    {},
                    "Findings by number"};
    for (int i = 1; i <= 60; ++i)
        table.rows.push_back({std::to_string(i), i % 3 == 0 ? "varnish" : "paint",
                              i % 7 == 0
                                  ? "cupped paint along the edge of an old loss, stable when touched with a soft "
                                    "brush, with dirt lodged below the lifted rims"
                                  : "flaking",
                              std::to_string(i * 137)});
    document.blocks = {
        Heading{1, "Identification"},
        Paragraph{"A quiet river seen from the near bank, the light going, a ferry half across.", Voice::lead},
        KeyValues{{{"Maker", "Follower of Aart van der Linne"},
                   {"Materials and technique", "Oil on a plain-weave canvas, lined"},
                   {"Measurements", "618 × 824 mm (24 3/8 × 32 1/2 in)"},
                   {"Distinguishing features",
                    "A repaired tear of 43 mm above the ferry; the lower edge was once folded "
                    "over a smaller strainer and has been opened out again."}}},
        Heading{1, "Condition"},
        Heading{2, "As received"},
        PictureRow{.pictures = {marked}},
        Note{Tone::closed, "Unstable", "Finding 1 is flaking and has not been consolidated."},
        table,
        Heading{2, "Before and after"},
        PictureRow{.pictures = {sample_picture({2000, 1500}, "Before"), sample_picture({2000, 1500}, "After")},
                   .caption = "Registered to 0.12 mm."},
        PictureRow{.pictures = {sample_picture({900, 1500}, "Edge, left")}, .columns = 3, .max_height_mm = 70},
        Heading{3, "A small heading"},
        Note{Tone::caution, "Ultraviolet lamps",
             "Keep sessions short and eyes protected; local codes and licensed "
             "practice go before anything said here."},
        Heading{1, "Sources"},
        Paragraph{"A long unbroken word: " + std::string(400, 'x'), Voice::quiet},
        PageBreak{},
        Paragraph{std::string("Ångström, Δ, ≤, €, “quotes”, 日本 and a tab\tand a bell\x07."), Voice::body}};
    return document;
}

}  // namespace tedge::test
