// A file that is kept in the casebook: chosen or dropped; one that is kept can be taken out again as a copy.
#pragma once

#include <filesystem>
#include <functional>

#include "forms/entries/entry.hpp"

class QLabel;
class QPushButton;

namespace tedge::desk {

class FileEntry : public Entry {
    Q_OBJECT

public:
    // Where the casebook keeps the file of a digest.
    using Originals = std::function<std::filesystem::path(const QString& digest)>;
    FileEntry(Originals originals, QWidget* parent);
    [[nodiscard]] QString typed() const override;  // a path, or the digest of what is kept
    void set_typed(const QString& text) override;
    [[nodiscard]] QWidget* focused() const override;
    void set_name(const QString& name) override;

protected:
    void dragEnterEvent(QDragEnterEvent* event) override;
    void dropEvent(QDropEvent* event) override;

private:
    void choose();
    void save_copy();
    Originals originals_;
    QString text_;
    QLabel* said_;
    QPushButton* choose_;
    QPushButton* copy_;
    QPushButton* take_off_;
};

}  // namespace tedge::desk
