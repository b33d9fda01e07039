// Half-typed forms: kept as they are typed, there again after the lamp fell. Plain text by form and field; a form that
// is saved or given up leaves none.
#pragma once

#include <QMap>
#include <QString>
#include <filesystem>

namespace tedge::desk {

class Drafts {
public:
    // The file lies in the casebook's folder but outside the book itself: drafts are nobody's record yet.
    explicit Drafts(std::filesystem::path file);

    [[nodiscard]] QMap<QString, QString> of_form(const QString& form) const;
    void keep(const QString& form, const QMap<QString, QString>& typed);
    void drop(const QString& form);

private:
    void save() const;
    std::filesystem::path file_;
    QMap<QString, QMap<QString, QString>> forms_;
};

}  // namespace tedge::desk
