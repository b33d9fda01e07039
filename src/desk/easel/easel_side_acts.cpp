// What can be done at the easel: turning, comparing, laying over, saying what a photograph shows.
#include <QActionGroup>
#include <QMenu>
#include <algorithm>

#include "easel/easel_content.hpp"
#include "easel/easel_side.hpp"
#include "photographs/rights_dialog.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/casebook/photograph_words.hpp"
#include "tedge/imaging/crack_map.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/epochs.hpp"
#include "tedge/usecases/framing.hpp"
#include "text.hpp"
#include "viewing/viewing_aid_dialog.hpp"

namespace tedge::desk {

using casebook::Record;

namespace {

std::size_t index_of(Face face) {
    return static_cast<std::size_t>(std::ranges::find(all_faces, face) - all_faces.begin());
}

}  // namespace

void EaselSide::show_photograph(const Uuid& photograph) {
    const Record* photo = record(photograph);
    if (photo == nullptr) return;
    if (first_ != photograph) give_up_placing();
    turn_to(casebook::face_seen(*snapshot_, *photo).value_or(Face::recto));
    first_ = photograph;
    end_comparing_unless_possible();
    say(warning_of_shown(), "warning");
    show_all();
}

// Of the picture that was just chosen: how it must not be read, or what framing lacks.
QString EaselSide::warning_of_shown() const {
    const Record* photo = record(first_);
    if (photo == nullptr || photo->body.text_or("what") != "crack-map") return without_earlier();
    return shown(imaging::drawing_sentence(photo->body.number("recipe/drawn_share").value_or(0.0)));
}

// Framing needs nothing beside it: each photograph that is shown brings its own earlier one.
void EaselSide::end_comparing_unless_possible() {
    const Record* photo = record(first_);
    const bool is_framing = easel_->compare() == Compare::framing;
    const bool stays = is_framing ? photo != nullptr && !casebook::is_made_picture(photo->kind)
                                  : why_not_comparable(*snapshot_, first_, second_).isEmpty();
    if (!stays) easel_->set_compare(Compare::none);
}

QString EaselSide::without_earlier() const {
    const Record* photo = record(first_);
    if (easel_->compare() != Compare::framing || photo == nullptr) return {};
    if (usecases::earlier_shot(*snapshot_, *photo) != nullptr) return {};
    return tr("No earlier stage of this face was photographed in this light.");
}

void EaselSide::framing() {
    const Record* photo = record(first_);
    if (photo == nullptr) return;
    if (casebook::is_made_picture(photo->kind))
        return say(tr("This picture was made from photographs: show one of those to repeat its framing."), "warning");
    give_up_placing();
    drawn_.reset();
    easel_->set_compare(easel_->compare() == Compare::framing ? Compare::none : Compare::framing);
    say(without_earlier(), "warning");
    show_all();
}

void EaselSide::set_beside(const Uuid& photograph) {
    second_ = photograph;
    const QString why_not = why_not_comparable(*snapshot_, first_, second_);
    easel_->set_compare(why_not.isEmpty() ? Compare::half_and_half : Compare::none);
    say(why_not, "warning");
    show_all();
}

void EaselSide::show_face(Face face) {
    if (!snapshot_) return;
    give_up_placing();
    say({});
    turn_to(face);
    if (!shows_face(first_)) {
        const Record* photo = usecases::first_photograph(*snapshot_, face);
        first_ = photo != nullptr ? std::optional(photo->id) : std::nullopt;
    }
    end_comparing_unless_possible();
    show_all();
}

// Whoever looks at the back and turns again finds the front as it was left.
void EaselSide::turn_to(Face face) {
    if (face == face_) return;
    chosen_[index_of(face_)] = {first_, second_, easel_->compare() == Compare::half_and_half};
    face_ = face;
    const Chosen& chosen = chosen_[index_of(face)];
    first_ = chosen.first;
    second_ = shows_face(chosen.second) ? chosen.second : std::nullopt;
    if (easel_->compare() == Compare::framing) return;
    easel_->set_compare(chosen.half_and_half ? Compare::half_and_half : Compare::none);
}

// It may have been removed since, or said to show another face.
bool EaselSide::shows_face(const std::optional<Uuid>& photograph) const {
    const Record* photo = record(photograph);
    return photo != nullptr && casebook::face_seen(*snapshot_, *photo) == face_;
}

void EaselSide::turn_over() {
    show_face(face_ == Face::recto ? Face::verso : Face::recto);
}

void EaselSide::half_and_half() {
    if (!snapshot_) return;
    const bool on = easel_->compare() == Compare::half_and_half;
    const QString why_not = on ? QString() : why_not_comparable(*snapshot_, first_, second_);
    say(why_not, "warning");
    if (why_not.isEmpty()) easel_->set_compare(on ? Compare::none : Compare::half_and_half);
    show_all();
}

void EaselSide::show_places(bool are_shown) {
    places_->setChecked(are_shown);
    easel_->show_places(are_shown);
}

void EaselSide::colour_difference() {
    if (!snapshot_) return;
    if (difference_->running()) return say(tr("Another one is being reckoned; cancel it or wait for it."), "warning");
    const QString why_not = why_not_comparable(*snapshot_, first_, second_);
    say(why_not, "warning");
    if (!why_not.isEmpty()) return;
    drawn_.reset();
    easel_->set_compare(Compare::none);
    show_all();
    difference_->begin(*first_, *second_, tr("“%1” and “%2”").arg(name_of(*record(first_)), name_of(*record(second_))));
}

void EaselSide::compare() {
    if (!snapshot_) return;
    std::vector<Uuid> chosen = strip_->chosen();
    if (chosen.size() < 2) chosen = first_ && second_ ? std::vector<Uuid>{*first_, *second_} : std::vector<Uuid>();
    emit comparing_wanted(face_, chosen);
}

void EaselSide::highlight(const Uuid& id) {
    const Record* found = record(id);
    const auto frame = found != nullptr ? found->body.record("face_frame") : std::nullopt;
    const auto on = frame ? casebook::face_of_frame(*snapshot_, *frame) : std::nullopt;
    if (on && *on != face_ && found->body.has("region")) show_face(*on);
    easel_->highlight(id);
}

// --- laying over -----------------------------------------------------------------------------------------------------

void EaselSide::begin_laying(const LayingChoice& choice) {
    if (laying_->running()) return say(tr("Another one is being laid over; cancel it or wait for it."), "warning");
    if (session_.book().read_only()) return say(tr("This casebook is open for reading only."), "warning");
    say({});
    laying_->begin(*snapshot_, choice);
}

void EaselSide::fill_laying_menu(QMenu& menu, const Uuid& photograph) {
    const auto choices = laying_choices(*snapshot_, photograph, strip_->chosen());
    for (const LayingChoice& choice : choices)
        connect(menu.addAction(choice.text), &QAction::triggered, this, [this, choice] { begin_laying(choice); });
    if (!choices.empty()) return;
    menu.addAction(tr("Nothing yet: place one photograph of this face by its corners and take in another"))
        ->setEnabled(false);
}

// --- what a photograph shows -----------------------------------------------------------------------------------------

void EaselSide::carry_out(Expected<usecases::Done> done, const QString& what) {
    if (!done) {
        say(shown(done.error().message + " " + done.error().next), "closed");
        return;
    }
    session_.did(*std::move(done), what);
}

void EaselSide::fill_photograph_menu(QMenu& menu, const Uuid& photograph) {
    const Record* photo = record(photograph);
    if (photo == nullptr) return;
    const auto act = [&](const QString& text, auto what) {
        connect(menu.addAction(text), &QAction::triggered, this, what);
    };
    if (photograph != first_) {
        act(tr("Show it"), [this, photograph] { show_photograph(photograph); });
        act(tr("Set it beside"), [this, photograph] { set_beside(photograph); });
    }
    if (casebook::is_made_picture(photo->kind))
        return act(tr("Open its record"), [this, photograph] { emit record_touched(photograph); });
    act(tr("Show it first of the %1").arg(spoken(photo->body.text_or("face"))), [this, photograph] {
        carry_out(usecases::show_first(session_.acting(), photograph), tr("what is shown first"));
    });
    fill_face_menu(*menu.addMenu(tr("It shows the …")), *photo);
    fill_laying_menu(*menu.addMenu(tr("Lay over")), photograph);
    act(tr("Place by corners"), [this, photograph] {
        show_photograph(photograph);
        begin_placing(false);
    });
    act(tr("Place by corners in another size (cut, or measured again) …"), [this, photograph] {
        show_photograph(photograph);
        begin_placing(true);
    });
    act(tr("It was lined or restretched: record that step …"), [this] { emit structure_step_wanted(); });
    const std::vector<Uuid> several = chosen_with(photograph);
    const auto n = several.size();
    add_beside_it(menu, n > 1 ? tr("A scale is in each of these %1").arg(n) : tr("A scale is in the picture"), several,
                  "has_scale", &usecases::SaidOfPhotographs::has_scale);
    add_beside_it(menu,
                  n > 1 ? tr("A colour chart is in each of these %1").arg(n) : tr("A colour chart is in the picture"),
                  several, "has_chart", &usecases::SaidOfPhotographs::has_chart);
    add_rights_to(menu, several);
    // Before it is bought a telephone's picture is often all there is. A client would take it for what he gets.
    if (!session_.client_looks())
        act(tr("Look through the dirt …"), [this, photograph] { ViewingAidDialog(session_, photograph, this).exec(); });
    act(tr("Open its record"), [this, photograph] { emit record_touched(photograph); });
}

// What was photographed beside the picture, said of all of them: a tick stands where all have it.
void EaselSide::add_beside_it(QMenu& menu, const QString& text, const std::vector<Uuid>& photographs,
                              std::string_view field, std::optional<bool> usecases::SaidOfPhotographs::* what) {
    QAction* act = menu.addAction(text);
    act->setCheckable(true);
    act->setChecked(std::ranges::all_of(photographs, [&](const Uuid& id) { return record(id)->body.flag(field); }));
    connect(act, &QAction::triggered, this, [this, photographs, what, text](bool is_there) {
        usecases::SaidOfPhotographs said;
        said.*what = is_there;
        const auto done = usecases::say_photographs(session_.acting(), photographs, said);
        if (!done) return say(shown(done.error().message + " " + done.error().next), "closed");
        session_.did(*done, text);
    });
}

// It tells a name and is said in writing: not while a client looks, nor in a book that is only read.
void EaselSide::add_rights_to(QMenu& menu, const std::vector<Uuid>& photographs) {
    if (session_.client_looks() || session_.book().read_only()) return;
    const QString text = photographs.size() > 1 ? tr("Photographer and licence of these %1 …").arg(photographs.size())
                                                : tr("Photographer and licence …");
    connect(menu.addAction(text), &QAction::triggered, this,
            [this, photographs] { RightsDialog(session_, *snapshot_, photographs, this).exec(); });
}

// What is said of one of those chosen in the strip is said of all photographs among them.
std::vector<Uuid> EaselSide::chosen_with(const Uuid& photograph) const {
    std::vector<Uuid> chosen = strip_->chosen();
    if (std::ranges::find(chosen, photograph) == chosen.end()) return {photograph};
    std::erase_if(chosen, [this](const Uuid& id) { return casebook::is_made_picture(record(id)->kind); });
    return chosen;
}

void EaselSide::fill_face_menu(QMenu& menu, const Record& photograph) {
    auto* group = new QActionGroup(&menu);
    for (const Face face : all_faces) {
        QAction* made = menu.addAction(spoken(to_text(face)));
        made->setCheckable(true);
        made->setActionGroup(group);
        made->setChecked(photograph.body.text_or("face") == to_text(face));
        if (made->isChecked()) continue;
        connect(made, &QAction::triggered, this, [this, face, id = photograph.id] {
            carry_out(usecases::say_face(session_.acting(), id, face), tr("which face is shown"));
            if (first_ == id) show_photograph(id);
        });
    }
}

}  // namespace tedge::desk
