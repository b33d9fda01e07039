#include "easel/easel_content.hpp"

#include "photographs/laying.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/derived.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

using casebook::CaseSnapshot;
using casebook::Record;

OverlayStyle style_of(const Record& record) {
    if (record.kind == "finding") return record.body.flag("unstable") ? OverlayStyle::unstable : OverlayStyle::finding;
    if (record.kind == "trial") return OverlayStyle::trial;
    if (record.kind == "facing") return OverlayStyle::facing;
    if (record.kind == "inscription") return OverlayStyle::inscription;
    return OverlayStyle::treatment;
}

// A place of another epoch of the same face is moved; one of another face stays away.
std::optional<Region> place_in(const CaseSnapshot& snapshot, const Record& record, const Record& frame) {
    const auto region = record.body.region("region");
    const auto on = record.body.record("face_frame");
    if (!region || !on) return std::nullopt;
    if (*on == frame.id) return region;
    if (casebook::face_of_frame(snapshot, *on) != casebook::face_of_frame(snapshot, frame.id)) return std::nullopt;
    return casebook::seen_in_frame(snapshot, *region, *on, frame.id);
}

}  // namespace

const Record* frame_under(const CaseSnapshot& snapshot, Face face, const Record* photograph) {
    const auto on = photograph != nullptr && photograph->body.has("face_from_photo")
                        ? photograph->body.record("face_frame")
                        : std::nullopt;
    const Record* frame = on ? snapshot.find(*on) : nullptr;
    return frame != nullptr ? frame : usecases::current_frame(snapshot, face);
}

ShownPhotograph shown_photograph(const std::filesystem::path& book_folder, const Record& photograph) {
    ShownPhotograph photo;
    photo.id = photograph.id;
    photo.pyramid = usecases::pyramid_path(book_folder, photograph.body.text_or("sha256"));
    photo.placement = photograph.body.placement("face_from_photo");
    photo.size = {static_cast<int>(photograph.body.integer("width_px").value_or(0)),
                  static_cast<int>(photograph.body.integer("height_px").value_or(0))};
    photo.label = name_of(photograph);
    return photo;
}

std::vector<Overlay> overlays_on(const CaseSnapshot& snapshot, const Record& frame) {
    std::vector<Overlay> overlays;
    int number = 0;
    for (const Record& record : snapshot.records) {
        const auto place = place_in(snapshot, record, frame);
        if (place) overlays.push_back({record.id, *place, style_of(record), QString::number(++number)});
    }
    return overlays;
}

QString why_not_comparable(const CaseSnapshot& snapshot, const std::optional<Uuid>& first,
                           const std::optional<Uuid>& second) {
    const Record* a = first ? snapshot.find(*first) : nullptr;
    const Record* b = second ? snapshot.find(*second) : nullptr;
    if (a == nullptr || b == nullptr || a == b)
        return QObject::tr("Set a second photograph beside this one first: Ctrl+Enter or Ctrl+click in the strip.");
    for (const Record* photo : {a, b}) {
        if (!photo->body.has("face_from_photo"))
            return QObject::tr("“%1” is not placed yet: lay it over one that is, or place it by its corners.")
                .arg(name_of(*photo));
    }
    if (a->body.text_or("face") != b->body.text_or("face"))
        return QObject::tr("One shows the %1, the other the %2.")
            .arg(shown(a->body.text_or("face")), shown(b->body.text_or("face")));
    if (a->body.record("face_frame") != b->body.record("face_frame"))
        return QObject::tr("They lie in two epochs of the face: lay one over the other to compare them.");
    return {};
}

}  // namespace tedge::desk
