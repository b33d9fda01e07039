// Under the easel: how much the colour changed between two photographs, while it is reckoned and as figures with the
// scale of the map on the easel.
#pragma once

#include <QTemporaryDir>
#include <QWidget>

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

    BookSession& session_;
    QTemporaryDir folder_;
    int made_ = 0;
    QString between_;
    QLabel* report_;
    ScaleBar* scale_;
    QProgressBar* bar_;
    QPushButton* cancel_;
    QPushButton* close_;
    LongWork work_;
};

}  // namespace tedge::desk
