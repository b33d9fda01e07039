#include "case_view.hpp"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QSplitter>
#include <QStackedWidget>
#include <QVBoxLayout>
#include <algorithm>

#include "client_screen.hpp"
#include "rack/rack_model.hpp"
#include "tedge/base/length.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/usecases/derived.hpp"
#include "tedge/usecases/epochs.hpp"
#include "tedge/usecases/photographs.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

using casebook::Record;
using usecases::Stage;

CaseView::CaseView(BookSession& session, SmallPictures& pictures, Drafts& drafts, QWidget* parent)
    : QWidget(parent), session_(session) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    column->addWidget(make_head());
    auto* sides = new QSplitter(Qt::Horizontal, this);
    strip_ = new FilmStrip(pictures, this);
    sides->addWidget(make_easel_side());
    stack_ = new QStackedWidget(sides);
    stack_->setMinimumWidth(300);
    make_sheets(drafts);
    sides->addWidget(stack_);
    sides->setStretchFactor(0, 5);
    sides->setStretchFactor(1, 3);
    sides->setSizes({720, 420});
    column->addWidget(sides, 1);
    connect(&session_, &BookSession::changed, this, &CaseView::read_again);
    connect(&session_, &BookSession::client_looks_changed, this, &CaseView::read_again);
    connect(&pictures, &SmallPictures::arrived, this, [this](const Uuid& id) {
        // Its pyramid is there now.
        if (first_ == id || second_ == id) show_easel();
    });
}

QWidget* CaseView::make_head() {
    auto* head = new QWidget(this);
    auto* rows = new QVBoxLayout(head);
    auto* top = new QHBoxLayout;
    title_ = new QLabel(head);
    title_->setFont(heading_font());
    client_ = new QPushButton(tr("Client in the room"), head);
    client_->setCheckable(true);
    client_->setToolTip(tr("F9 hides all money, names and private notes"));
    connect(client_, &QPushButton::toggled, &session_, &BookSession::set_client_looks);
    connect(&session_, &BookSession::client_looks_changed, client_, &QPushButton::setChecked);
    top->addWidget(title_, 1);
    top->addWidget(client_);
    whereabouts_ = new QLabel(head);
    whereabouts_->setProperty("role", "faded");
    tacks_ = new TackRow(head);
    connect(tacks_, &TackRow::chosen, this, &CaseView::show_sheet);
    rows->addLayout(top);
    rows->addWidget(whereabouts_);
    rows->addWidget(tacks_);
    return head;
}

QWidget* CaseView::make_easel_side() {
    auto* side = new QWidget(this);
    auto* column = new QVBoxLayout(side);
    column->setContentsMargins(8, 0, 8, 8);
    auto* tools = new QHBoxLayout;
    const auto tool = [&](const QString& text, const QString& tip, auto act) {
        auto* made = new QPushButton(text, side);
        made->setToolTip(tip);
        connect(made, &QPushButton::clicked, this, act);
        tools->addWidget(made);
        return made;
    };
    easel_ = new Easel(side);
    tool(tr("&Turn to the back"), tr("V"), [this] { turn_face(); });
    tool(tr("&Half and half"), tr("H; Ctrl+click a second photograph first"), [this] {
        easel_->set_compare(easel_->compare() == Compare::half_and_half ? Compare::none : Compare::half_and_half);
    });
    tool(tr("&Whole picture"), tr("0"), [this] { easel_->fit(); });
    place_ = tool(tr("&Place by corners"), tr("Pick the four corners of the painted face, from the top left clockwise"),
                  [this] { easel_->set_tool(Tool::corners); });
    tools->addStretch(1);
    column->addLayout(tools);
    column->addWidget(easel_, 1);
    pointer_ = new QLabel(side);
    pointer_->setAlignment(Qt::AlignCenter);
    column->addWidget(pointer_);
    column->addWidget(strip_);
    connect(easel_, &Easel::pointer_at, pointer_, &QLabel::setText);
    connect(easel_, &Easel::record_touched, this, &CaseView::open_record);
    connect(easel_, &Easel::corners_picked, this, &CaseView::place_by_corners);
    connect(easel_, &Easel::region_drawn, this, [this](const Region& region) {
        const Record* frame = snapshot_ ? usecases::frame_to_show(*snapshot_, face_, first_) : nullptr;
        if (frame != nullptr) sheet(tacks_->selected()).form().set_place(frame->id, region);
    });
    connect(strip_, &FilmStrip::shown_one, this, &CaseView::show_photograph);
    connect(strip_, &FilmStrip::set_beside, this, &CaseView::set_beside);
    return side;
}

void CaseView::make_sheets(Drafts& drafts) {
    for (const Stage stage : usecases::all_stages) {
        auto* made = new RecordSheet(stage, session_, drafts, stack_);
        sheets_[static_cast<std::size_t>(stage)] = made;
        stack_->addWidget(made);
        connect(made, &RecordSheet::record_chosen, this, [this](const Uuid& id) { easel_->highlight(id); });
        connect(made, &RecordSheet::place_wanted, this, &CaseView::draw_place);
        connect(made, &RecordSheet::sheet_wanted, this, &CaseView::show_sheet);
    }
    intake_ = new IntakePanel(session_, this);
    ceiling_ = new CeilingPanel(session_, this);
    dossier_ = new DossierPanel(session_, this);
    sheet(Stage::photographs).add_panel(intake_);
    sheet(Stage::ceiling).add_panel(ceiling_);
    sheet(Stage::dossier).add_panel(dossier_);
}

void CaseView::show_case(const Uuid& case_id) {
    const bool same = snapshot_ && snapshot_->picture.id == case_id;
    auto snapshot = session_.book().snapshot(case_id);
    if (!snapshot) {
        emit session_.refused(snapshot.error());
        return;
    }
    snapshot_ = *std::move(snapshot);
    if (!same) {
        face_ = Face::recto;
        second_.reset();
        first_ = usecases::card_of(*snapshot_).picture;
        tacks_->select(usecases::stage_marks(*snapshot_).now);
    }
    show_head();
    strip_->show_photographs(snapshot_->of_kind("photograph"));
    for (RecordSheet* each : sheets_) each->show_case(*snapshot_);
    intake_->show_case(case_id);
    ceiling_->show_case(*snapshot_);
    dossier_->show_case(case_id);
    stack_->setCurrentWidget(&sheet(tacks_->selected()));
    show_easel();
}

void CaseView::read_again() {
    if (snapshot_) show_case(snapshot_->picture.id);
}

void CaseView::show_head() {
    const usecases::CaseCard card = usecases::card_of(*snapshot_);
    title_->setText(shown(card.title));
    QStringList parts;
    if (card.size) parts << shown(format_size_height_first(card.size->height_mm, card.size->width_mm));
    if (!card.place.empty()) parts << shown(card.place);
    if (!session_.client_looks() && !card.holder.empty()) parts << tr("held by %1").arg(shown(card.holder));
    if (!session_.client_looks() && !card.insured_by.empty()) parts << tr("insured by %1").arg(shown(card.insured_by));
    whereabouts_->setText(parts.join(QStringLiteral(" · ")));
    tacks_->show_marks(card.stages, closed_stages(*snapshot_));
}

void CaseView::show_sheet(Stage stage) {
    tacks_->select(stage);
    stack_->setCurrentWidget(&sheet(stage));
}

void CaseView::begin_new_record() {
    sheet(tacks_->selected()).begin_new();
}

void CaseView::add_photographs(const std::vector<std::filesystem::path>& files) {
    show_sheet(Stage::photographs);
    intake_->add_files(files);
}

std::optional<ShownPhotograph> CaseView::shown_photograph(const std::optional<Uuid>& id) {
    const Record* record = id && snapshot_ ? snapshot_->find(*id) : nullptr;
    if (record == nullptr) return std::nullopt;
    ShownPhotograph photo;
    photo.id = *id;
    photo.pyramid = usecases::pyramid_path(session_.book().folder(), record->body.text_or("sha256"));
    if (const Record* frame = usecases::frame_to_show(*snapshot_, face_, first_)) {
        photo.placement = casebook::placement_on_frame(*snapshot_, *record, frame->id);
    }
    photo.size = {static_cast<int>(record->body.integer("width_px").value_or(0)),
                  static_cast<int>(record->body.integer("height_px").value_or(0))};
    photo.label = shown(record->body.text_or("stage") + ", " + record->body.text_or("light"));
    return photo;
}

void CaseView::show_easel() {
    const Record* frame = usecases::frame_to_show(*snapshot_, face_, first_);
    easel_->show_face(frame != nullptr ? SizeMm{frame->body.number("width_mm").value_or(0),
                                                frame->body.number("height_mm").value_or(0)}
                                       : SizeMm{});
    easel_->show_photographs(shown_photograph(first_), shown_photograph(second_));
    place_->setEnabled(first_.has_value());
    show_overlays();
}

void CaseView::show_overlays() {
    std::vector<Overlay> overlays;
    const Record* frame = usecases::frame_to_show(*snapshot_, face_, first_);
    int number = 0;
    for (const Record& record : snapshot_->records) {
        const auto region = frame ? casebook::place_on_frame(*snapshot_, record, frame->id) : std::nullopt;
        if (!region) continue;
        OverlayStyle style = OverlayStyle::treatment;
        if (record.kind == "finding")
            style = record.body.flag("unstable") ? OverlayStyle::unstable : OverlayStyle::finding;
        if (record.kind == "trial") style = OverlayStyle::trial;
        if (record.kind == "facing") style = OverlayStyle::facing;
        if (record.kind == "inscription") style = OverlayStyle::inscription;
        overlays.push_back({record.id, *region, style, QString::number(++number)});
    }
    easel_->show_overlays(std::move(overlays));
}

void CaseView::show_photograph(const Uuid& photograph) {
    const Record* record = snapshot_ ? snapshot_->find(photograph) : nullptr;
    if (record == nullptr) return;
    first_ = photograph;
    face_ = parse_face(record->body.text_or("face")).value_or(Face::recto);
    show_easel();
}

void CaseView::set_beside(const Uuid& photograph) {
    second_ = photograph;
    easel_->set_compare(Compare::half_and_half);
    show_easel();
}

void CaseView::turn_face() {
    if (!snapshot_) return;
    face_ = face_ == Face::recto ? Face::verso : Face::recto;
    first_.reset();
    second_.reset();
    for (const Record* photo : snapshot_->of_kind("photograph")) {
        const bool plain_light = photo->body.text_or("light") == "normal";
        if (photo->body.text_or("face") == to_text(face_) && (!first_ || plain_light)) first_ = photo->id;
    }
    show_easel();
}

void CaseView::place_by_corners(const std::array<PointPx, 4>& corners) {
    if (!first_) return;
    const auto placed = usecases::place_by_corners(session_.acting(), *first_, corners);
    if (!placed) {
        emit session_.refused(placed.error());
        return;
    }
    emit session_.changed();
}

void CaseView::open_record(const Uuid& record) {
    const Record* found = snapshot_ ? snapshot_->find(record) : nullptr;
    if (found == nullptr) return;
    for (const Stage stage : usecases::all_stages) {
        if (!sheet(stage).holds(found->kind)) continue;
        show_sheet(stage);
        sheet(stage).open_record(record);
    }
    easel_->highlight(record);
}

void CaseView::draw_place() {
    if (usecases::frame_to_show(*snapshot_, face_, first_) == nullptr) {
        pointer_->setText(tr("This face has no size in millimetres yet: place a photograph by its corners first."));
        return;
    }
    easel_->set_tool(Tool::polygon);
    pointer_->setText(tr("Click the corners; Enter closes, Backspace takes one back, Esc gives up."));
}

}  // namespace tedge::desk
