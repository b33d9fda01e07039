#include "easel/easel_side.hpp"

#include <QAbstractItemView>
#include <QComboBox>
#include <QLabel>
#include <QMenu>
#include <QToolBar>
#include <QVBoxLayout>
#include <algorithm>
#include <iterator>

#include "easel/easel_content.hpp"
#include "easel/placing_row.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/epochs.hpp"
#include "tedge/usecases/framing.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

using casebook::Record;

namespace {

constexpr int low_below_px = 560;
constexpr int narrow_below_px = 520;
constexpr int around_face_px = 38;  // the arrow and the rim

}  // namespace

EaselSide::EaselSide(BookSession& session, SmallPictures& pictures, QWidget* parent)
    : QWidget(parent),
      session_(session),
      tools_(new QToolBar(this)),
      faces_(new QComboBox(this)),
      easel_(new Easel(this)),
      placing_(new PlacingRow(this)),
      note_(new QLabel(this)),
      pointer_(new QLabel(this)),
      strip_(new FilmStrip(pictures, this)),
      laying_(new LayingBar(session, this)),
      difference_(new DifferenceBar(session, this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(8, 0, 8, 6);
    column->setSpacing(3);
    make_tools();
    note_->setWordWrap(true);
    note_->hide();
    pointer_->setAlignment(Qt::AlignCenter);
    // Its text comes and goes with the pointer and must not move the picture.
    pointer_->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Fixed);
    pointer_->setFixedHeight(pointer_->fontMetrics().height() + 2);
    column->addWidget(tools_);
    column->addWidget(placing_);
    column->addWidget(note_);
    column->addWidget(easel_, 1);
    column->addWidget(pointer_);
    column->addWidget(laying_);
    column->addWidget(difference_);
    column->addWidget(strip_);
    connect_all(pictures);
}

void EaselSide::connect_all(SmallPictures& pictures) {
    connect(faces_, &QComboBox::activated, this,
            [this](int index) { show_face(all_faces.at(static_cast<std::size_t>(index))); });
    connect(laying_menu_, &QMenu::aboutToShow, this, [this] {
        laying_menu_->clear();
        if (first_) fill_laying_menu(*laying_menu_, *first_);
    });
    connect(photograph_menu_, &QMenu::aboutToShow, this, [this] {
        photograph_menu_->clear();
        if (first_) fill_photograph_menu(*photograph_menu_, *first_);
    });
    connect(easel_, &Easel::pointer_at, pointer_, &QLabel::setText);
    connect(easel_, &Easel::record_touched, this, &EaselSide::record_touched);
    connect(easel_, &Easel::corners_picked, this, &EaselSide::corners_picked);
    connect(easel_, &Easel::pixels_picked, this, &EaselSide::tell_pointed);
    connect(easel_, &Easel::corner_count, placing_, &PlacingRow::show_count);
    connect(easel_, &Easel::turn_wanted, this, &EaselSide::turn_over);
    connect(easel_, &Easel::half_wanted, this, &EaselSide::half_and_half);
    connect(easel_, &Easel::difference_wanted, this, &EaselSide::colour_difference);
    connect(easel_, &Easel::comparing_wanted, this, &EaselSide::compare);
    connect(easel_, &Easel::framing_wanted, this, &EaselSide::framing);
    connect(easel_, &Easel::places_wanted, this, [this] { show_places(!easel_->shows_places()); });
    connect(easel_, &Easel::drawing_given_up, this, &EaselSide::give_up_placing);
    connect(easel_, &Easel::region_drawn, this, [this](const Region& region) {
        const Record* frame = snapshot_ ? usecases::frame_to_show(*snapshot_, face_, first_) : nullptr;
        say({});
        if (frame != nullptr) emit place_drawn(frame->id, region);
    });
    connect(placing_, &PlacingRow::ready, this, &EaselSide::place);
    connect(placing_, &PlacingRow::given_up, this, &EaselSide::give_up_placing);
    strip_->pass_keys_to(easel_);
    connect(strip_, &FilmStrip::shown_one, this, &EaselSide::show_photograph);
    connect(strip_, &FilmStrip::set_beside, this, &EaselSide::set_beside);
    connect(strip_, &FilmStrip::chosen_changed, this, &EaselSide::tell_chosen);
    connect(strip_, &FilmStrip::menu_wanted, this, [this](const Uuid& id, const QPoint& at) {
        QMenu menu(this);
        fill_photograph_menu(menu, id);
        menu.exec(at);
    });
    connect(laying_, &LayingBar::laid_over, this, [this](const Uuid& reference, const Uuid& photograph) {
        show_photograph(reference);
        set_beside(photograph);
    });
    connect(difference_, &DifferenceBar::drawn, this, [this](const DrawnDifference& difference) {
        if (first_ != difference.reference) return;  // another was chosen meanwhile
        drawn_ = difference;
        show_all();
    });
    connect(difference_, &DifferenceBar::closed, this, [this] {
        drawn_.reset();
        show_all();
    });
    connect(&pictures, &SmallPictures::arrived, this, [this](const Uuid& id) {
        if (first_ == id || second_ == id) show_all();  // its pyramid is there now
    });
}

const Record* EaselSide::record(const std::optional<Uuid>& id) const {
    return id && snapshot_ ? snapshot_->find(*id) : nullptr;
}

QString EaselSide::note() const {
    return note_->isHidden() ? QString() : note_->text();
}

void EaselSide::say(const QString& text, const char* role) {
    say_in(*note_, text, role);
    note_->setVisible(!text.isEmpty());
}

void EaselSide::show_case(const casebook::CaseSnapshot& snapshot) {
    const bool other = !snapshot_ || snapshot_->picture.id != snapshot.picture.id;
    snapshot_ = snapshot;
    if (other) {
        give_up_placing();
        say({});
        chosen_ = {};
        second_.reset();
        first_ = usecases::card_of(snapshot).picture;
        const Record* photo = record(first_);
        face_ = photo != nullptr ? casebook::face_seen(snapshot, *photo).value_or(Face::recto) : Face::recto;
        easel_->set_compare(Compare::none);
    }
    const auto pictures = pictures_of(snapshot, session_.client_looks());
    const auto is_here = [&](const std::optional<Uuid>& id) {
        return id && std::ranges::find(pictures, *id, &Record::id) != pictures.end();
    };
    if (!is_here(first_)) first_.reset();
    if (!is_here(second_)) second_.reset();
    if (!first_) {
        if (const Record* photo = usecases::first_photograph(snapshot, face_)) first_ = photo->id;
    }
    strip_->show_photographs(pictures);
    difference_->show_case(snapshot);
    show_all();
}

void EaselSide::show_faces() {
    for (std::size_t i = 0; i < all_faces.size(); ++i) {
        const auto count = std::ranges::count_if(snapshot_->of_kind("photograph"), [&](const Record* photo) {
            return photo->body.text_or("face") == to_text(all_faces[i]);
        });
        faces_->setItemText(static_cast<int>(i), tr("%1 · %2").arg(spoken(to_text(all_faces[i]))).arg(count));
        if (all_faces[i] == face_) faces_->setCurrentIndex(static_cast<int>(i));
    }
    // As wide as the one that is shown, not as the longest name of an edge: the tools beside it need the room.
    faces_->setFixedWidth(faces_->fontMetrics().horizontalAdvance(faces_->currentText()) + around_face_px);
    faces_->view()->setMinimumWidth(faces_->view()->sizeHintForColumn(0) + around_face_px);
}

void EaselSide::show_all() {
    if (!snapshot_) return;
    const Record* frame = usecases::frame_to_show(*snapshot_, face_, first_);
    easel_->show_face(frame != nullptr ? casebook::size_of_frame(*frame) : SizeMm{});
    show_pictures(frame);
    show_overlays(frame);
    half_->setChecked(easel_->compare() == Compare::half_and_half);
    framing_->setChecked(easel_->compare() == Compare::framing);
    place_action_->setEnabled(record(first_) != nullptr && record(first_)->kind == "photograph");
    strip_->mark(first_, second_);
    show_faces();
    tell_chosen();
}

void EaselSide::tell_chosen() {
    std::vector<Uuid> chosen = strip_->chosen();
    const auto is_photograph = [this](const Uuid& id) {
        return record(id) != nullptr && record(id)->kind == "photograph";
    };
    std::erase_if(chosen, [&](const Uuid& id) { return !is_photograph(id); });
    if (chosen.size() < 2 && first_ && is_photograph(*first_)) chosen = {*first_};
    if (chosen == told_chosen_) return;
    told_chosen_ = chosen;
    emit chosen_changed(chosen);
}

void EaselSide::show_pictures(const Record* frame) {
    const Record* first = record(first_);
    const auto folder = session_.book().folder();
    const bool together = why_not_comparable(*snapshot_, first_, second_).isEmpty();
    std::optional<ShownPhotograph> shown_first;
    std::optional<ShownPhotograph> shown_second;
    if (first != nullptr) shown_first = shown_photograph(folder, *snapshot_, *first, frame);
    if (easel_->compare() == Compare::framing && first != nullptr) {
        const Record* earlier = usecases::earlier_shot(*snapshot_, *first);
        if (earlier != nullptr) shown_second = shown_photograph(folder, *snapshot_, *earlier, frame);
    } else if (together)
        shown_second = shown_photograph(folder, *snapshot_, *record(second_), frame);
    if (drawn_ && (first_ != drawn_->reference || second_ != drawn_->second)) {
        drawn_.reset();
        if (!difference_->running()) difference_->hide();  // its figures are of no picture in sight
    }
    if (drawn_ && shown_first) {
        shown_first->pyramid = drawn_->pyramid;
        shown_first->placement = drawn_->placement;
        shown_first->size = drawn_->size;
        shown_first->label = tr("colour difference");
    }
    easel_->show_photographs(std::move(shown_first), std::move(shown_second));
}

void EaselSide::show_overlays(const Record* frame) {
    std::vector<Overlay> overlays = frame != nullptr ? overlays_on(*snapshot_, *frame) : std::vector<Overlay>();
    if (frame != nullptr) std::ranges::move(pending_on(*snapshot_, pending_, *frame), std::back_inserter(overlays));
    easel_->show_overlays(std::move(overlays));
}

void EaselSide::show_pending(std::vector<DrawnPlace> places) {
    pending_ = std::move(places);
    if (snapshot_) show_overlays(usecases::frame_to_show(*snapshot_, face_, first_));
}

void EaselSide::resizeEvent(QResizeEvent* /*event*/) {
    strip_->set_low(height() < low_below_px);
    name_tools(width() < narrow_below_px);
}

}  // namespace tedge::desk
