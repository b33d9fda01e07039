#include "tedge/casebook/frames.hpp"

#include <deque>
#include <functional>
#include <map>
#include <set>

namespace tedge::casebook {

namespace {

using Map = std::function<std::optional<PointMm>(PointMm)>;

struct Joint {
    Uuid to;
    Map map;
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

Map turning(double width_mm) {
    return [width_mm](PointMm p) { return std::optional(turned_over(p, width_mm)); };
}

bool are_two_sides(const Body& a, const Body& b) {
    const std::string face_a = a.text_or("face");
    const std::string face_b = b.text_or("face");
    // Two sides of one epoch: told apart from an older epoch by what both say of its beginning.
    return ((face_a == "recto" && face_b == "verso") || (face_a == "verso" && face_b == "recto")) &&
           a.text_or("epoch_from") == b.text_or("epoch_from");
}

void join_epochs(const Record& frame, std::multimap<Uuid, Joint>& joints) {
    const auto older = frame.body.record("older");
    const auto placement = frame.body.placement("new_from_old");
    if (!older || !placement) return;
    joints.emplace(*older, Joint{frame.id, forward(*placement)});
    joints.emplace(frame.id, Joint{*older, backward(*placement)});
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
                joints.emplace(frame->id, Joint{other->id, turning(*width)});
            }
        }
    }
    return joints;
}

// The shortest chain of joints between two frames, nearest first; nothing where there is none.
std::optional<std::vector<Map>> chain_between(const CaseSnapshot& snapshot, const Uuid& from, const Uuid& to) {
    const auto joints = joints_of(snapshot);
    std::deque<std::pair<Uuid, std::vector<Map>>> waiting{{from, {}}};
    std::set<Uuid> visited{from};
    while (!waiting.empty()) {
        auto [here, maps] = std::move(waiting.front());
        waiting.pop_front();
        if (here == to) return maps;
        const auto [first, last] = joints.equal_range(here);
        for (auto joint = first; joint != last; ++joint) {
            if (!visited.insert(joint->second.to).second) continue;
            std::vector<Map> longer = maps;
            longer.push_back(joint->second.map);
            waiting.emplace_back(joint->second.to, std::move(longer));
        }
    }
    return std::nullopt;
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
    for (const Map& map : *chain) {
        here = here.mapped([&](PointMm p) {
            const auto moved = map(p);
            inverted = inverted && moved.has_value();
            return moved.value_or(p);
        });
    }
    return inverted ? std::optional(here) : std::nullopt;
}

}  // namespace tedge::casebook
