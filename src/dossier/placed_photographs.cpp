#include "placed_photographs.hpp"

#include <algorithm>
#include <cmath>

#include "tedge/base/text.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/casebook/photograph_words.hpp"
#include "tedge/casebook/placed_by.hpp"

namespace tedge::dossier {

using casebook::Record;

namespace {

std::vector<PointPx> to_photo(const Placement& placement, const std::vector<PointMm>& points) {
    std::vector<PointPx> mapped;
    for (const auto& point : points)
        if (const auto pixel = placement.to_photo(point)) mapped.push_back(*pixel);
    return mapped;
}

}  // namespace

bool is_normal_light(const Record& photograph) {
    const std::string light = photograph.body.text_or("light");
    return light == "normal" || light == "cross-polarised";
}

int stage_rank(const Record& photograph) {
    return casebook::stage_rank(photograph.body.text_or("stage"));
}

std::vector<const Record*> placed_photographs(const Extract& extract, std::string_view face) {
    std::vector<const Record*> found;
    for (const Record* photograph : extract.of_kind("photograph")) {
        const auto& body = photograph->body;
        if (body.text_or("face") == face && body.integer("width_px").value_or(0) > 0 &&
            body.integer("height_px").value_or(0) > 0 && body.placement("face_from_photo") && body.record("face_frame"))
            found.push_back(photograph);
    }
    std::ranges::stable_sort(found, {}, [](const Record* photograph) { return stage_rank(*photograph); });
    return found;
}

BeforeAndAfter before_and_after(const std::vector<const Record*>& photographs) {
    BeforeAndAfter pair;
    const auto seen_here = [](const Record* photograph) { return stage_rank(*photograph) >= 1; };  // not the saleroom's
    const auto first =
        std::ranges::find_if(photographs, [&](const Record* p) { return seen_here(p) && is_normal_light(*p); });
    pair.before = first != photographs.end() ? *first : photographs.empty() ? nullptr : photographs.front();
    for (const Record* photograph : photographs)
        if (pair.before != nullptr && is_normal_light(*photograph) &&
            stage_rank(*photograph) > stage_rank(*pair.before))
            pair.after = photograph;
    return pair;
}

std::optional<Region> region_in_frame(const Extract& extract, const Record& placed, const Uuid& face_frame) {
    const auto region = casebook::place_on_frame(extract.as_case(), placed, face_frame);
    return region && !region->empty() ? region : std::nullopt;
}

std::optional<PictureMark> mark_in_photograph(const Extract& extract, const Record& placed, const Record& photograph) {
    const auto frame = photograph.body.record("face_frame");
    const auto placement = photograph.body.placement("face_from_photo");
    if (!frame || !placement) return std::nullopt;
    const auto region = region_in_frame(extract, placed, *frame);
    if (!region) return std::nullopt;
    const auto outline = region->outline();
    PictureMark mark;
    for (const auto& ring : outline.rings) mark.rings.push_back(to_photo(*placement, ring));
    for (const auto& line : outline.lines) mark.lines.push_back(to_photo(*placement, line));
    mark.points = to_photo(*placement, outline.points);
    if (const auto at = placement->to_photo(region->label_point())) mark.label_at = *at;
    return mark;
}

std::optional<double> px_per_mm_of(const Record& photograph) {
    const auto placement = casebook::own_placement(photograph);
    const auto width = photograph.body.integer("width_px");
    const auto height = photograph.body.integer("height_px");
    if (!placement || !width || !height) return std::nullopt;
    const PointPx middle{static_cast<double>(*width) / 2.0, static_cast<double>(*height) / 2.0};
    const double half = static_cast<double>(*width) / 4.0;
    const PointMm left = placement->to_face({middle.x_px - half, middle.y_px});
    const PointMm right = placement->to_face({middle.x_px + half, middle.y_px});
    const double length_mm = std::hypot(right.x_mm - left.x_mm, right.y_mm - left.y_mm);
    return length_mm > 1e-9 ? std::optional(2.0 * half / length_mm) : std::nullopt;
}

}  // namespace tedge::dossier
