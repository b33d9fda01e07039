#include "fit_text.hpp"

#include <algorithm>

namespace tedge::desk {

namespace {

const QString& between() {
    static const QString text = QStringLiteral(" · ");
    return text;
}

// As wide as a part may be when all parts together take `width_px`.
int widest_part(const QStringList& parts, const QFontMetrics& metrics, int width_px) {
    QList<int> widths;
    for (const QString& part : parts) widths << metrics.horizontalAdvance(part);
    std::ranges::sort(widths);
    int left_px = width_px;
    for (qsizetype i = 0; i < widths.size(); ++i) {
        const int share = left_px / static_cast<int>(widths.size() - i);
        if (widths[i] > share) return std::max(share, 0);
        left_px -= widths[i];
    }
    return width_px;
}

}  // namespace

QString fit_parts(const QStringList& parts, const QFontMetrics& metrics, int width_px) {
    QString whole = parts.join(between());
    if (parts.isEmpty() || metrics.horizontalAdvance(whole) <= width_px) return whole;
    const int gaps = static_cast<int>(parts.size() - 1) * metrics.horizontalAdvance(between());
    const int widest = widest_part(parts, metrics, width_px - gaps);
    // Below two letters nothing is told: rather fewer parts, and in the end none.
    if (widest < metrics.horizontalAdvance(QStringLiteral("nn…")))
        return parts.size() > 1 ? fit_parts(parts.first(parts.size() - 1), metrics, width_px) : QString();
    QStringList fitted;
    for (const QString& part : parts) fitted << metrics.elidedText(part, Qt::ElideRight, widest);
    return metrics.elidedText(fitted.join(between()), Qt::ElideRight, width_px);
}

}  // namespace tedge::desk
