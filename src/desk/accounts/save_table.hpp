// A table on its way into a file that a spreadsheet reads.
#pragma once

#include <QString>
#include <string>

#include "tedge/base/error.hpp"

class QWidget;

namespace tedge::desk {

// "" where nobody wants it after all.
[[nodiscard]] QString ask_for_table(QWidget* parent, const QString& title, const QString& name);
// Errors: those of write_table_durably.
[[nodiscard]] Expected<void> save_table(const QString& file, const std::string& csv);

}  // namespace tedge::desk
