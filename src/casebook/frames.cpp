#include "tedge/casebook/frames.hpp"

#include <cmath>
#include <deque>
#include <functional>
#include <map>
#include <set>

#include "tedge/casebook/placed_by.hpp"

namespace tedge::casebook {

namespace {

using Map = std::function<std::optional<PointMm>(PointMm)>;

struct Joint {
    Uuid to;
    Map map;
    Homography plane;                  // the map without what bends
    std::optional<double> spacing_mm;  // of what bends, where anything does
    double error_mm = 0.0;
};

std::optional<Record> frame_record(const CaseSnapshot& snapshot, const Uuid& id) {
    const Record* record = snapshot.find(id);
    return record != nullptr && record->kind == "face_frame" ? std::optional(*record) : std::nullopt;
}

Map forward(const Placement& new_from_old) {
    return [new_from_old](PointMm p) { return std::optional(new_from_old.to_face({p.x_mm, p.y_mm})); };
}

Map backward(const Placement& new_from_old) {
    return [new_from_old](PointMm p) -> std::optional<PointMm> {
        const auto old = new_from_old.to_photo(p);
        return old ? std::optional(PointMm{old->x_px, old->y_px}) : std::nullopt;
    };
}

Joint turning(const Uuid& to, double width_mm) {
    Joint joint{to, [width_mm](PointMm p) { return std::optional(turned_over(p, width_mm)); }, {}, {}, 0.0};
    joint.plane = Homography::from_row_major({-1, 0, width_mm, 0, 1, 0, 0, 0, 1}).value_or(Homography());
    return joint;
}

bool are_two_sides(const Body& a, const Body& b) {
    const std::string face_a = a.text_or("face");
    const std::string face_b = b.text_or("face");
    // Two sides of one epoch: told apart from another epoch by what both say of its beginning.
    return ((face_a == "recto" && face_b == "verso") || (face_a == "verso" && face_b == "recto")) &&
           a.text_or("epoch_from") == b.text_or("epoch_from") && a.record("opened_by") == b.record("opened_by");
}

void join_epochs(const Record& frame, std::multimap<Uuid, Joint>& joints) {
    const auto older = frame.body.record("older");
    const auto placement = frame.body.placement("new_from_old");
    if (!older || !placement) return;
    Joint joint{frame.id, forward(*placement), placement->face_from_photo, {}, placement->error_mm};
    if (placement->displacement) joint.spacing_mm = placement->displacement->spacing_mm();
    joints.emplace(*older, joint);
    joint.to = *older;
    joint.map = backward(*placement);
    joint.plane = joint.plane.inverse();
    joints.emplace(frame.id, std::move(joint));
}

std::multimap<Uuid, Joint> joints_of(const CaseSnapshot& snapshot) {
    std::multimap<Uuid, Joint> joints;
    const auto frames = snapshot.of_kind("face_frame");
    for (const Record* frame : frames) {
        join_epochs(*frame, joints);
        for (const Record* other : frames) {
            if (!are_two_sides(frame->body, other->body)) continue;
            // One width for both directions, or there and back would not end where it began: that of the recto.
            const Record* recto = frame->body.text_or("face") == "recto" ? frame : other;
            if (const auto width = recto->body.number("width_mm")) {
                joints.emplace(frame->id, turning(other->id, *width));
            }
        }
    }
    return joints;
}

// The shortest chain of joints between two frames, nearest first; nothing where there is none.
std::optional<std::vector<Joint>> chain_between(const CaseSnapshot& snapshot, const Uuid& from, const Uuid& to) {
    const auto joints = joints_of(snapshot);
    std::deque<std::pair<Uuid, std::vector<Joint>>> waiting{{from, {}}};
    std::set<Uuid> visited{from};
    while (!waiting.empty()) {
        auto [here, chain] = std::move(waiting.front());
        waiting.pop_front();
        if (here == to) return chain;
        const auto [first, last] = joints.equal_range(here);
        for (auto joint = first; joint != last; ++joint) {
            if (!visited.insert(joint->second.to).second) continue;
            std::vector<Joint> longer = chain;
            longer.push_back(joint->second);
            waiting.emplace_back(joint->second.to, std::move(longer));
        }
    }
    return std::nullopt;
}

std::optional<PointMm> along(const std::vector<Joint>& chain, PointMm point) {
    std::optional<PointMm> here = point;
    for (const Joint& joint : chain) {
        if (here) here = joint.map(*here);
    }
    return here;
}

// The plane part of a placement carried along a chain, the finest lattice of what bends on the way, and the errors.
struct Carried {
    Homography plane;
    std::optional<double> spacing_mm;
    double variance_mm2 = 0.0;
};

std::optional<Carried> carried_along(const std::vector<Joint>& chain, const Placement& placement) {
    Carried carried{placement.face_from_photo, {}, placement.error_mm * placement.error_mm};
    if (placement.displacement) carried.spacing_mm = placement.displacement->spacing_mm();
    for (const Joint& joint : chain) {
        const auto plane = compose(joint.plane, carried.plane);
        if (!plane) return std::nullopt;
        carried.plane = *plane;
        if (joint.spacing_mm) {
            carried.spacing_mm = std::min(carried.spacing_mm.value_or(*joint.spacing_mm), *joint.spacing_mm);
        }
        carried.variance_mm2 += joint.error_mm * joint.error_mm;
    }
    return carried;
}

}  // namespace

std::optional<Face> face_of_frame(const CaseSnapshot& snapshot, const Uuid& face_frame) {
    const auto record = frame_record(snapshot, face_frame);
    const auto face = record ? parse_face(record->body.text_or("face")) : Expected<Face>(fail("", ""));
    return face ? std::optional(*face) : std::nullopt;
}

std::optional<Region> seen_in_frame(const CaseSnapshot& snapshot, const Region& region, const Uuid& from_frame,
                                    const Uuid& to_frame) {
    if (from_frame == to_frame) return region;
    const auto chain = chain_between(snapshot, from_frame, to_frame);
    if (!chain) return std::nullopt;
    bool inverted = true;
    Region here = region;
    here = here.mapped([&](PointMm p) {
        const auto moved = along(*chain, p);
        inverted = inverted && moved.has_value();
        return moved.value_or(p);
    });
    return inverted ? std::optional(here) : std::nullopt;
}

std::optional<Region> place_on_frame(const CaseSnapshot& snapshot, const Record& placed, const Uuid& frame) {
    const auto on = placed.body.record("face_frame");
    const auto region = placed.body.region("region");
    if (!on || !region || face_of_frame(snapshot, *on) != face_of_frame(snapshot, frame)) return std::nullopt;
    return seen_in_frame(snapshot, *region, *on, frame);
}

std::optional<Region> place_from_behind(const CaseSnapshot& snapshot, const Record& placed, const Uuid& frame) {
    const auto on = placed.body.record("face_frame");
    const auto region = placed.body.region("region");
    if (!on || !region) return std::nullopt;
    const auto here = face_of_frame(snapshot, frame);
    const auto there = face_of_frame(snapshot, *on);
    const bool two_sides =
        (here == Face::recto && there == Face::verso) || (here == Face::verso && there == Face::recto);
    return two_sides ? seen_in_frame(snapshot, *region, *on, frame) : std::nullopt;
}

std::optional<Placement> carried_over(const CaseSnapshot& snapshot, const Placement& placement, const Uuid& from_frame,
                                      const Uuid& to_frame) {
    if (from_frame == to_frame) return placement;
    const auto target = frame_record(snapshot, to_frame);
    const auto chain = target ? chain_between(snapshot, from_frame, to_frame) : std::nullopt;
    const auto carried = chain ? carried_along(*chain, placement) : std::nullopt;
    if (!carried) return std::nullopt;
    Placement there;
    there.face_from_photo = carried->plane;
    if (carried->spacing_mm) {
        const SizeMm size = size_of_frame(*target);
        const BoxMm face{{0.0, 0.0}, {size.width_mm, size.height_mm}};
        const auto exact = [&](PointPx pixel) { return along(*chain, placement.to_face(pixel)); };
        const auto fitted = placement_along(carried->plane, exact, face, 0.5 * *carried->spacing_mm);
        if (!fitted) return std::nullopt;
        there = *fitted;
    }
    there.error_mm = std::sqrt(carried->variance_mm2 + there.error_mm * there.error_mm);
    return there;
}

SizeMm size_of_frame(const Record& face_frame) {
    return {face_frame.body.number("width_mm").value_or(0), face_frame.body.number("height_mm").value_or(0)};
}

bool is_placed(const Record& picture) {
    return picture.body.has(placement_field(picture));
}

std::optional<Face> face_seen(const CaseSnapshot& snapshot, const Record& picture) {
    if (const auto said = parse_face(picture.body.text_or("face"))) return *said;
    const auto frame = picture.body.record("face_frame");
    return frame ? face_of_frame(snapshot, *frame) : std::nullopt;
}

std::optional<Placement> placement_on_frame(const CaseSnapshot& snapshot, const Record& picture, const Uuid& frame) {
    const auto on = picture.body.record("face_frame");
    const auto placement = own_placement(picture);
    return on && placement ? carried_over(snapshot, *placement, *on, frame) : std::nullopt;
}

}  // namespace tedge::casebook
