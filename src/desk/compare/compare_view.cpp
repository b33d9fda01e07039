#include "compare/compare_view.hpp"

#include <QComboBox>
#include <QFileDialog>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QPushButton>
#include <QSlider>
#include <QStyle>
#include <QToolButton>
#include <QVBoxLayout>
#include <algorithm>
#include <array>
#include <cmath>

#include "easel/easel_content.hpp"
#include "forms/entries/entry.hpp"
#include "forms/flow_layout.hpp"
#include "photographs/small_pictures.hpp"
#include "tedge/base/files.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/casebook/photograph_words.hpp"
#include "tedge/usecases/epochs.hpp"
#include "text.hpp"

namespace tedge::desk {

using casebook::Record;

namespace {

constexpr int slider_width_px = 110;
constexpr int most_degrees = 180;
constexpr int fade_steps = 100;
constexpr int rate_steps = 20;  // of a tenth of a turn a second

const std::array<std::pair<Means, const char*>, 4> means_words{{
    {Means::side_by_side, QT_TRANSLATE_NOOP("tedge::desk::CompareView", "Beside (B)")},
    {Means::half_and_half, QT_TRANSLATE_NOOP("tedge::desk::CompareView", "Half (H)")},
    {Means::turn_over, QT_TRANSLATE_NOOP("tedge::desk::CompareView", "Turn (T)")},
    {Means::fade, QT_TRANSLATE_NOOP("tedge::desk::CompareView", "Fade (F)")},
}};

}  // namespace

CompareView::CompareView(BookSession& session, SmallPictures& pictures, QWidget* parent)
    : QWidget(parent),
      session_(session),
      pictures_(pictures),
      question_row_(new QWidget(this)),
      means_row_(new QWidget(this)),
      canvas_(new CompareCanvas(this)),
      pointer_(new QLabel(this)),
      note_(new QLabel(this)),
      keeping_(new Keeping(session, *canvas_, this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(8, 4, 8, 6);
    column->setSpacing(4);
    new FlowLayout(question_row_);
    make_means(means_row_);
    note_->setWordWrap(true);
    note_->hide();
    pointer_->setMinimumHeight(pointer_->fontMetrics().height());
    column->addWidget(question_row_);
    column->addWidget(canvas_, 1);
    column->addWidget(pointer_);
    column->addWidget(note_);
    column->addWidget(means_row_);
    connect(canvas_, &CompareCanvas::means_wanted, this, &CompareView::use_means);
    connect(canvas_, &CompareCanvas::pointer_at, this, [this](const QString& where, const QString& colour) {
        pointer_->setText(colour.isEmpty() ? where : where + QStringLiteral("    ") + colour);
    });
    // Its pyramid is there now.
    connect(&pictures_, &SmallPictures::arrived, canvas_, &CompareCanvas::look_again);
    connect(keeping_, &Keeping::refused, this, [this](const Error& error) {
        say(QStringLiteral("⊘ ") + shown(error.message + " " + error.next), "closed");
    });
    connect(keeping_, &Keeping::kept, this, [this](const QString& text, const usecases::Done* done) {
        say(text, "done");
        if (done != nullptr) session_.did(*done, tr("keeping a comparison"));
    });
}

QSlider* CompareView::add_slider(QWidget* row, int most, int value, const QString& name, std::function<void(int)> act) {
    auto* slider = new QSlider(Qt::Horizontal, row);
    slider->setRange(0, most);
    slider->setValue(value);
    slider->setFixedWidth(slider_width_px);
    slider->setMinimumHeight(target_px);
    slider->setAccessibleName(name);
    slider->setToolTip(name);
    connect(slider, &QSlider::valueChanged, this, [act = std::move(act)](int now) { act(now); });
    row->layout()->addWidget(slider);
    return slider;
}

void CompareView::make_means(QWidget* row) {
    auto* line = new FlowLayout(row);
    for (const auto& [means, word] : means_words) {
        auto* button = new QToolButton(row);
        button->setText(tr(word));
        button->setCheckable(true);
        button->setMinimumHeight(target_px);
        connect(button, &QToolButton::clicked, this, [this, m = means] { use_means(m); });
        line->addWidget(button);
        means_buttons_.push_back(button);
    }
    angle_ = add_slider(row, most_degrees, 0, tr("Angle of the dividing line, [ and ]"),
                        [this](int degrees) { canvas_->set_angle(degrees); });
    connect(canvas_, &CompareCanvas::angle_changed, angle_, [this](double degrees) {
        const QSignalBlocker quiet(angle_);
        angle_->setValue(static_cast<int>(std::lround(degrees < 0 ? degrees + most_degrees : degrees)));
    });
    rate_ = add_slider(row, rate_steps, rate_steps / 2, tr("Turns a second, at most two; Space turns by hand"),
                       [this](int tenths) { canvas_->set_turns_per_s(tenths / 10.0); });
    fade_ = add_slider(row, fade_steps, fade_steps / 2, tr("How much of the other is seen"),
                       [this](int percent) { canvas_->set_fade(percent / static_cast<double>(fade_steps)); });
    others_ = new QComboBox(row);
    others_->setMinimumHeight(target_px);
    others_->setAccessibleName(tr("The one compared with the first"));
    connect(others_, &QComboBox::activated, this,
            [this](int index) { canvas_->set_other(static_cast<std::size_t>(index) + 1); });
    line->addWidget(others_);
    const auto act = [&](const QString& text, const QString& tip, auto what) {
        auto* button = new QToolButton(row);
        button->setText(text);
        button->setToolTip(tip);
        button->setMinimumHeight(target_px);
        connect(button, &QToolButton::clicked, this, what);
        line->addWidget(button);
        return button;
    };
    difference_ =
        act(tr("Map the difference"), tr("How much the colour changed, over the whole face, on the easel"), [this] {
            if (!asked_ || comparisons_[*asked_].photographs.size() < 2) return;
            const auto& ids = comparisons_[*asked_].photographs;
            emit difference_wanted(ids.front(), ids[canvas_->other()]);
        });
    act(tr("Pixels (1)"), tr("One pixel of the first photograph on one of the screen"),
        [this] { canvas_->show_pixels(); });
    act(tr("Whole (0)"), tr("The whole face"), [this] { canvas_->fit(); });
    act(tr("Save as a picture …"), tr("What is seen here, with scale and caption"), [this] { keep(false); });
    act(tr("Keep in the case"), tr("The same, with the photographs of this case"), [this] { keep(true); });
    act(tr("To the easel"), tr("Back to the case (Esc)"), [this] { emit closed(); });
}

void CompareView::show_case(const casebook::CaseSnapshot& snapshot, Face face, const std::vector<Uuid>& chosen) {
    face_ = face;
    chosen_ = chosen;
    asked_.reset();
    say({});
    read_again(snapshot);
    const auto has_answer = [](const Comparison& each) { return !each.photographs.empty(); };
    const auto found =
        has_answer(comparisons_.back()) ? comparisons_.end() - 1 : std::ranges::find_if(comparisons_, has_answer);
    if (found != comparisons_.end()) {
        ask(static_cast<std::size_t>(found - comparisons_.begin()));
    } else {
        canvas_->show_photographs({}, {});
        say(comparisons_.front().why_not, "warning");
    }
    canvas_->setFocus();
}

void CompareView::read_again(const casebook::CaseSnapshot& snapshot) {
    snapshot_ = snapshot;
    comparisons_ = comparisons(snapshot, face_, chosen_);
    make_questions();
    if (asked_) show_asked();
}

void CompareView::make_questions() {
    qDeleteAll(question_buttons_);
    question_buttons_.clear();
    for (std::size_t i = 0; i < comparisons_.size(); ++i) {
        const Comparison& each = comparisons_[i];
        auto* button = new QPushButton(each.question, question_row_);
        button->setCheckable(true);
        button->setChecked(asked_ == i);
        button->setMinimumHeight(target_px);
        // A question without an answer can be asked too: it says what is missing.
        button->setToolTip(each.why_not);
        connect(button, &QPushButton::clicked, this, [this, i] { ask(i); });
        question_row_->layout()->addWidget(button);
        question_buttons_.push_back(button);
        button->show();
    }
}

void CompareView::ask(std::size_t question) {
    const Comparison& comparison = comparisons_.at(question);
    if (comparison.photographs.empty()) {
        say(comparison.why_not, "warning");
        for (std::size_t i = 0; i < question_buttons_.size(); ++i) question_buttons_[i]->setChecked(asked_ == i);
        return;
    }
    asked_ = question;
    say({});
    use_means(comparison.means);
    show_asked();
    if (comparison.close) canvas_->show_pixels();
}

std::vector<ComparedPhotograph> CompareView::compared(const Comparison& comparison) const {
    std::vector<ComparedPhotograph> made;
    const Record* frame = usecases::current_frame(*snapshot_, comparison.in_face);
    for (const Uuid& id : comparison.photographs) {
        const Record* photo = snapshot_->find(id);
        if (photo == nullptr || frame == nullptr) continue;
        ComparedPhotograph each{shown_photograph(session_.book().folder(), *snapshot_, *photo, frame), false, false};
        static_cast<void>(pictures_.of(id));  // asks for its pyramid where there is none yet
        each.from_behind = photo->body.text_or("face") != to_text(comparison.in_face);
        each.shows_colour = casebook::shows_colour(photo->body.text_or("light"));
        made.push_back(std::move(each));
    }
    return made;
}

void CompareView::show_asked() {
    for (std::size_t i = 0; i < question_buttons_.size(); ++i) question_buttons_[i]->setChecked(asked_ == i);
    const Comparison& comparison = comparisons_[*asked_];
    const Record* frame = usecases::current_frame(*snapshot_, comparison.in_face);
    auto photographs = compared(comparison);
    if (frame == nullptr || photographs.size() < 2) {
        asked_.reset();
        canvas_->show_photographs({}, {});
        return;
    }
    difference_->setEnabled(photographs[0].shows_colour && photographs[1].shows_colour && !photographs[1].from_behind);
    fill_others(photographs);
    canvas_->show_photographs(casebook::size_of_frame(*frame), std::move(photographs));
}

void CompareView::fill_others(const std::vector<ComparedPhotograph>& photographs) {
    others_->clear();
    for (std::size_t i = 1; i < photographs.size(); ++i)
        others_->addItem(tr("with %1").arg(photographs[i].shown.label));
    others_->setVisible(photographs.size() > 2 && canvas_->means() != Means::side_by_side);
}

void CompareView::use_means(Means means) {
    canvas_->set_means(means);
    for (std::size_t i = 0; i < means_words.size(); ++i) means_buttons_[i]->setChecked(means_words[i].first == means);
    angle_->setVisible(means == Means::half_and_half);
    rate_->setVisible(means == Means::turn_over);
    fade_->setVisible(means == Means::fade);
    others_->setVisible(others_->count() > 1 && means != Means::side_by_side);
}

void CompareView::keep(bool in_case) {
    if (!asked_ || keeping_->running()) return;
    const Comparison& comparison = comparisons_[*asked_];
    const Record* frame = usecases::current_frame(*snapshot_, comparison.in_face);
    if (frame == nullptr) return;
    Keeping::Wanted wanted{snapshot_->picture.id, comparison.photographs, comparison.question,
                           caption_of(*snapshot_, comparison, *frame), std::nullopt};
    if (in_case && session_.book().read_only()) return say(tr("This casebook is open for reading only."), "warning");
    if (!in_case) {
        const QString file = QFileDialog::getSaveFileName(this, tr("Save the comparison"), tr("comparison.png"),
                                                          tr("PNG pictures (*.png)"));
        if (file.isEmpty()) return;
        wanted.file = path_from_utf8(plain(file));
    }
    say(tr("Painting it at full size …"));
    keeping_->begin(std::move(wanted));
}

QString CompareView::said() const {
    return note_->isHidden() ? QString() : note_->text();
}

void CompareView::say(const QString& text, const char* role) {
    note_->setText(text);
    note_->setProperty("role", role);
    note_->style()->unpolish(note_);
    note_->style()->polish(note_);
    note_->setVisible(!text.isEmpty());
}

void CompareView::keyPressEvent(QKeyEvent* event) {
    if (event->key() == Qt::Key_Escape) return emit closed();
    QWidget::keyPressEvent(event);
}

}  // namespace tedge::desk
