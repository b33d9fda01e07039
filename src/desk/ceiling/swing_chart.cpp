#include "ceiling/swing_chart.hpp"

#include <QPainter>
#include <algorithm>

#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr std::size_t most_rows = 6;
constexpr int bar_px = 9;
constexpr int row_gap_px = 8;

std::int64_t lower_end(const money::CeilingSwing& swing) {
    return std::min(swing.at_low.minor, swing.at_high.minor);
}

std::int64_t upper_end(const money::CeilingSwing& swing) {
    return std::max(swing.at_low.minor, swing.at_high.minor);
}

QString what_of(const std::string& field) {
    const std::string last = field.substr(field.rfind('.') + 1);
    if (last == "price") return QObject::tr("price");
    if (last == "months") return QObject::tr("months to sell");
    if (last == "price_factor") return QObject::tr("what it does to the price");
    if (last == "cost_factor") return QObject::tr("what it does to the costs");
    return last == "amount" ? QObject::tr("cost") : shown(last);
}

QString words_of(const money::CeilingSwing& swing) {
    return QObject::tr("%1 — at its low %2, at its high %3")
        .arg(SwingChart::name_of(swing), shown(to_display_text(swing.at_low)), shown(to_display_text(swing.at_high)));
}

}  // namespace

SwingChart::SwingChart(QWidget* parent) : QWidget(parent) {
    setSizePolicy(QSizePolicy::Preferred, QSizePolicy::Fixed);
    hide();
}

QString SwingChart::name_of(const money::CeilingSwing& swing) {
    const QString what = what_of(swing.field);
    return swing.name.empty() ? what : shown(swing.name) + QStringLiteral(": ") + what;
}

void SwingChart::show_swings(std::vector<money::CeilingSwing> swings, const std::optional<Money>& now) {
    std::erase_if(swings, [](const auto& swing) { return swing.width_minor() == 0; });
    if (swings.size() > most_rows) swings.erase(swings.begin() + most_rows, swings.end());
    swings_ = std::move(swings);
    now_ = now;
    QStringList said;
    for (const auto& swing : swings_) said << words_of(swing);
    setAccessibleName(tr("What moves the limit most"));
    setAccessibleDescription(said.join(QStringLiteral("; ")));
    setToolTip(said.join(u'\n'));
    setVisible(!swings_.empty());
    updateGeometry();
    update();
}

int SwingChart::row_height() const {
    return fontMetrics().height() + bar_px + row_gap_px;
}

QSize SwingChart::sizeHint() const {
    return {280, static_cast<int>(swings_.size()) * row_height() + row_gap_px};
}

void SwingChart::paintEvent(QPaintEvent*) {
    if (swings_.empty()) return;
    const Theme& look = theme();
    QPainter painter(this);
    std::int64_t from = now_ ? now_->minor : lower_end(swings_.front()), to = from;
    for (const auto& swing : swings_) {
        from = std::min(from, lower_end(swing));
        to = std::max(to, upper_end(swing));
    }
    const double span = std::max<double>(1.0, static_cast<double>(to - from));
    const auto x_of = [&](std::int64_t minor) {
        return static_cast<int>(static_cast<double>(minor - from) / span * (width() - 2));
    };
    int top = 0;
    for (const auto& swing : swings_) {
        painter.setPen(look.ink);
        const QString range = shown(to_display_text({lower_end(swing), swing.at_low.currency})) +
                              QStringLiteral(" – ") + shown(to_display_text({upper_end(swing), swing.at_low.currency}));
        const int room = width() - fontMetrics().horizontalAdvance(range) - row_gap_px;
        painter.drawText(0, top + fontMetrics().ascent(),
                         fontMetrics().elidedText(name_of(swing), Qt::ElideRight, std::max(40, room)));
        painter.setPen(look.faded_ink);
        painter.drawText(width() - fontMetrics().horizontalAdvance(range), top + fontMetrics().ascent(), range);
        const int bar_top = top + fontMetrics().height() + 1;
        painter.fillRect(0, bar_top, width(), bar_px, look.rule);
        painter.fillRect(x_of(lower_end(swing)), bar_top, std::max(2, x_of(upper_end(swing)) - x_of(lower_end(swing))),
                         bar_px, look.done);
        // Where the limit stands now, across the bar alone: through the words it could not be told from a letter.
        if (now_) painter.fillRect(x_of(now_->minor), bar_top - 1, 2, bar_px + 3, look.closed);
        top += row_height();
    }
}

}  // namespace tedge::desk
