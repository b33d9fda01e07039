// What is measured of which photographs, and what is told when it is done.
#include <QFileDialog>
#include <QLabel>
#include <QMenu>
#include <QProgressBar>
#include <algorithm>
#include <iterator>
#include <utility>

#include "photographs/laying.hpp"
#include "photographs/measuring_acts.hpp"
#include "photographs/measuring_panel.hpp"
#include "photographs/ruler_row.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/casebook/photograph_words.hpp"
#include "text.hpp"
#include "work_bar.hpp"

namespace tedge::desk {

using casebook::Record;

namespace {

constexpr qsizetype figures_in_sight = 4;

}  // namespace

void MeasuringPanel::connect_measuring() {
    connect(&measuring_, &Measuring::begun, this, [this](int index, int of, const Uuid& id) {
        const Record* photograph = snapshot_ ? snapshot_->find(id) : nullptr;
        const QString name = photograph != nullptr ? name_of(*photograph) : QString();
        say(of > 1 ? tr("Measuring “%1” (%2 of %3)").arg(name).arg(index + 1).arg(of) : tr("Measuring “%1”").arg(name),
            "plain");
    });
    connect(&measuring_, &Measuring::progress, this, [this](double fraction, const QString& what) {
        show_work_done(*bar_, fraction);
        bar_->setFormat(what + QStringLiteral("  %p %"));
    });
    connect(&measuring_, &Measuring::measured, this, [this](const Uuid& /*id*/, const Measured& measured) {
        ++measured_;
        done_.insert(done_.end(), measured.done.begin(), measured.done.end());
        if (!measured.told.isEmpty()) told_ << measured.told;
    });
    connect(&measuring_, &Measuring::refused, this, &MeasuringPanel::refuse);
    connect(&measuring_, &Measuring::finished, this, &MeasuringPanel::finish);
}

template <class Has>
std::vector<Uuid> MeasuringPanel::lacking(std::vector<const Record*> photographs, Has has) const {
    const auto has_it = [&](const Record* photograph) {
        const auto known = figures_.find(photograph->id);
        return known != figures_.end() && has(known->second);
    };
    if (!std::ranges::all_of(photographs, has_it)) std::erase_if(photographs, has_it);
    std::vector<Uuid> ids;
    std::ranges::transform(photographs, std::back_inserter(ids), &Record::id);
    return ids;
}

std::vector<Uuid> MeasuringPanel::to_find_charts_in() const {
    auto photographs = chosen();
    std::erase_if(photographs, [](const Record* each) { return !casebook::shows_colour(each->body.text_or("light")); });
    return lacking(std::move(photographs), [](const usecases::PhotographFigures& figures) {
        return figures.colour && !figures.colour_is_overtaken;
    });
}

std::vector<Uuid> MeasuringPanel::to_scale_by_size() const {
    auto photographs = chosen();
    std::erase_if(photographs, [](const Record* each) { return !casebook::is_placed(*each); });
    return lacking(std::move(photographs),
                   [](const usecases::PhotographFigures& figures) { return figures.scale.has_value(); });
}

void MeasuringPanel::find_charts() {
    begin(to_find_charts_in(), chart_measured(std::nullopt), tr("measuring by the chart"));
}

void MeasuringPanel::scale_by_size() {
    begin(to_scale_by_size(), scale_measured(std::nullopt), tr("measuring the scale"));
}

void MeasuringPanel::measure_board(const std::filesystem::path& board) {
    if (chosen_.empty() || !snapshot_) return;
    begin({chosen_.front()}, board_measured(snapshot_->picture.id, board, chosen_), tr("the board of a session"));
}

void MeasuringPanel::name_board(const Uuid& measurement) {
    if (chosen_.empty()) return;
    begin({chosen_.front()}, board_named(measurement, chosen_), tr("the board of a session"));
}

// Its photograph, or one that this case knows already.
void MeasuringPanel::fill_board_menu() {
    boards_->clear();
    connect(boards_->addAction(tr("A photograph of the board …")), &QAction::triggered, this, [this] {
        const QString file = QFileDialog::getOpenFileName(this, tr("The photograph of the board"));
        if (!file.isEmpty()) measure_board(path_from_utf8(plain(file)));
    });
    if (!snapshot_) return;
    for (const Record* each : snapshot_->of_kind("measurement")) {
        if (!each->body.has("sha256") || each->body.has("chart_fit")) continue;
        const QString name = tr("The one by which the light was %1 % uneven, %2")
                                 .arg(shown(format_fixed(each->body.number("value").value_or(0), 1)),
                                      day_text(to_text(each->first_written).substr(0, 10)));
        connect(boards_->addAction(name), &QAction::triggered, this, [this, id = each->id] { name_board(id); });
    }
}

void MeasuringPanel::measure_session_chart(const std::filesystem::path& chart) {
    if (chosen_.empty() || !snapshot_) return;
    begin({chosen_.front()}, session_chart_measured(snapshot_->picture.id, chart, chosen_),
          tr("the chart of a session"));
}

void MeasuringPanel::name_session_chart(const Uuid& measurement) {
    if (chosen_.empty()) return;
    begin({chosen_.front()}, session_chart_named(measurement, chosen_), tr("the chart of a session"));
}

// Its photograph, or one that this case knows already: taken apart, or lying in another photograph.
void MeasuringPanel::fill_chart_menu() {
    charts_->clear();
    connect(charts_->addAction(tr("A photograph of the chart …")), &QAction::triggered, this, [this] {
        const QString file = QFileDialog::getOpenFileName(this, tr("The photograph of the chart"));
        if (!file.isEmpty()) measure_session_chart(path_from_utf8(plain(file)));
    });
    if (!snapshot_) return;
    for (const Record* each : snapshot_->of_kind("measurement")) {
        if (!each->body.has("chart_fit")) continue;
        const auto in = each->body.keys("from_photographs");
        const auto id = parse_uuid(in.empty() ? std::string() : in.front());
        const Record* photograph = id ? snapshot_->find(*id) : nullptr;
        const QString where = photograph != nullptr ? tr("in “%1”").arg(name_of(*photograph)) : tr("taken apart");
        const QString name = tr("The one %1, true to ΔE00 %2, %3")
                                 .arg(where, shown(format_fixed(each->body.number("value").value_or(0), 1)),
                                      day_text(to_text(each->first_written).substr(0, 10)));
        connect(charts_->addAction(name), &QAction::triggered, this,
                [this, chart = each->id] { name_session_chart(chart); });
    }
}

void MeasuringPanel::point_at(PointedAt what) {
    const auto photographs = chosen();
    if (photographs.size() != 1 || measuring_.running()) return;
    say({}, "plain");
    ruler_->hide();
    emit pointing_wanted(what, photographs.front()->id);
    if (what != PointedAt::ruler) return;
    ruler_in_ = photographs.front()->id;
    ruler_->begin();
}

void MeasuringPanel::take_pointed(PointedAt what, const Uuid& photograph, const std::vector<PointPx>& points) {
    switch (what) {
        case PointedAt::chart:
            if (points.size() == 4)
                begin({photograph}, chart_measured(imaging::ChartCorners{points[0], points[1], points[2], points[3]}),
                      tr("measuring by the chart"));
            return;
        case PointedAt::edge:
            if (points.size() == 2)
                begin({photograph}, edge_measured(points[0], points[1]), tr("measuring the sharpness"));
            return;
        case PointedAt::patch:
            if (points.size() == 2)
                begin({photograph}, noise_measured(points[0], points[1]), tr("measuring the noise"));
            return;
        case PointedAt::ruler:
            if (points.size() == 2 && !ruler_->isHidden()) ruler_->set_marks(points[0], points[1]);
            return;
    }
}

void MeasuringPanel::end_pointing() {
    ruler_->hide();
    ruler_in_.reset();
}

void MeasuringPanel::begin(std::vector<Uuid> photographs, MeasureOne measure, const QString& what) {
    if (photographs.empty() || measuring_.running() || session_.book().read_only()) return;
    what_ = what;
    done_.clear();
    told_.clear();
    refused_.clear();
    measured_ = 0;
    are_many_ = photographs.size() > 1;
    bar_->setValue(0);
    bar_->setFormat(QStringLiteral("%p %"));
    measuring_.begin(session_.how(), std::move(photographs), std::move(measure));
    show_buttons();
}

// Of several, each is told by its file as well: many may be of one stage and light.
void MeasuringPanel::refuse(const Uuid& id, const Error& error) {
    const QString why = shown(error.message + " " + error.next);
    const Record* photograph = snapshot_ ? snapshot_->find(id) : nullptr;
    if (photograph == nullptr || !are_many_) {
        refused_ << why;
        return;
    }
    const QString file = shown(photograph->body.text_or("file_name"));
    refused_ << (file.isEmpty() ? name_of(*photograph) : file) + QStringLiteral(": ") + why;
}

void MeasuringPanel::finish(bool was_cancelled) {
    const auto first = refused_.mid(0, figures_in_sight);
    QStringList lines;
    if (was_cancelled) lines << tr("Stopped; what was measured before stays.");
    if (measured_ + refused_.size() > 1) lines << tr("Measured: %1, not: %2.").arg(measured_).arg(refused_.size());
    for (const QString& each : first) lines << QStringLiteral("⊘ ") + each;
    if (refused_.size() > first.size()) lines << tr("… and %1 more").arg(refused_.size() - first.size());
    if (measured_ == 1) lines << told_;
    const bool only_refused = measured_ == 0 && !refused_.isEmpty();
    session_.did(std::exchange(done_, {}), what_);
    say(lines.join(u'\n'), only_refused ? "closed" : "plain");
    report_->setToolTip(refused_.join(u'\n'));
    show_all();
}

}  // namespace tedge::desk
