#include "tedge/usecases/cases.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>
#include <tuple>

#include "tedge/base/text.hpp"
#include "tedge/casebook/photograph_words.hpp"
#include "tedge/geometry/homography.hpp"

namespace tedge::usecases {

using casebook::CaseSnapshot;
using casebook::Edit;
using casebook::Record;

namespace {

Edit new_record(const Uuid& case_id, std::string_view kind, casebook::FieldValues values) {
    Edit edit;
    edit.case_id = case_id;
    edit.kind = kind;
    edit.values = std::move(values);
    return edit;
}

std::string person_name(const CaseSnapshot& snapshot, const std::optional<Uuid>& id) {
    const Record* person = id ? snapshot.find(*id) : nullptr;
    return person != nullptr ? person->body.text_or("name") : std::string();
}

// Where it was last taken to; an entry that has ended counts only when nothing else is known.
const Record* current_custody(const CaseSnapshot& snapshot) {
    const Record* current = nullptr;
    const auto rank = [](const Record& r) { return std::pair(!r.body.has("to"), r.body.text_or("from")); };
    for (const Record* entry : snapshot.of_kind("custody")) {
        if (current == nullptr || rank(*entry) >= rank(*current)) current = entry;
    }
    return current;
}

const Record* next_deadline(const CaseSnapshot& snapshot) {
    const Record* next = nullptr;
    for (const Record* deadline : snapshot.of_kind("deadline")) {
        if (deadline->body.has("done_on")) continue;
        if (next == nullptr || deadline->body.text_or("on") < next->body.text_or("on")) next = deadline;
    }
    return next;
}

// The area of the photograph on its face; nothing where it is not placed. What another program wrote is read with care.
std::optional<double> area_placed_mm2(const Record& photograph) {
    const auto width = photograph.body.integer("width_px");
    const auto height = photograph.body.integer("height_px");
    const auto placement = photograph.body.placement("face_from_photo");
    if (!width || !height || !placement) return std::nullopt;
    const Homography& face_from_photo = placement->face_from_photo;  // the plane is enough to tell a detail
    double twice = 0.0;
    const double w = static_cast<double>(*width);
    const double h = static_cast<double>(*height);
    const std::array<std::array<double, 2>, 4> corners{{{0, 0}, {w, 0}, {w, h}, {0, h}}};
    for (std::size_t i = 0; i < 4; ++i) {
        const auto a = face_from_photo.apply(corners[i][0], corners[i][1]);
        const auto b = face_from_photo.apply(corners[(i + 1) % 4][0], corners[(i + 1) % 4][1]);
        twice += a[0] * b[1] - b[0] * a[1];
    }
    return std::abs(twice) / 2;
}

// Of the frame it is placed on: an edge is a face of its own. Without one, the picture's for its two large faces, and 0
// where nobody measured.
double area_of_face_mm2(const Record& photograph, const CaseSnapshot& snapshot) {
    const auto frame_id = photograph.body.record("face_frame");
    const Record* frame = frame_id ? snapshot.find(*frame_id) : nullptr;
    const auto face = parse_face(photograph.body.text_or("face"));
    const bool is_large = face && (*face == Face::recto || *face == Face::verso);
    if (frame == nullptr && !is_large) return 0.0;
    const casebook::Body& sized = frame != nullptr ? frame->body : snapshot.picture.body;
    return sized.number("width_mm").value_or(0) * sized.number("height_mm").value_or(0);
}

enum class Sight { chart_alone, detail, whole };

// How much of the face a photograph seems to show. What is not placed is taken for the whole, unless a chart lies in
// it.
Sight sight_of(const Record& photograph, const CaseSnapshot& snapshot) {
    constexpr double whole_from_share = 0.7;  // a little is cut off by a frame or by a hand at the camera
    const auto area = area_placed_mm2(photograph);
    if (!area) return photograph.body.flag("has_chart") ? Sight::chart_alone : Sight::whole;
    return *area < whole_from_share * area_of_face_mm2(photograph, snapshot) ? Sight::detail : Sight::whole;
}

}  // namespace

Expected<Uuid> open_case(const Acting& acting, const NewCase& wanted) {
    if (trimmed(wanted.title).empty()) {
        return fail("case.no-title", "A picture needs a title to be found by.", "Say what it shows, in a few words.");
    }
    casebook::FieldValues values;
    values.text("title", trimmed(wanted.title));
    if (!trimmed(wanted.artist).empty()) values.text("artist", trimmed(wanted.artist));
    if (wanted.size) {
        FaceFrame frame;
        frame.size = *wanted.size;
        if (auto checked = frame.check(); !checked) return pass_on(checked);
        values.number("width_mm", wanted.size->width_mm).number("height_mm", wanted.size->height_mm);
    }
    return acting.book.in_one_act([&]() -> Expected<Uuid> {
        const auto made = acting.book.commit(acting.author, {new_record(Uuid{}, "case", values)});
        if (!made) return pass_on(made);
        if (!wanted.size) return made->front();
        casebook::FieldValues frame;
        frame.text("face", "recto")
            .number("width_mm", wanted.size->width_mm)
            .number("height_mm", wanted.size->height_mm);
        const auto framed = acting.book.commit(acting.author, {new_record(made->front(), "face_frame", frame)});
        if (!framed) return pass_on(framed);
        return made->front();
    });
}

CaseCard card_of(const CaseSnapshot& snapshot) {
    CaseCard card;
    const casebook::Body& picture = snapshot.picture.body;
    card.id = snapshot.picture.id;
    card.title = picture.text_or("title");
    card.artist = picture.text_or("artist");
    if (picture.number("width_mm") && picture.number("height_mm")) {
        card.size = SizeMm{*picture.number("width_mm"), *picture.number("height_mm")};
    }
    card.stages = stage_marks(snapshot);
    if (const Record* custody = current_custody(snapshot)) {
        card.place = custody->body.text_or("place");
        card.holder = person_name(snapshot, custody->body.record("holder"));
        card.insured_by = custody->body.text_or("insured_by");
    }
    if (const Record* deadline = next_deadline(snapshot)) {
        card.next_deadline_on = deadline->body.text_or("on");
        card.next_deadline_what = deadline->body.text_or("what");
    }
    for (const Face face : all_faces) {
        const Record* photo = card.picture ? nullptr : first_photograph(snapshot, face);
        if (photo != nullptr) card.picture = photo->id;
    }
    return card;
}

casebook::KindsWanted kinds_on_cards() {
    casebook::KindsWanted kinds = kinds_of_stages();
    for (const char* kind : {"custody", "deadline", "photograph", "face_frame"}) kinds.all_of.emplace_back(kind);
    return kinds;
}

Expected<std::vector<CaseCard>> cards(casebook::Casebook& book) {
    const auto snapshots = book.snapshots(kinds_on_cards());
    if (!snapshots) return pass_on(snapshots);
    std::vector<CaseCard> cards;
    for (const CaseSnapshot& snapshot : *snapshots) cards.push_back(card_of(snapshot));
    return cards;
}

Expected<Uuid> find_case(casebook::Casebook& book, std::string_view reference) {
    const auto cases = book.cases();
    if (!cases) return pass_on(cases);
    std::vector<const Record*> found;
    for (const Record& record : *cases) {
        const bool by_id = reference.size() >= 8 && to_text(record.id).starts_with(lowered_ascii(reference));
        if (by_id || record.body.text_or("title") == reference) found.push_back(&record);
    }
    if (found.size() == 1) return found.front()->id;
    if (found.empty()) {
        return fail("case.unknown", fmt::format("There is no case \"{}\" in this casebook.", reference),
                    "List the cases and copy an id.", {{"reference", std::string(reference)}});
    }
    return fail("case.ambiguous", fmt::format("{} cases go by \"{}\".", found.size(), reference),
                "Use the id of the one you mean.", {{"reference", std::string(reference)}});
}

bool shows_whole_face(const CaseSnapshot& snapshot, const Record& photograph) {
    return photograph.body.has("face_from_photo") && sight_of(photograph, snapshot) == Sight::whole;
}

const Record* first_photograph(const CaseSnapshot& snapshot, Face face) {
    const auto rank = [&](const Record& r) {
        return std::tuple(r.body.integer("shown_first").value_or(0), sight_of(r, snapshot),
                          r.body.text_or("light") == "normal", casebook::stage_rank(r.body.text_or("stage")));
    };
    // Each is ranked once: a rack asks this of every photograph of a thousand pictures.
    const Record* best = nullptr;
    std::optional<decltype(rank(snapshot.picture))> best_rank;
    for (const Record* photo : snapshot.of_kind("photograph")) {
        if (photo->body.text_or("face") != to_text(face)) continue;
        const auto own_rank = rank(*photo);
        if (best_rank && own_rank < *best_rank) continue;
        best = photo;
        best_rank = own_rank;
    }
    return best;
}

}  // namespace tedge::usecases
