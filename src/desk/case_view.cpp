#include "case_view.hpp"

#include <QSplitter>
#include <QStackedWidget>
#include <QVBoxLayout>

#include "compare/compare_view.hpp"
#include "saleday/sale_acts.hpp"
#include "settling/settling_dialog.hpp"
#include "sheets/dossier_pages.hpp"
#include "tedge/casebook/photograph_words.hpp"

namespace tedge::desk {

using usecases::Stage;

CaseView::CaseView(BookSession& session, SmallPictures& pictures, Drafts& drafts, QWidget* parent)
    : QWidget(parent),
      session_(session),
      drafts_(drafts),
      head_(new CaseHead(session, this)),
      picture_side_(new QStackedWidget(this)),
      easel_side_(new EaselSide(session, pictures, this)),
      pages_(new DossierPages(this)),
      compare_(new CompareView(session, pictures, this)),
      whole_(new QStackedWidget(this)),
      sides_(new QSplitter(Qt::Horizontal, this)),
      sheets_(new CaseSheets(session, drafts, this)),
      sale_acts_(new SaleActs(session, this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    column->addWidget(head_);
    picture_side_->addWidget(easel_side_);
    picture_side_->addWidget(pages_);
    sides_->setChildrenCollapsible(false);
    sides_->addWidget(picture_side_);
    sides_->addWidget(sheets_);
    sides_->setStretchFactor(0, 5);
    sides_->setStretchFactor(1, 3);
    sides_->setSizes({720, 420});
    whole_->addWidget(sides_);
    whole_->addWidget(compare_);
    column->addWidget(whole_, 1);
    connect_all();
}

void CaseView::connect_all() {
    connect(&session_, &BookSession::changed, this, &CaseView::read_again);
    connect(&session_, &BookSession::client_looks_changed, this, &CaseView::read_again);
    connect(head_, &CaseHead::settling_wanted, this, &CaseView::settle);
    connect(&head_->tacks(), &TackRow::chosen, this, &CaseView::show_sheet);
    connect(head_, &CaseHead::facts_wanted, this, [this] {
        if (!snapshot_) return;
        show_sheet(Stage::lot);
        sheets_->sheet(Stage::lot).open_record(snapshot_->picture.id);
    });
    head_->set_sale_menu(sale_acts_->make_menu(head_));
    connect(sheets_, &CaseSheets::sale_act_wanted, sale_acts_, &SaleActs::begin);
    connect(sale_acts_, &SaleActs::record_wanted, this, &CaseView::open_record_of);
    connect(easel_side_, &EaselSide::record_touched, this, [this](const Uuid& record) { open_record(record); });
    connect(easel_side_, &EaselSide::place_drawn, this, [this](const Uuid& frame, const Region& region) {
        sheets_->sheet(head_->tacks().selected()).form().set_place(frame, region);
    });
    connect(easel_side_, &EaselSide::comparing_wanted, this, &CaseView::compare);
    connect(compare_, &CompareView::closed, this, &CaseView::stop_comparing);
    connect(compare_, &CompareView::difference_wanted, this, [this](const Uuid& first, const Uuid& second) {
        stop_comparing();
        easel_side_->show_photograph(first);
        easel_side_->set_beside(second);
        easel_side_->colour_difference();
    });
    connect(easel_side_, &EaselSide::structure_step_wanted, this, [this] {
        show_sheet(Stage::structure);
        begin_new_record();
    });
    connect(sheets_, &CaseSheets::record_chosen, easel_side_, &EaselSide::highlight);
    connect(sheets_, &CaseSheets::place_wanted, this, [this] {
        show_pages(false);
        easel_side_->draw_place();
    });
    connect(sheets_, &CaseSheets::place_changed, this, &CaseView::show_pending);
    connect(sheets_, &CaseSheets::sheet_wanted, this, &CaseView::show_sheet);
    connect(sheets_, &CaseSheets::record_wanted, this, [this](const Uuid& record) { open_record(record); });
    connect_measuring();
    const DossierPanel& dossier = sheets_->dossier();
    connect(&dossier, &DossierPanel::pages_made, this, [this](const QString& pdf) {
        pages_->show_pdf(pdf);
        show_pages(true);
    });
    connect(&dossier, &DossierPanel::pages_gone, this, [this] {
        show_pages(false);
        pages_->close_pdf();
    });
    connect(&dossier, &DossierPanel::sheet_wanted, this, &CaseView::show_sheet);
    connect(&dossier, &DossierPanel::record_wanted, this, [this](const Uuid& record) { open_record(record); });
    connect(pages_, &DossierPages::save_pdf_wanted, &dossier, &DossierPanel::save_pdf);
    connect(pages_, &DossierPages::save_bag_wanted, &dossier, &DossierPanel::save_bag);
    connect(pages_, &DossierPages::print_wanted, &dossier, &DossierPanel::print);
    connect(pages_, &DossierPages::closed, this, [this] { show_pages(false); });
}

void CaseView::connect_measuring() {
    const MeasuringPanel& measuring = sheets_->measuring();
    connect(easel_side_, &EaselSide::chosen_changed, &measuring, &MeasuringPanel::show_photographs);
    connect(&measuring, &MeasuringPanel::pointing_wanted, this, [this](PointedAt what, const Uuid& photograph) {
        show_pages(false);
        easel_side_->point_at(what, photograph);
    });
    connect(&measuring, &MeasuringPanel::pointing_given_up, easel_side_, &EaselSide::end_pointing);
    connect(easel_side_, &EaselSide::pointed_at, &measuring, &MeasuringPanel::take_pointed);
    connect(easel_side_, &EaselSide::pointing_given_up, &measuring, &MeasuringPanel::end_pointing);
}

void CaseView::show_case(const Uuid& case_id) {
    const bool other = !snapshot_ || snapshot_->picture.id != case_id;
    auto snapshot = session_.book().snapshot(case_id);
    if (!snapshot) {
        emit session_.refused(snapshot.error());
        return;
    }
    snapshot_ = *std::move(snapshot);
    if (other) {
        head_->tacks().select(usecases::stage_marks(*snapshot_).now);
        show_pages(false);
        stop_comparing();
    }
    if (comparing()) compare_->read_again(*snapshot_);
    sale_acts_->show_case(*snapshot_);
    head_->show_case(*snapshot_);
    sheets_->show_case(*snapshot_);
    sheets_->show_sheet(head_->tacks().selected());
    easel_side_->show_case(*snapshot_);
    show_pending();
}

void CaseView::show_pending() {
    if (snapshot_) easel_side_->show_pending(places_half_typed(drafts_, *snapshot_));
}

void CaseView::read_again() {
    if (snapshot_) show_case(snapshot_->picture.id);
}

void CaseView::settle() {
    if (!snapshot_ || session_.client_looks()) return;
    SettlingDialog dialog(session_, *snapshot_, this);
    if (!dialog.boxes().isEmpty()) dialog.exec();
}

void CaseView::compare(Face face, const std::vector<Uuid>& chosen) {
    if (!snapshot_) return;
    whole_->setCurrentWidget(compare_);
    compare_->show_case(*snapshot_, face, chosen);
}

bool CaseView::comparing() const {
    return whole_->currentWidget() == compare_;
}

void CaseView::stop_comparing() {
    if (!comparing()) return;
    whole_->setCurrentWidget(sides_);
    easel_side_->easel().setFocus();
}

void CaseView::show_sheet(Stage stage) {
    stop_comparing();
    head_->tacks().select(stage);
    sheets_->show_sheet(stage);
    show_pages(stage == Stage::dossier && pages_->has_pages());
}

void CaseView::show_pages(bool are_shown) {
    picture_side_->setCurrentWidget(are_shown ? static_cast<QWidget*>(pages_) : easel_side_);
}

void CaseView::begin_new_record() {
    sheets_->sheet(head_->tacks().selected()).begin_new();
}

void CaseView::add_photographs(const std::vector<std::filesystem::path>& files) {
    show_sheet(Stage::photographs);
    sheets_->intake().add_files(files);
}

void CaseView::open_record_of(const Uuid& case_id, const Uuid& record, const QString& why) {
    if (!snapshot_ || snapshot_->picture.id != case_id) emit case_wanted(case_id);
    open_record(record, why);
}

void CaseView::open_record(const Uuid& record, const QString& why) {
    const casebook::Record* found = snapshot_ ? snapshot_->find(record) : nullptr;
    if (found == nullptr) return;
    if (const auto stage = sheets_->stage_of(found->kind)) {
        show_sheet(*stage);
        sheets_->sheet(*stage).open_record(record, why);
    }
    if (casebook::is_made_picture(found->kind)) easel_side_->show_photograph(record);
    easel_side_->highlight(record);
}

}  // namespace tedge::desk
