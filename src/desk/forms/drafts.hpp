// Half-typed forms: kept as they are typed, there again after the lamp fell. Plain text by form and field; a form that
// is saved or given up leaves none.
#pragma once

#include <QMap>
#include <QString>
#include <filesystem>

#include "tedge/casebook/casebook.hpp"

namespace tedge::desk {

// Of a record's form: which of its changes whoever typed had before him, their ids with blanks between. No field's name
// begins so.
inline const QString seen_key = QStringLiteral("@seen");
[[nodiscard]] std::vector<Uuid> ids_in(const QString& text);

class Drafts {
public:
    // The file lies in the casebook's folder but outside the book itself: drafts are nobody's record yet.
    explicit Drafts(std::filesystem::path file);

    [[nodiscard]] QMap<QString, QString> of_form(const QString& form) const { return forms_.value(form); }
    [[nodiscard]] bool has(const QString& form) const { return forms_.contains(form); }
    // An empty map leaves no draft.
    void keep(const QString& form, const QMap<QString, QString>& typed);
    void drop(const QString& form) { keep(form, {}); }
    // Those of records that were erased since they were typed, here or on another machine, go for good.
    void drop_erased(casebook::Casebook& book);

private:
    using Forms = QMap<QString, QMap<QString, QString>>;
    [[nodiscard]] Forms read() const;
    void write() const;
    std::filesystem::path file_;
    Forms forms_;
};

}  // namespace tedge::desk
