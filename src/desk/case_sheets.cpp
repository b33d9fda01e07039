#include "case_sheets.hpp"

namespace tedge::desk {

using usecases::Stage;

CaseSheets::CaseSheets(BookSession& session, Drafts& drafts, QWidget* parent)
    : QStackedWidget(parent),
      missing_(new MissingPanel(session, this)),
      intake_(new IntakePanel(session, this)),
      measuring_(new MeasuringPanel(session, this)),
      sale_day_(new SaleDayPanel(session, this)),
      rests_on_(new RestsOnPanel(session, this)),
      viewing_(new ViewingPanel(session, this)),
      ceiling_(new CeilingPanel(session, this)),
      costs_(new SuggestedCosts(session, this)),
      dossier_(new DossierPanel(session, this)),
      account_(new AccountPanel(session, this)),
      duties_(new DutiesPanel(session, this)) {
    setMinimumWidth(290);
    for (const Stage stage : usecases::all_stages) {
        auto* made = new RecordSheet(stage, session, drafts, this);
        sheets_[static_cast<std::size_t>(stage)] = made;
        addWidget(made);
        connect(made, &RecordSheet::record_chosen, this, &CaseSheets::record_chosen);
        connect(made, &RecordSheet::place_wanted, this, &CaseSheets::place_wanted);
        connect(made, &RecordSheet::place_changed, this, &CaseSheets::place_changed);
        connect(made, &RecordSheet::sheet_wanted, this, &CaseSheets::sheet_wanted);
    }
    sheet(Stage::photographs).add_panel(intake_);
    sheet(Stage::photographs).add_panel(measuring_);
    sheet(Stage::photographs).add_panel(missing_);
    sheet(Stage::lot).add_panel(sale_day_);
    sheet(Stage::lot).add_panel(viewing_);
    sheet(Stage::ceiling).add_panel(ceiling_);
    sheet(Stage::ceiling).add_panel(costs_);
    sheet(Stage::ceiling).add_panel(rests_on_);
    sheet(Stage::dossier).add_panel(dossier_);
    connect(sale_day_, &SaleDayPanel::wanted, this, &CaseSheets::sale_act_wanted);
    connect(ceiling_, &CeilingPanel::cards_wanted, this, [this] { emit sale_act_wanted(SaleAct::cards); });
    connect(costs_, &SuggestedCosts::price_book_wanted, this, [this] { emit sale_act_wanted(SaleAct::price_book); });
    add_account_panels();
}

void CaseSheets::add_account_panels() {
    RecordSheet& account = sheet(Stage::account);
    account.add_panel(account_);
    account.add_panel(duties_);
    connect(account_, &AccountPanel::record_wanted, this, &CaseSheets::record_wanted);
    connect(duties_, &DutiesPanel::record_wanted, this, &CaseSheets::record_wanted);
    connect(account_, &AccountPanel::payment_wanted, &account,
            [&account](const casebook::FieldValues& values, const QString& why) {
                account.begin_with(*casebook::find_kind("payment"), values, why);
            });
    connect(duties_, &DutiesPanel::answer_wanted, &account,
            [&account](const casebook::FieldValues& values, const QString& why) {
                account.begin_with(*casebook::find_kind("duty"), values, why);
            });
}

void CaseSheets::show_case(const casebook::CaseSnapshot& snapshot) {
    for (RecordSheet* each : sheets_) each->show_case(snapshot);
    missing_->show_case(snapshot);
    measuring_->show_case(snapshot);
    intake_->show_case(snapshot.picture.id);
    sale_day_->show_case(snapshot);
    rests_on_->show_case(snapshot);
    viewing_->show_case(snapshot);
    ceiling_->show_case(snapshot);
    costs_->show_case(snapshot);
    dossier_->show_case(snapshot);
    account_->show_case(snapshot);
    duties_->show_case(snapshot);
}

std::optional<Stage> CaseSheets::stage_of(std::string_view kind) {
    for (const Stage stage : usecases::all_stages) {
        if (sheet(stage).holds(kind)) return stage;
    }
    return std::nullopt;
}

}  // namespace tedge::desk
