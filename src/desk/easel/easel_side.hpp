// One side of a case: the easel with its tools above and the photographs below.
#pragma once

#include <QWidget>
#include <array>
#include <optional>

#include "book_session.hpp"
#include "easel/easel.hpp"
#include "easel/pointed_at.hpp"
#include "forms/place_row.hpp"
#include "photographs/difference_bar.hpp"
#include "photographs/film_strip.hpp"
#include "photographs/laying_bar.hpp"
#include "tedge/usecases/say_photographs.hpp"

class QAction;
class QComboBox;
class QLabel;
class QMenu;
class QToolBar;

namespace tedge::desk {

class PlacingRow;

class EaselSide : public QWidget {
    Q_OBJECT

public:
    EaselSide(BookSession& session, SmallPictures& pictures, QWidget* parent = nullptr);

    // The first time a case is shown its first photograph stands on the easel; later what stands there stays.
    void show_case(const casebook::CaseSnapshot& snapshot);
    // Drawn for forms that are not saved yet: on the easel, told apart from what is recorded.
    void show_pending(std::vector<DrawnPlace> places);
    [[nodiscard]] Easel& easel() { return *easel_; }
    [[nodiscard]] FilmStrip& strip() { return *strip_; }
    [[nodiscard]] LayingBar& laying() { return *laying_; }
    [[nodiscard]] DifferenceBar& difference() { return *difference_; }
    [[nodiscard]] bool shows_difference() const { return drawn_.has_value(); }
    [[nodiscard]] QToolBar& tools() { return *tools_; }
    [[nodiscard]] Face face() const { return face_; }
    [[nodiscard]] QString note() const;

public slots:
    void show_photograph(const tedge::Uuid& photograph);
    void set_beside(const tedge::Uuid& photograph);
    void show_face(tedge::Face face);
    void turn_over();
    void half_and_half();
    void show_places(bool are_shown);
    void colour_difference();  // between the two on the easel
    void compare();
    void framing();  // the photograph of the set before faintly over this one
    void begin_placing(bool new_epoch);
    void begin_laying(const tedge::desk::LayingChoice& choice);
    void draw_place();  // on behalf of a form
    void point_at(tedge::desk::PointedAt what, const tedge::Uuid& photograph);
    void end_pointing();
    void highlight(const tedge::Uuid& record);  // turned to the face it lies on

signals:
    void structure_step_wanted();  // lining and the like open a new frame by themselves
    void record_touched(const tedge::Uuid& record);
    // Those chosen in the strip, else the two on the easel.
    void comparing_wanted(tedge::Face face, const std::vector<tedge::Uuid>& chosen);
    void place_drawn(const tedge::Uuid& face_frame, const tedge::Region& region);
    void pointed_at(tedge::desk::PointedAt what, const tedge::Uuid& photograph,
                    const std::vector<tedge::PointPx>& points);
    void pointing_given_up();
    // Photographs chosen in the strip, else the one on the easel.
    void chosen_changed(const std::vector<tedge::Uuid>& photographs);

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    // What stood on the easel of one face when it was turned away.
    struct Chosen {
        std::optional<Uuid> first;
        std::optional<Uuid> second;
        bool half_and_half = false;
    };
    void make_tools();
    void name_tools(bool is_narrow);
    void make_rest_reachable();
    QAction* add_tool(const QString& text, const QString& tip, std::function<void()> act);
    QMenu* add_menu_tool(const QString& text, const QString& tip);
    void connect_all(SmallPictures& pictures);
    void show_all();
    void show_faces();
    void show_pictures(const casebook::Record* frame);
    void show_overlays(const casebook::Record* frame);
    void turn_to(Face face);
    void end_comparing_unless_possible();
    [[nodiscard]] QString without_earlier() const;
    [[nodiscard]] QString warning_of_shown() const;
    [[nodiscard]] bool shows_face(const std::optional<Uuid>& photograph) const;
    void say(const QString& text, const char* role = "plain");
    void fill_photograph_menu(QMenu& menu, const Uuid& photograph);
    void fill_laying_menu(QMenu& menu, const Uuid& photograph);
    void fill_face_menu(QMenu& menu, const casebook::Record& photograph);
    void corners_picked(const std::array<PointPx, 4>& corners, double screen_pixel_px);
    void place();
    void give_up_placing();
    void tell_pointed(const std::vector<PointPx>& points);
    void tell_chosen();
    void add_beside_it(QMenu& menu, const QString& text, const std::vector<tedge::Uuid>& photographs,
                       std::string_view field, std::optional<bool> usecases::SaidOfPhotographs::* what);
    void add_rights_to(QMenu& menu, const std::vector<Uuid>& photographs);
    [[nodiscard]] std::vector<Uuid> chosen_with(const Uuid& photograph) const;
    void carry_out(Expected<usecases::Done> done, const QString& what);
    [[nodiscard]] const casebook::Record* record(const std::optional<Uuid>& id) const;

    BookSession& session_;
    std::optional<casebook::CaseSnapshot> snapshot_;
    Face face_ = Face::recto;
    std::optional<Uuid> first_;
    std::optional<Uuid> second_;
    std::array<Chosen, all_faces.size()> chosen_;
    std::vector<DrawnPlace> pending_;
    std::optional<DrawnDifference> drawn_;           // lies in place of its reference until something else is shown
    std::optional<std::array<PointPx, 4>> corners_;  // picked, waiting for a size
    double corner_error_px_ = 0;                     // how closely
    std::optional<PointedAt> pointing_;
    std::vector<Uuid> told_chosen_;
    QToolBar* tools_;
    QComboBox* faces_;
    QMenu* laying_menu_ = nullptr;
    QMenu* photograph_menu_ = nullptr;
    QAction* turn_ = nullptr;
    QAction* half_ = nullptr;
    QAction* framing_ = nullptr;
    QAction* places_ = nullptr;
    QAction* place_action_ = nullptr;
    Easel* easel_;
    PlacingRow* placing_;
    QLabel* note_;
    QLabel* pointer_;
    FilmStrip* strip_;
    LayingBar* laying_;
    DifferenceBar* difference_;
};

}  // namespace tedge::desk
