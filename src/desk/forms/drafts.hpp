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

    [[nodiscard]] QMap<QString, QString> of_form(const QString& form) const { return forms_.value(form); }
    [[nodiscard]] bool has(const QString& form) const { return forms_.contains(form); }
    // An empty map leaves no draft.
    void keep(const QString& form, const QMap<QString, QString>& typed);
    void drop(const QString& form) { keep(form, {}); }

private:
    using Forms = QMap<QString, QMap<QString, QString>>;
    [[nodiscard]] Forms read() const;
    std::filesystem::path file_;
    Forms forms_;
};

}  // namespace tedge::desk
