#include "table_words.hpp"

namespace tedge::desk {

QString table_row(const QStringList& cells, const char* tag) {
    QString out = QStringLiteral("<tr>");
    for (qsizetype i = 0; i < cells.size(); ++i) {
        out += QStringLiteral("<%1 align=\"%2\" style=\"padding:2px 6px 2px 0\">%3</%1>")
                   .arg(QString::fromLatin1(tag), i == 0 ? QStringLiteral("left") : QStringLiteral("right"),
                        cells[i].toHtmlEscaped());
    }
    return out + QStringLiteral("</tr>");
}

QString table_of(const QString& rows) {
    return QStringLiteral("<table width=\"100%\" cellspacing=\"0\">%1</table>").arg(rows);
}

}  // namespace tedge::desk
