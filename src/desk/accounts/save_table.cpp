#include "accounts/save_table.hpp"

#include <QFileDialog>

#include "tedge/base/files.hpp"
#include "tedge/base/own_files.hpp"
#include "text.hpp"

namespace tedge::desk {

QString ask_for_table(QWidget* parent, const QString& title, const QString& name) {
    return QFileDialog::getSaveFileName(parent, title, name, QObject::tr("Comma-separated table (*.csv)"));
}

Expected<void> save_table(const QString& file, const std::string& csv) {
    return write_table_durably(path_from_utf8(plain(file)), csv);
}

}  // namespace tedge::desk
