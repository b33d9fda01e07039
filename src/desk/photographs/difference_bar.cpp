#include "photographs/difference_bar.hpp"

#include <QHBoxLayout>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "forms/entries/entry.hpp"
#include "photographs/scale_bar.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/imaging/pyramid.hpp"
#include "tedge/usecases/guessed_light.hpp"
#include "text.hpp"
#include "theme.hpp"
#include "work_bar.hpp"

namespace tedge::desk {

namespace {

constexpr int scale_width_px = 260;

// In few words, for the figures must leave the picture its room; the sentence itself stands in the tip.
QString floor_words(const usecases::ColourDifferenceMap& map) {
    if (map.only_a_look) return QObject::tr("They lie too loosely on each other: a look, no evidence.");
    if (!map.floor_delta_e00) return QObject::tr("A look: no chart is measured in both.");
    return QObject::tr("Below %1 no evidence.").arg(shown(format_fixed(*map.floor_delta_e00, 1)));
}

}  // namespace

DifferenceBar::DifferenceBar(BookSession& session, QWidget* parent)
    : QWidget(parent),
      session_(session),
      report_(new QLabel(this)),
      scale_(new ScaleBar(this)),
      bar_(new QProgressBar(this)),
      cancel_(new QPushButton(tr("Cancel"), this)),
      keep_(new QPushButton(tr("Keep"), this)),
      close_(new QPushButton(tr("Seen"), this)),
      kept_note_(new QLabel(this)) {
    make_layout();
    hide();
    connect(cancel_, &QPushButton::clicked, this, &DifferenceBar::cancel);
    connect(keep_, &QPushButton::clicked, this, &DifferenceBar::keep);
    connect(&keeping_, &LongWork::finished, this, &DifferenceBar::finish_keeping);
    connect(close_, &QPushButton::clicked, this, [this] {
        hide();
        emit closed();
    });
    connect(&work_, &LongWork::progress, this, [this](double fraction, const QString& what) {
        show_work_done(*bar_, fraction);
        bar_->setFormat(what + QStringLiteral("  %p %"));
    });
    connect(&work_, &LongWork::finished, this, &DifferenceBar::finish);
}

void DifferenceBar::make_layout() {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 2, 0, 2);
    report_->setWordWrap(true);
    report_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    begin_work_bar(*bar_);
    bar_->setAccessibleName(tr("How far the map of colour differences is"));
    scale_->setFixedWidth(scale_width_px);
    for (QPushButton* button : {cancel_, keep_, close_}) button->setMinimumHeight(target_px);
    keep_->setToolTip(tr("The map with the photographs of this case, and how it was made"));
    kept_note_->setWordWrap(true);
    auto* row = new QHBoxLayout;
    row->addWidget(report_, 1);
    row->addWidget(close_, 0, Qt::AlignTop);
    column->addLayout(row);
    auto* below = new QHBoxLayout;
    below->addWidget(scale_);  // the figures need their width, the scale leaves room beside it
    below->addWidget(kept_note_, 1);
    below->addWidget(keep_);
    column->addLayout(below);
    auto* under_way = new QHBoxLayout;
    under_way->addWidget(bar_, 1);
    under_way->addWidget(cancel_);
    column->addLayout(under_way);
}

void DifferenceBar::say(const QString& text, const char* role) {
    say_in(*report_, text, role);
}

QString DifferenceBar::report() const {
    return report_->text();
}

void DifferenceBar::begin(const Uuid& reference, const Uuid& second, const QString& between) {
    if (work_.running()) return;
    between_ = between;
    shown_.reset();
    kept_.reset();
    say_of_keeping({}, "plain");
    say(tr("Comparing the colours of %1 …").arg(between), "plain");
    bar_->setValue(0);
    bar_->setFormat(QStringLiteral("%p %"));
    for (QWidget* each : std::initializer_list<QWidget*>{bar_, cancel_}) each->show();
    for (QWidget* each : std::initializer_list<QWidget*>{scale_, keep_, close_}) each->hide();
    show();
    // Another name each time: what was read of the one before is kept by its name.
    const std::filesystem::path file =
        path_from_utf8(plain(folder_.filePath(QStringLiteral("difference-%1").arg(++made_))));
    work_.begin([this, how = session_.how(), wanted = DrawnDifference{reference, second, file, {}, {}}](
                    const Progress& progress) { work(how, wanted, progress); });
}

void DifferenceBar::work(const BookSession::Opened& how, DrawnDifference wanted, const Progress& progress) {
    auto opened = open_for_worker(how);
    const auto map = opened ? usecases::map_colour_difference(opened->book, wanted.reference, wanted.second, {},
                                                              progress.part(0, 0.9))
                            : Expected<usecases::ColourDifferenceMap>(pass_on(opened));
    if (!map) {
        if (map.error().code != "cancelled") work_.tell([this, e = map.error()] { show_refusal(e); });
        return;
    }
    imaging::Picture picture;
    picture.pixels = map->drawn;
    if (auto built = imaging::build_pyramid(picture, wanted.pyramid, {}, progress.part(0.9, 1.0)); !built) {
        if (built.error().code != "cancelled") work_.tell([this, e = built.error()] { show_refusal(e); });
        return;
    }
    wanted.size = map->drawn.size();
    wanted.placement = map->face_from_map;
    work_.tell([this, m = *map, wanted] { show_result(m, wanted); });
}

void DifferenceBar::show_result(const usecases::ColourDifferenceMap& map, const DrawnDifference& difference) {
    const QString figures = tr("ΔE00 %1 on average, half below %2, 95 % below %3, at most %4; to ± %5 mm.")
                                .arg(shown(format_fixed(map.figures.mean, 1)), shown(format_fixed(map.figures.p50, 1)),
                                     shown(format_fixed(map.figures.p95, 1)), shown(format_fixed(map.figures.max, 1)),
                                     shown(format_fixed(std::max(map.error_mm, 0.01), 2)));
    const bool as_developed = !map.charts_missing.empty();
    const QString caution = map.note.empty() ? (as_developed ? tr("Unmatched exposures count as colour.") : QString())
                            : as_developed   ? tr("Gloss and unmatched exposures count as colour.")
                                             : tr("Gloss counts as colour.");
    const QString guessed =
        map.guessed_lights.empty() ? QString() : QLatin1Char(' ') + tr("△ A light was only guessed: confirm it.");
    QStringList guesses;
    for (const std::string& each : map.guessed_lights) guesses << shown(each);
    if (!guesses.isEmpty()) guesses << shown(usecases::confirm_light);
    report_->setToolTip(tr("%1. Grey is not compared. %2 %3")
                            .arg(between_, shown(map.floor_sentence), guesses.join(QLatin1Char(' ')))
                            .trimmed());
    const QString text = figures + (caution.isEmpty() ? QString() : QStringLiteral(" ") + caution) + QLatin1Char(' ') +
                         floor_words(map) + guessed;
    say(text, guessed.isEmpty() ? "plain" : "warning");
    scale_->show_scale(map.scale);
    scale_->show();
    shown_ = std::make_shared<const Shown>(Shown{difference.reference, difference.second, map});
    keep_->setVisible(!session_.book().read_only());
    emit drawn(difference);
}

void DifferenceBar::say_of_keeping(const QString& text, const char* role) {
    say_in(*kept_note_, text, role);
    kept_note_->setVisible(!text.isEmpty());
}

QString DifferenceBar::told_of_keeping() const {
    return kept_note_->text();
}

void DifferenceBar::show_refusal(const Error& error) {
    say(QStringLiteral("⊘ ") + shown(error.message + " " + error.next), "closed");
}

void DifferenceBar::finish(bool was_cancelled) {
    for (QWidget* each : std::initializer_list<QWidget*>{bar_, cancel_}) each->hide();
    if (was_cancelled) say(tr("Cancelled; nothing was drawn."), "plain");
    close_->show();
}

}  // namespace tedge::desk
