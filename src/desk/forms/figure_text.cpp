#include "forms/figure_text.hpp"

#include <QRegularExpression>

namespace tedge::desk {

QString ungrouped(const QString& figure) {
    // One mark throughout. \s takes in the narrow and the unbroken blank.
    static const QRegularExpression in_threes(QStringLiteral("^\\d{1,3}([\\s,'’])\\d{3}(?:\\1\\d{3})*(?:\\.\\d+)?$"),
                                              QRegularExpression::UseUnicodePropertiesOption);
    const QString text = figure.trimmed();
    const auto match = in_threes.match(text);
    return match.hasMatch() ? QString(text).remove(match.captured(1)) : text;
}

}  // namespace tedge::desk
