// A small table of words and figures in a label: the first column to the left, figures to the right.
#pragma once

#include <QString>
#include <QStringList>

namespace tedge::desk {

// `tag`: "th" for the heads of the columns, "td" below them.
[[nodiscard]] QString table_row(const QStringList& cells, const char* tag = "td");
[[nodiscard]] QString table_of(const QString& rows);

}  // namespace tedge::desk
