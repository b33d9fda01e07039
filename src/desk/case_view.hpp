// One case: its head with the tacks, the easel with the photographs under it, and the sheet of the moment.
#pragma once

#include <QWidget>
#include <array>
#include <optional>

#include "easel/easel.hpp"
#include "forms/drafts.hpp"
#include "photographs/film_strip.hpp"
#include "photographs/intake_panel.hpp"
#include "sheets/ceiling_panel.hpp"
#include "sheets/dossier_panel.hpp"
#include "sheets/record_sheet.hpp"
#include "tacks.hpp"

class QLabel;
class QPushButton;
class QStackedWidget;

namespace tedge::desk {

class CaseView : public QWidget {
    Q_OBJECT

public:
    CaseView(BookSession& session, SmallPictures& pictures, Drafts& drafts, QWidget* parent = nullptr);

    void show_case(const Uuid& case_id);
    void show_sheet(usecases::Stage stage);
    void begin_new_record();
    [[nodiscard]] Easel& easel() { return *easel_; }
    void add_photographs(const std::vector<std::filesystem::path>& files);

public slots:
    void read_again();

private:
    [[nodiscard]] QWidget* make_head();
    [[nodiscard]] QWidget* make_easel_side();
    void make_sheets(Drafts& drafts);
    void show_head();
    void show_easel();
    void show_overlays();
    void show_photograph(const Uuid& photograph);
    void set_beside(const Uuid& photograph);
    void turn_face();
    void place_by_corners(const std::array<PointPx, 4>& corners);
    void open_record(const Uuid& record);
    void draw_place();
    [[nodiscard]] std::optional<ShownPhotograph> shown_photograph(const std::optional<Uuid>& id);
    [[nodiscard]] RecordSheet& sheet(usecases::Stage stage) { return *sheets_[static_cast<std::size_t>(stage)]; }

    BookSession& session_;
    std::optional<casebook::CaseSnapshot> snapshot_;
    Face face_ = Face::recto;
    std::optional<Uuid> first_;
    std::optional<Uuid> second_;
    QLabel* title_ = nullptr;
    QLabel* whereabouts_ = nullptr;
    QPushButton* client_ = nullptr;
    TackRow* tacks_ = nullptr;
    Easel* easel_ = nullptr;
    QLabel* pointer_ = nullptr;
    QPushButton* place_ = nullptr;
    FilmStrip* strip_ = nullptr;
    QStackedWidget* stack_ = nullptr;
    std::array<RecordSheet*, usecases::all_stages.size()> sheets_{};
    IntakePanel* intake_ = nullptr;
    CeilingPanel* ceiling_ = nullptr;
    DossierPanel* dossier_ = nullptr;
};

}  // namespace tedge::desk
