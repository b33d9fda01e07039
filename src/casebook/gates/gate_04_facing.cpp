// Gate 4, before facing: the zone is photographed first; tissue and adhesive are named, were tried there, by whom, and
// how the facing comes off again. Common practice.
#include "gates/evidence.hpp"
#include "gates/gate_rules.hpp"

namespace tedge::casebook {

namespace {

// The outline of a placed photograph on its face.
std::optional<Region> footprint(const Body& photograph) {
    const auto placement = photograph.placement("face_from_photo");
    const auto width = photograph.number("width_px");
    const auto height = photograph.number("height_px");
    if (!placement || !width || !height) return std::nullopt;
    const auto corner = [&](double x, double y) { return placement->to_face({x - 0.5, y - 0.5}); };
    auto outline = Region::polygon({corner(0, 0), corner(*width, 0), corner(*width, *height), corner(0, *height)});
    return outline ? std::optional(*std::move(outline)) : std::nullopt;
}

// A photograph of the whole face has no place yet, or its outline holds the zone (up to what a placement may err).
bool shows_zone(const Asking& asking, const Body& photograph, const Uuid& frame, const Region& zone) {
    const auto face = face_of_frame(asking.snapshot(), frame);
    if (!face || photograph.text("face") != to_text(*face) || !is_as_found(photograph)) return false;
    const auto outline = footprint(photograph);
    const auto placed_on = photograph.record("face_frame");
    if (!outline || !placed_on) return true;
    const auto here = seen_in_frame(asking.snapshot(), *outline, *placed_on, frame);
    return here && zone.without(here->grown(1.0)).empty();
}

bool is_photographed_first(const Asking& asking) {
    const Body& facing = asking.act().fields;
    const auto frame = facing.record("face_frame");
    const auto zone = facing.region("region");
    return frame && zone && any_photograph(asking.snapshot(), [&](const Body& photograph) {
               return shows_zone(asking, photograph, *frame, *zone);
           });
}

void ask_facing(Asking& asking) {
    const Body& facing = asking.act().fields;
    asking.closed_unless(is_photographed_first(asking),
                         {"photographed-first", "The zone has not been photographed before it is covered.",
                          "Photograph the whole zone as it is now, before the facing.", "photographs"});
    asking.closed_unless(is_written(facing, "tissue"),
                         {"tissue", "The tissue is not named.", "Name the tissue.", "transit"});
    asking.closed_unless(is_written(facing, "adhesive"),
                         {"adhesive", "The adhesive is not named.", "Name the adhesive and its strength.", "transit"});
    asking.closed_unless(facing.flag("tried_there") && facing.has("tried_by"),
                         {"tried-there", "Tissue and adhesive have not been tried there by anyone named.",
                          "Try both on a small spot in the zone and say who did.", "transit"});
    asking.closed_unless(is_written(facing, "comes_off_with"),
                         {"comes-off", "It is not said how the facing comes off.",
                          "Say what takes it off, as the trial showed.", "transit"});
}

}  // namespace

const GateRule gate_facing{4, "facing", [](const Act& act) { return act.kind == "facing"; }, ask_facing,
                           "face_frame region tissue adhesive tried_there tried_by comes_off_with"};

}  // namespace tedge::casebook
