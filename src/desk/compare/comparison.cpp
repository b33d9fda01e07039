#include "compare/comparison.hpp"

#include <algorithm>
#include <array>
#include <tuple>

#include "tedge/casebook/field_table.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/casebook/photograph_words.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/epochs.hpp"

namespace tedge::desk {

namespace {

using casebook::CaseSnapshot;
using casebook::Record;
using Photographs = std::vector<const Record*>;

// What lies on the newest frame of the face, whole, in the order of the work and then of the camera's clock.
Photographs laid_on_face(const CaseSnapshot& snapshot, Face face) {
    Photographs found;
    const Record* frame = usecases::current_frame(snapshot, face);
    if (frame == nullptr) return found;
    for (const Record* photo : snapshot.of_kind("photograph")) {
        if (photo->body.text_or("face") == to_text(face) && usecases::shows_whole_face(snapshot, *photo) &&
            casebook::placement_on_frame(snapshot, *photo, frame->id))
            found.push_back(photo);
    }
    std::ranges::stable_sort(found, {}, [](const Record* photo) {
        return std::tuple(casebook::stage_rank(photo->body.text_or("stage")), photo->body.text_or("taken_at"));
    });
    return found;
}

// The latest of each stage in one light, in the order of the work.
Photographs one_a_stage(const Photographs& laid, std::string_view light) {
    Photographs found;
    for (const Record* photo : laid) {
        if (photo->body.text_or("light") != light) continue;
        if (!found.empty() && found.back()->body.text_or("stage") == photo->body.text_or("stage")) found.pop_back();
        found.push_back(photo);
    }
    return found;
}

// In whichever light of those that show colour has most stages: like is compared with like.
Photographs states(const Photographs& laid) {
    Photographs best;
    for (const std::string_view light : casebook::words_of(*casebook::find_kind("photograph")->field("light"))) {
        if (!casebook::shows_colour(light)) continue;
        Photographs found = one_a_stage(laid, light);
        if (found.size() > best.size()) best = std::move(found);
    }
    return best;
}

std::vector<Uuid> ids_of(const Photographs& photographs) {
    std::vector<Uuid> ids;
    for (const Record* photo : photographs) ids.push_back(photo->id);
    return ids;
}

Comparison what_changed_last(const Photographs& laid) {
    Comparison made{QObject::tr("What changed last?"), {}, {}, Means::half_and_half, false, {}};
    const Photographs all = states(laid);
    if (all.size() >= 2) {
        made.photographs = ids_of({all[all.size() - 2], all.back()});
    } else {
        made.why_not = QObject::tr("It takes two stages of the work in one light, laid over each other.");
    }
    return made;
}

Comparison received_and_now(const Photographs& laid) {
    Comparison made{QObject::tr("What has become of it?"), {}, {}, Means::half_and_half, false, {}};
    const Photographs all = states(laid);
    if (all.size() >= 2) {
        made.photographs = ids_of({all.front(), all.back()});
    } else {
        made.why_not = QObject::tr("It takes a photograph as received and one of a later stage, laid over each other.");
    }
    return made;
}

// Relief tells a crack from a line of paint: light from the side first, ordinary light beside it.
Comparison is_it_new(const Photographs& laid) {
    Comparison made{QObject::tr("Is this crack new?"), {}, {}, Means::side_by_side, true, {}};
    for (const std::string_view light : {"raking", "normal", "cross-polarised", "specular"}) {
        const Photographs all = one_a_stage(laid, light);
        if (all.size() < 2 || made.photographs.size() + 2 > most_compared) continue;
        made.photographs.push_back(all.front()->id);
        made.photographs.push_back(all.back()->id);
    }
    if (made.photographs.empty())
        made.why_not =
            QObject::tr("It takes two stages in one light, best raking from one side, laid over each other.");
    return made;
}

// Of the last stage that was taken in more than one light.
Comparison every_light(const Photographs& laid) {
    Comparison made{QObject::tr("What does each light show?"), {}, {}, Means::side_by_side, false, {}};
    for (auto photo = laid.rbegin(); photo != laid.rend() && made.photographs.empty(); ++photo) {
        Photographs of_stage;
        for (const Record* other : laid) {
            const bool other_light = std::ranges::none_of(of_stage, [&](const Record* known) {
                return known->body.text_or("light") == other->body.text_or("light");
            });
            if (other_light && other->body.text_or("stage") == (*photo)->body.text_or("stage"))
                of_stage.push_back(other);
        }
        of_stage.resize(std::min(of_stage.size(), most_compared));
        if (of_stage.size() >= 2) made.photographs = ids_of(of_stage);
    }
    if (made.photographs.empty())
        made.why_not = QObject::tr("It takes photographs of one stage in several lights, laid over each other.");
    return made;
}

Comparison front_and_back(const CaseSnapshot& snapshot) {
    Comparison made{QObject::tr("What lies behind it?"), {}, {}, Means::side_by_side, false, {}};
    const Photographs fronts = laid_on_face(snapshot, Face::recto);
    const Photographs backs = laid_on_face(snapshot, Face::verso);
    const Record* front = usecases::current_frame(snapshot, Face::recto);
    const bool joined = front != nullptr && !backs.empty() &&
                        casebook::placement_on_frame(snapshot, *backs.back(), front->id).has_value();
    if (fronts.empty() || backs.empty()) {
        made.why_not = QObject::tr("It takes a photograph of either side, each placed by its corners.");
    } else if (!joined) {
        made.why_not = QObject::tr("The frames of the two sides are of different times: place the back as it is now.");
    } else {
        const Photographs ordinary = states(fronts);
        made.photographs = {(ordinary.empty() ? fronts : ordinary).back()->id, backs.back()->id};
    }
    return made;
}

Comparison the_chosen(const CaseSnapshot& snapshot, Face face, const std::vector<Uuid>& chosen) {
    Comparison made{QObject::tr("The ones I chose"), {}, {}, Means::half_and_half, false, face};
    const Record* frame = usecases::current_frame(snapshot, face);
    for (const Uuid& id : chosen) {
        const Record* photo = snapshot.find(id);
        const bool laid = photo != nullptr && frame != nullptr && photo->kind == "photograph" &&
                          casebook::placement_on_frame(snapshot, *photo, frame->id).has_value();
        if (laid && made.photographs.size() < most_compared) made.photographs.push_back(id);
    }
    if (made.photographs.size() < 2) {
        made.photographs.clear();
        made.why_not = QObject::tr("Choose two to four in the strip (Shift or Ctrl and click) that are placed.");
    }
    if (made.photographs.size() > 2) made.means = Means::side_by_side;
    return made;
}

}  // namespace

std::vector<Comparison> comparisons(const CaseSnapshot& snapshot, Face face, const std::vector<Uuid>& chosen) {
    const Photographs laid = laid_on_face(snapshot, face);
    std::vector<Comparison> all{what_changed_last(laid), received_and_now(laid), is_it_new(laid), every_light(laid)};
    for (Comparison& each : all) each.in_face = face;
    if (face == Face::recto || face == Face::verso) all.push_back(front_and_back(snapshot));
    all.push_back(the_chosen(snapshot, face, chosen));
    return all;
}

}  // namespace tedge::desk
