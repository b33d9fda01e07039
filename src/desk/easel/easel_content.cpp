#include "easel/easel_content.hpp"

#include <algorithm>
#include <iterator>

#include "client_screen.hpp"
#include "easel/place_labels.hpp"
#include "photographs/laying.hpp"
#include "tedge/casebook/field_table.hpp"
#include "tedge/casebook/findings.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/casebook/photograph_words.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/derived.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

using casebook::CaseSnapshot;
using casebook::Record;

OverlayStyle style_of(const Record& record, const CaseSnapshot& snapshot) {
    if (record.kind == "finding")
        return casebook::is_open_danger(snapshot, record) ? OverlayStyle::unstable : OverlayStyle::finding;
    if (record.kind == "trial") return OverlayStyle::trial;
    if (record.kind == "facing") return OverlayStyle::facing;
    if (record.kind == "inscription") return OverlayStyle::inscription;
    return OverlayStyle::treatment;
}

// What goes through the canvas or hides behind it; trials and work on one surface do not.
bool matters_behind(const Record& record) {
    return record.kind == "finding" || record.kind == "inscription";
}

}  // namespace

ShownPhotograph shown_photograph(const std::filesystem::path& book_folder, const CaseSnapshot& snapshot,
                                 const Record& photograph, const Record* frame) {
    ShownPhotograph photo;
    photo.id = photograph.id;
    photo.pyramid = usecases::pyramid_path(book_folder, photograph.body.text_or("sha256"));
    if (frame != nullptr) photo.placement = casebook::placement_on_frame(snapshot, photograph, frame->id);
    photo.size = {static_cast<int>(photograph.body.integer("width_px").value_or(0)),
                  static_cast<int>(photograph.body.integer("height_px").value_or(0))};
    photo.label = name_of(photograph);
    return photo;
}

std::vector<Overlay> overlays_on(const CaseSnapshot& snapshot, const Record& frame) {
    std::vector<Overlay> overlays;
    const auto labels = place_labels(snapshot);
    for (const Record& record : snapshot.records) {
        const auto place = casebook::place_on_frame(snapshot, record, frame.id);
        const auto behind =
            place || !matters_behind(record) ? std::nullopt : casebook::place_from_behind(snapshot, record, frame.id);
        if (!place && !behind) continue;
        const auto found = labels.find(record.id);
        const QString label = found != labels.end() ? found->second : QString();
        overlays.push_back({record.id, place ? *place : *behind, style_of(record, snapshot),
                            behind ? QStringLiteral("(%1)").arg(label) : label, behind.has_value()});
    }
    return overlays;
}

std::vector<Overlay> pending_on(const CaseSnapshot& snapshot, const std::vector<DrawnPlace>& places,
                                const Record& frame) {
    std::vector<Overlay> overlays;
    for (const DrawnPlace& drawn : places) {
        if (casebook::face_of_frame(snapshot, drawn.face_frame) != casebook::face_of_frame(snapshot, frame.id))
            continue;
        const auto place = casebook::seen_in_frame(snapshot, drawn.region, drawn.face_frame, frame.id);
        if (place) overlays.push_back({Uuid{}, *place, OverlayStyle::pending, QObject::tr("✎ not saved")});
    }
    return overlays;
}

std::vector<const Record*> pictures_of(const CaseSnapshot& snapshot, bool client_looks) {
    std::vector<const Record*> pictures;
    std::ranges::copy(snapshot.of_kind("photograph"), std::back_inserter(pictures));
    for (const std::string_view kind : casebook::made_picture_kinds) {
        if (client_looks && hidden_from_client(*casebook::find_kind(kind))) continue;
        std::ranges::copy(snapshot.of_kind(kind), std::back_inserter(pictures));
    }
    return pictures;
}

QString why_not_comparable(const CaseSnapshot& snapshot, const std::optional<Uuid>& first,
                           const std::optional<Uuid>& second) {
    const Record* a = first ? snapshot.find(*first) : nullptr;
    const Record* b = second ? snapshot.find(*second) : nullptr;
    if (a == nullptr || b == nullptr || a == b)
        return QObject::tr("Set a second photograph beside this one first: Ctrl+Enter or Ctrl+click in the strip.");
    for (const Record* photo : {a, b}) {
        if (!casebook::is_placed(*photo))
            return QObject::tr("“%1” is not placed yet: lay it over one that is, or place it by its corners.")
                .arg(name_of(*photo));
    }
    const auto face_a = casebook::face_seen(snapshot, *a);
    const auto face_b = casebook::face_seen(snapshot, *b);
    if (face_a && face_b && face_a != face_b)
        return QObject::tr("One shows the %1, the other the %2.")
            .arg(spoken(to_text(*face_a)), spoken(to_text(*face_b)));
    const auto on = a->body.record("face_frame");
    if (!on || !casebook::placement_on_frame(snapshot, *b, *on))
        return QObject::tr("The canvas moved between the two and nothing says how: lay one over the other.");
    return {};
}

}  // namespace tedge::desk
