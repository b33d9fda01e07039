#include "tacks.hpp"

#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>
#include <algorithm>
#include <cmath>

#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int count = static_cast<int>(usecases::all_stages.size());

enum class Tack { open, done, here, closed };

Tack tack_at(const usecases::StageMarks& marks, const ClosedStages& closed, std::size_t i) {
    if (closed[i]) return Tack::closed;
    if (marks.now == usecases::all_stages[i] && marks.done[i]) return Tack::here;
    return marks.done[i] ? Tack::done : Tack::open;
}

void paint_tack(QPainter& painter, QPointF centre, double radius, Tack tack) {
    const Theme& t = theme();
    const double line = std::max(1.2, radius / 4);
    painter.setBrush(Qt::NoBrush);
    switch (tack) {
        case Tack::done:
            painter.setPen(Qt::NoPen);
            painter.setBrush(t.done);
            break;
        case Tack::here:
            painter.setPen(QPen(t.done, 2 * line));
            painter.setBrush(t.sheet);
            break;
        case Tack::closed:
            painter.setPen(QPen(t.closed, line));
            break;
        case Tack::open:
            painter.setPen(QPen(t.faded_ink, line));
            break;
    }
    painter.drawEllipse(centre, radius, radius);
    if (tack != Tack::closed) return;
    const double d = radius * 0.7;
    painter.drawLine(centre - QPointF(d, -d), centre + QPointF(d, -d));
}

QString word_of(Tack tack) {
    switch (tack) {
        case Tack::done:
            return QStringLiteral("done");
        case Tack::here:
            return QStringLiteral("here");
        case Tack::closed:
            return QStringLiteral("closed");
        case Tack::open:
            break;
    }
    return QStringLiteral("open");
}

double step_of(const QRectF& into) {
    return into.width() / count;
}

QFont name_font(bool selected) {
    QFont font = text_font();
    font.setPointSizeF(9.5);
    font.setBold(selected);
    font.setUnderline(selected);
    return font;
}

QString name_at(int index) {
    return shown(to_text(usecases::all_stages[static_cast<std::size_t>(index)]));
}

bool names_fit(double step) {
    const QFontMetricsF metrics(name_font(true));
    for (int i = 0; i < count; ++i) {
        if (metrics.horizontalAdvance(name_at(i)) > step - 4) return false;
    }
    return true;
}

// Where the row is too narrow every second name stands a line lower and has twice the room.
void paint_name(QPainter& painter, QPointF tack, int index, double step, bool selected) {
    const bool fit = names_fit(step);
    const QFont font = name_font(selected);
    const QFontMetricsF metrics(font);
    const QString name = metrics.elidedText(name_at(index), Qt::ElideRight, fit ? step : 2 * step - 4);
    const double width = std::ceil(metrics.horizontalAdvance(name)) + 1;
    const double y = tack.y() + (fit ? 12 : index % 2 == 0 ? 9 : 22);
    QRectF at(tack.x() - width / 2, y, width, 18);
    const QRectF window(painter.window());
    if (at.left() < window.left()) at.moveLeft(window.left() + 2);
    if (at.right() > window.right()) at.moveRight(window.right() - 2);
    painter.setFont(font);
    painter.setPen(selected ? theme().ink : theme().faded_ink);
    painter.drawText(at, Qt::AlignTop | Qt::AlignHCenter, name);
}

}  // namespace

void paint_tacks(QPainter& painter, const QRectF& into, const usecases::StageMarks& marks, const ClosedStages& closed,
                 bool with_names, int selected) {
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    const double step = step_of(into);
    const double y = with_names ? into.top() + 13 : into.center().y();
    const double radius = with_names ? 8 : std::min(4.0, step / 3);
    painter.setPen(QPen(theme().rule, with_names ? 2 : 1));
    painter.drawLine(QPointF(into.left() + step / 2, y), QPointF(into.right() - step / 2, y));
    for (int i = 0; i < count; ++i) {
        const auto index = static_cast<std::size_t>(i);
        const QPointF centre(into.left() + step * (i + 0.5), y);
        painter.setPen(Qt::NoPen);
        painter.setBrush(theme().paper);
        painter.drawEllipse(centre, radius + 3, radius + 3);
        paint_tack(painter, centre, radius, tack_at(marks, closed, index));
        if (with_names) paint_name(painter, centre, i, step, i == selected);
    }
    painter.restore();
}

QString tacks_in_words(const usecases::StageMarks& marks, const ClosedStages& closed) {
    QStringList words;
    for (std::size_t i = 0; i < usecases::all_stages.size(); ++i) {
        words << shown(to_text(usecases::all_stages[i])) + QLatin1Char(' ') + word_of(tack_at(marks, closed, i));
    }
    return words.join(QStringLiteral(", "));
}

TackRow::TackRow(QWidget* parent) : QWidget(parent) {
    setFocusPolicy(Qt::StrongFocus);
    setAccessibleName(tr("Stages of the work"));
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
}

void TackRow::show_marks(const usecases::StageMarks& marks, const ClosedStages& closed) {
    marks_ = marks;
    closed_ = closed;
    setAccessibleDescription(tacks_in_words(marks, closed));
    update();
}

void TackRow::select(usecases::Stage stage) {
    const auto at = std::ranges::find(usecases::all_stages, stage);
    selected_ = static_cast<int>(at - usecases::all_stages.begin());
    update();
}

void TackRow::choose(int index) {
    selected_ = std::clamp(index, 0, count - 1);
    update();
    emit chosen(selected());
}

void TackRow::paintEvent(QPaintEvent* /*event*/) {
    QPainter painter(this);
    paint_tacks(painter, rect(), marks_, closed_, true, selected_);
    if (!hasFocus()) return;
    painter.setPen(QPen(theme().done, 2));
    painter.drawRect(rect().adjusted(1, 1, -2, -2));
}

void TackRow::mousePressEvent(QMouseEvent* event) {
    choose(static_cast<int>(event->position().x() / step_of(rect())));
}

void TackRow::keyPressEvent(QKeyEvent* event) {
    if (event->key() == Qt::Key_Left) return choose(selected_ - 1);
    if (event->key() == Qt::Key_Right) return choose(selected_ + 1);
    QWidget::keyPressEvent(event);
}

}  // namespace tedge::desk
