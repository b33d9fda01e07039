// What the photograph on the easel can tell: what has been measured of it, with published tolerances beside, and the
// measuring of what is missing. Of several chosen in the strip, all of them at once where that makes sense.
#pragma once

#include <QWidget>
#include <filesystem>
#include <optional>

#include "easel/pointed_at.hpp"
#include "photographs/figure_row.hpp"
#include "photographs/measuring.hpp"

class QLabel;
class QMenu;
class QProgressBar;
class QPushButton;
class QVBoxLayout;

namespace tedge::desk {

class RulerRow;

class MeasuringPanel : public QWidget {
    Q_OBJECT

public:
    MeasuringPanel(BookSession& session, QWidget* parent = nullptr);

    void show_case(const casebook::CaseSnapshot& snapshot);
    [[nodiscard]] bool running() const { return measuring_.running(); }
    [[nodiscard]] QString report() const;
    // Shut, one line says what has been measured.
    void open(bool is_open);
    [[nodiscard]] FigureRow& colour() { return *colour_; }
    [[nodiscard]] FigureRow& evenness() { return *evenness_; }
    [[nodiscard]] FigureRow& sharpness() { return *sharpness_; }
    [[nodiscard]] FigureRow& scale() { return *scale_; }
    [[nodiscard]] FigureRow& noise() { return *noise_; }
    [[nodiscard]] RulerRow& ruler() { return *ruler_; }

public slots:
    void show_photographs(const std::vector<tedge::Uuid>& photographs);  // those chosen
    void find_charts();
    void measure_board(const std::filesystem::path& board);
    void name_board(const tedge::Uuid& measurement);
    void measure_session_chart(const std::filesystem::path& chart);
    void name_session_chart(const tedge::Uuid& measurement);
    void scale_by_size();
    void cancel() { measuring_.cancel(); }
    // Corners of a chart, a box over an edge or in a patch, marks of a ruler, as they were pointed at on the easel.
    void take_pointed(tedge::desk::PointedAt what, const tedge::Uuid& photograph,
                      const std::vector<tedge::PointPx>& points);
    void end_pointing();

signals:
    void pointing_wanted(tedge::desk::PointedAt what, const tedge::Uuid& photograph);
    void pointing_given_up();

private:
    void make_layout();
    void make_buttons();
    void show_all();
    void show_words();
    void show_buttons();
    void say(const QString& text, const char* role);
    [[nodiscard]] std::vector<const casebook::Record*> chosen() const;
    // measuring_panel_acts.cpp
    void connect_measuring();
    void point_at(PointedAt what);
    void fill_board_menu();
    void fill_chart_menu();
    void begin(std::vector<Uuid> photographs, MeasureOne measure, const QString& what);
    void refuse(const Uuid& photograph, const Error& error);
    void finish(bool was_cancelled);
    // Those that lack the figure; all of them where none does.
    template <class Has>
    [[nodiscard]] std::vector<Uuid> lacking(std::vector<const casebook::Record*> photographs, Has has) const;
    [[nodiscard]] std::vector<Uuid> to_find_charts_in() const;
    [[nodiscard]] std::vector<Uuid> to_scale_by_size() const;

    BookSession& session_;
    std::optional<casebook::CaseSnapshot> snapshot_;
    FiguresById figures_;
    std::vector<Uuid> chosen_;
    // What is under way: what it is called for undo, what came of it.
    QString what_;
    std::vector<usecases::Done> done_;
    QStringList told_;
    QStringList refused_;
    int measured_ = 0;
    bool are_many_ = false;
    std::optional<Uuid> ruler_in_;

    QPushButton* open_;
    QLabel* summary_;
    QWidget* body_;
    QLabel* of_;
    FigureRow* colour_;
    FigureRow* evenness_;
    FigureRow* sharpness_;
    FigureRow* scale_;
    FigureRow* noise_;
    QWidget* others_ = nullptr;
    RulerRow* ruler_;
    QPushButton* find_chart_;
    QPushButton* point_chart_;
    QPushButton* board_;
    QMenu* boards_;
    QPushButton* session_chart_;
    QMenu* charts_;
    QPushButton* point_edge_;
    QPushButton* point_ruler_;
    QPushButton* by_size_;
    QPushButton* point_patch_;
    QLabel* report_;
    QProgressBar* bar_;
    QPushButton* cancel_;
    QPushButton* why_;
    QLabel* sources_;
    QVBoxLayout* rows_;
    Measuring measuring_;
};

}  // namespace tedge::desk
