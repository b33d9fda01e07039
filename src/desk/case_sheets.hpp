// The sheets of a case, one for each stage of the work, with the panels that stand in some of them.
#pragma once

#include <QStackedWidget>
#include <array>

#include "accounts/account_panel.hpp"
#include "accounts/duties_panel.hpp"
#include "ceiling/ceiling_panel.hpp"
#include "ceiling/suggested_costs.hpp"
#include "forms/drafts.hpp"
#include "photographs/intake_panel.hpp"
#include "photographs/measuring_panel.hpp"
#include "photographs/missing_panel.hpp"
#include "saleday/rests_on_panel.hpp"
#include "saleday/sale_day_panel.hpp"
#include "sheets/dossier_panel.hpp"
#include "sheets/record_sheet.hpp"
#include "viewing/viewing_panel.hpp"

namespace tedge::desk {

class CaseSheets : public QStackedWidget {
    Q_OBJECT

public:
    CaseSheets(BookSession& session, Drafts& drafts, QWidget* parent = nullptr);
    void show_case(const casebook::CaseSnapshot& snapshot);
    void show_sheet(usecases::Stage stage) { setCurrentWidget(&sheet(stage)); }
    [[nodiscard]] RecordSheet& sheet(usecases::Stage stage) { return *sheets_[static_cast<std::size_t>(stage)]; }
    // The sheet that holds records of this kind.
    [[nodiscard]] std::optional<usecases::Stage> stage_of(std::string_view kind);
    [[nodiscard]] IntakePanel& intake() { return *intake_; }
    [[nodiscard]] MissingPanel& missing() { return *missing_; }
    [[nodiscard]] MeasuringPanel& measuring() { return *measuring_; }
    [[nodiscard]] DossierPanel& dossier() { return *dossier_; }
    [[nodiscard]] AccountPanel& account() { return *account_; }
    [[nodiscard]] DutiesPanel& duties() { return *duties_; }

signals:
    void record_chosen(const tedge::Uuid& record);
    void record_wanted(const tedge::Uuid& record);  // to be opened, on whichever sheet it stands
    void place_wanted();
    void place_changed();  // one that is not saved yet
    void sale_act_wanted(tedge::desk::SaleAct act);
    void sheet_wanted(tedge::usecases::Stage stage);  // where what a gate misses is recorded

private:
    void add_account_panels();
    std::array<RecordSheet*, usecases::all_stages.size()> sheets_{};
    MissingPanel* missing_;
    IntakePanel* intake_;
    MeasuringPanel* measuring_;
    SaleDayPanel* sale_day_;
    RestsOnPanel* rests_on_;
    ViewingPanel* viewing_;
    CeilingPanel* ceiling_;
    SuggestedCosts* costs_;
    DossierPanel* dossier_;
    AccountPanel* account_;
    DutiesPanel* duties_;
};

}  // namespace tedge::desk
