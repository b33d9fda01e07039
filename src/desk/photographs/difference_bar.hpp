// Under the easel: how much the colour changed between two photographs, while it is reckoned and as figures with the
// scale of the map on the easel; the map is kept with the photographs where somebody wants it.
#pragma once

#include <QTemporaryDir>
#include <QWidget>
#include <memory>
#include <optional>

#include "long_work.hpp"
#include "tedge/usecases/map_colour_difference.hpp"

class QLabel;
class QProgressBar;
class QPushButton;

namespace tedge::desk {

class ScaleBar;

// A map that lies on the easel in place of its reference.
struct DrawnDifference {
    Uuid reference;
    Uuid second;
    std::filesystem::path pyramid;
    SizePx size;
    Placement placement;
};

class DifferenceBar : public QWidget {
    Q_OBJECT

public:
    explicit DifferenceBar(BookSession& session, QWidget* parent = nullptr);
    // `between`: the two as they are called.
    void begin(const Uuid& reference, const Uuid& second, const QString& between);
    void cancel() { work_.cancel(); }
    [[nodiscard]] bool running() const { return work_.running(); }
    [[nodiscard]] QString report() const;
    // Beside the figures: what became of keeping the map; "" while nobody asked for it.
    [[nodiscard]] QString told_of_keeping() const;
    // What was kept may have been taken back meanwhile.
    void show_case(const casebook::CaseSnapshot& snapshot);

public slots:
    void keep();

signals:
    void drawn(const tedge::desk::DrawnDifference& difference);
    void closed();  // it was seen

private:
    void make_layout();
    void work(const BookSession::Opened& how, DrawnDifference wanted, const Progress& progress);
    void show_result(const usecases::ColourDifferenceMap& map, const DrawnDifference& difference);
    void show_refusal(const Error& error);
    void finish(bool was_cancelled);
    void say(const QString& text, const char* role);
    void say_of_keeping(const QString& text, const char* role);
    // difference_keeping.cpp
    void show_kept(const usecases::KeptPicture& picture);
    void finish_keeping();

    struct Shown {
        Uuid reference;
        Uuid second;
        usecases::ColourDifferenceMap map;
    };

    BookSession& session_;
    QTemporaryDir folder_;
    int made_ = 0;
    QString between_;
    QLabel* report_;
    std::shared_ptr<const Shown> shown_;  // read by the worker that keeps it
    std::optional<Uuid> kept_;
    ScaleBar* scale_;
    QProgressBar* bar_;
    QPushButton* cancel_;
    QPushButton* keep_;
    QPushButton* close_;
    QLabel* kept_note_;
    LongWork work_;
    LongWork keeping_;
};

}  // namespace tedge::desk
