// One case: its head with the tacks, the easel with the photographs under it, and the sheet of the moment.
#pragma once

#include <QWidget>
#include <optional>

#include "case_head.hpp"
#include "case_sheets.hpp"
#include "easel/easel_side.hpp"

class QSplitter;
class QStackedWidget;

namespace tedge::desk {

class CompareView;
class SaleActs;
enum class SaleAct;
class DossierPages;

class CaseView : public QWidget {
    Q_OBJECT

public:
    CaseView(BookSession& session, SmallPictures& pictures, Drafts& drafts, QWidget* parent = nullptr);

    void show_case(const Uuid& case_id);
    void show_sheet(usecases::Stage stage);
    void begin_new_record();
    void add_photographs(const std::vector<std::filesystem::path>& files);
    [[nodiscard]] CaseHead& head() { return *head_; }
    [[nodiscard]] EaselSide& easel_side() { return *easel_side_; }
    [[nodiscard]] Easel& easel() { return easel_side_->easel(); }
    [[nodiscard]] CaseSheets& sheets() { return *sheets_; }
    [[nodiscard]] DossierPages& pages() { return *pages_; }
    [[nodiscard]] CompareView& comparison() { return *compare_; }
    [[nodiscard]] bool comparing() const;
    [[nodiscard]] SaleActs& sale_acts() { return *sale_acts_; }

signals:
    void case_wanted(const tedge::Uuid& case_id);  // another one

public slots:
    void read_again();
    void compare(tedge::Face face, const std::vector<tedge::Uuid>& chosen);
    void settle();  // what two people wrote differently; nothing where they agree

private:
    void connect_all();
    void connect_measuring();
    void open_record(const Uuid& record, const QString& why = {});
    void open_record_of(const Uuid& case_id, const Uuid& record, const QString& why);
    void show_pages(bool are_shown);
    void stop_comparing();
    void show_pending();

    BookSession& session_;
    Drafts& drafts_;
    std::optional<casebook::CaseSnapshot> snapshot_;
    CaseHead* head_;
    QStackedWidget* picture_side_;  // the easel, or the pages of a dossier in its place
    EaselSide* easel_side_;
    DossierPages* pages_;
    CompareView* compare_;  // in place of both sides: it needs the room
    QStackedWidget* whole_;
    QSplitter* sides_;
    CaseSheets* sheets_;
    SaleActs* sale_acts_;
};

}  // namespace tedge::desk
