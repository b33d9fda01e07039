#include "photographs/laying.hpp"

#include <algorithm>

#include "tedge/casebook/frames.hpp"
#include "tedge/casebook/photograph_words.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

using casebook::CaseSnapshot;
using casebook::is_placed;
using casebook::Record;
using usecases::RegisteredPhotograph;

constexpr std::size_t most_references = 8;

// Photographs of the same face, the shown one left out.
std::vector<const Record*> companions(const CaseSnapshot& snapshot, const Record& photograph) {
    std::vector<const Record*> found;
    for (const Record* other : snapshot.of_kind("photograph")) {
        if (other->id != photograph.id && other->body.text_or("face") == photograph.body.text_or("face"))
            found.push_back(other);
    }
    return found;
}

// What this one could be laid over: the face's reference first, then as they came.
std::vector<const Record*> references_for(const CaseSnapshot& snapshot, const Record& photograph) {
    std::vector<const Record*> found = companions(snapshot, photograph);
    std::erase_if(found, [](const Record* other) { return !is_placed(*other); });
    const auto is_reference = [&](const Record* other) {
        return std::ranges::any_of(snapshot.of_kind("face_frame"),
                                   [&](const Record* frame) { return frame->body.record("reference") == other->id; });
    };
    std::ranges::stable_partition(found, is_reference);
    if (found.size() > most_references) found.resize(most_references);
    return found;
}

std::vector<Uuid> ids_of(const std::vector<const Record*>& photographs) {
    std::vector<Uuid> ids;
    ids.reserve(photographs.size());
    for (const Record* photograph : photographs) ids.push_back(photograph->id);
    return ids;
}

void offer(std::vector<LayingChoice>& choices, const QString& text, const Uuid& reference,
           const std::vector<const Record*>& moving) {
    if (!moving.empty()) choices.push_back({text, reference, ids_of(moving)});
}

void offer_over_this_one(std::vector<LayingChoice>& choices, const CaseSnapshot& snapshot, const Record& photograph,
                         const std::vector<Uuid>& chosen) {
    const auto all = companions(snapshot, photograph);
    std::vector<const Record*> wanted;
    std::vector<const Record*> unplaced;
    for (const Record* other : all) {
        if (std::ranges::find(chosen, other->id) != chosen.end()) wanted.push_back(other);
        if (!is_placed(*other)) unplaced.push_back(other);
    }
    offer(choices,
          wanted.size() == 1 ? QObject::tr("Lay “%1” over this one").arg(name_of(*wanted.front()))
                             : QObject::tr("Lay the %1 chosen over this one").arg(wanted.size()),
          photograph.id, wanted);
    offer(choices, QObject::tr("Lay all %1 of this face that are not placed over this one").arg(unplaced.size()),
          photograph.id, unplaced);
    if (unplaced.size() != all.size())
        offer(choices, QObject::tr("Lay all %1 others of this face over this one").arg(all.size()), photograph.id, all);
}

}  // namespace

QString name_of(const Record& photograph) {
    if (casebook::is_made_picture(photograph.kind)) return spoken(photograph.body.text_or("what"));
    return spoken(photograph.body.text_or("stage")) + QStringLiteral(", ") + spoken(photograph.body.text_or("light"));
}

std::vector<LayingChoice> laying_choices(const CaseSnapshot& snapshot, const Uuid& shown_id,
                                         const std::vector<Uuid>& chosen) {
    std::vector<LayingChoice> choices;
    const Record* photograph = snapshot.find(shown_id);
    if (photograph == nullptr || photograph->kind != "photograph") return choices;
    if (is_placed(*photograph)) offer_over_this_one(choices, snapshot, *photograph, chosen);
    for (const Record* reference : references_for(snapshot, *photograph)) {
        offer(choices, QObject::tr("Lay this one over “%1”").arg(name_of(*reference)), reference->id, {photograph});
    }
    return choices;
}

Laying::Laying(QObject* parent) : QObject(parent) {
    connect(&work_, &LongWork::progress, this, &Laying::progress);
    connect(&work_, &LongWork::finished, this, &Laying::finished);
}

void Laying::begin(const BookSession::Opened& how, const Uuid& reference, std::vector<Uuid> moving) {
    work_.begin([this, how, reference, moving = std::move(moving)](const Progress& progress) {
        work(how, reference, moving, progress);
    });
}

void Laying::work(const BookSession::Opened& how, const Uuid& reference, const std::vector<Uuid>& moving,
                  const Progress& progress) {
    auto opened = open_for_worker(how);
    const double count = static_cast<double>(moving.size());
    for (std::size_t i = 0; i < moving.size() && !progress.stopped(); ++i) {
        const Uuid id = moving[i];
        const double at = static_cast<double>(i);
        work_.tell([this, i, of = moving.size(), id] { emit begun(static_cast<int>(i), static_cast<int>(of), id); });
        const auto result = opened
                                ? usecases::register_photograph({opened->book, opened->author, *how.clock}, reference,
                                                                id, progress.part(at / count, (at + 1) / count))
                                : Expected<RegisteredPhotograph>(pass_on(opened));
        if (result) {
            work_.tell([this, id, r = *result] { emit laid(id, r); });
        } else if (result.error().code != "cancelled") {
            work_.tell([this, id, e = result.error()] { emit refused(id, e); });
        }
    }
}

}  // namespace tedge::desk
