#include "easel/easel_side.hpp"

#include <QAbstractItemView>
#include <QComboBox>
#include <QLabel>
#include <QMenu>
#include <QStyle>
#include <QToolBar>
#include <QToolButton>
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

namespace tedge::desk {

using casebook::Record;

namespace {

constexpr int low_below_px = 560;
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
    pointer_->setMinimumHeight(pointer_->fontMetrics().height());
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

void EaselSide::make_tools() {
    tools_->setToolButtonStyle(Qt::ToolButtonTextOnly);
    for (const Face face : all_faces) faces_->addItem(spoken(to_text(face)));
    faces_->setAccessibleName(tr("Face of the picture"));
    faces_->setToolTip(tr("The face on the easel"));
    tools_->addWidget(faces_);
    // The first are in sight on the narrowest easel; the last ones have a key or stand in a menu as well.
    add_tool(tr("Turn over"), tr("To the back and to the front again (V)"), [this] { turn_over(); });
    half_ = add_tool(tr("Half and half"), tr("With the photograph set beside (H; T held turns over)"),
                     [this] { half_and_half(); });
    half_->setCheckable(true);
    add_tool(tr("Compare"), tr("Two to four photographs: what changed, is this crack new, what lies behind (C)"),
             [this] { compare(); });
    add_tool(tr("Difference"), tr("How much the colour changed between the two on the easel, ΔE00 (D)"),
             [this] { colour_difference(); });
    places_ = add_tool(tr("Places"), tr("Outlines and numbers of what is recorded, shown or hidden (P)"),
                       [this] { show_places(places_->isChecked()); });
    places_->setCheckable(true);
    places_->setChecked(true);
    framing_ =
        add_tool(tr("Framing"), tr("The photograph of the set before, same face and light, faintly over this one (F)"),
                 [this] { framing(); });
    framing_->setCheckable(true);
    laying_menu_ = add_menu_tool(tr("Lay over"), tr("Lay photographs over one that is placed"));
    photograph_menu_ = add_menu_tool(tr("T&his photograph"), tr("What it shows, whether it comes first, its record"));
    place_action_ = add_tool(tr("Place by corners"),
                             tr("Pick the four corners of this face in the photograph, from the top left clockwise"),
                             [this] { begin_placing(false); });
    add_tool(tr("Whole"), tr("The whole picture (0)"), [this] { easel_->fit(); });
    make_rest_reachable();
}

// What has no room waits behind a button, which takes the focus like the others: Space opens it.
void EaselSide::make_rest_reachable() {
    auto* rest = tools_->findChild<QToolButton*>(QStringLiteral("qt_toolbar_ext_button"));
    if (rest == nullptr) return;
    rest->setFocusPolicy(Qt::TabFocus);
    rest->setAccessibleName(tr("More tools"));
    rest->setToolTip(tr("More tools"));
    setTabOrder(tools_->widgetForAction(tools_->actions().constLast()), rest);
}

QAction* EaselSide::add_tool(const QString& text, const QString& tip, std::function<void()> act) {
    QAction* made = tools_->addAction(text);
    made->setToolTip(tip);
    connect(made, &QAction::triggered, this, [act = std::move(act)] { act(); });
    tools_->widgetForAction(made)->setFocusPolicy(Qt::TabFocus);
    return made;
}

QMenu* EaselSide::add_menu_tool(const QString& text, const QString& tip) {
    auto* menu = new QMenu(text, this);
    QAction* made = tools_->addAction(text);
    made->setToolTip(tip);
    made->setMenu(menu);
    auto* button = qobject_cast<QToolButton*>(tools_->widgetForAction(made));
    button->setPopupMode(QToolButton::InstantPopup);
    button->setFocusPolicy(Qt::TabFocus);
    return menu;
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
    note_->setText(text);
    note_->setProperty("role", role);
    note_->style()->unpolish(note_);
    note_->style()->polish(note_);
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
}

}  // namespace tedge::desk
