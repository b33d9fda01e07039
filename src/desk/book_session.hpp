// The casebook that is open at the desk, who works in it, what can be taken back, and whether a client looks.
#pragma once

#include <QObject>
#include <QString>
#include <QTimer>
#include <memory>
#include <optional>
#include <string_view>
#include <vector>

#include "tedge/usecases/acting.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::desk {

// Errors of BookSession::open besides those of the casebook's: a book that is written to wants a name, one that is only
// looked at does not.
inline constexpr std::string_view nobody_works = "session.nobody-works";
[[nodiscard]] Error nobody_works_error();

class BookSession : public QObject {
    Q_OBJECT

public:
    struct Opened {
        std::filesystem::path folder;
        std::string author;
        Clock* clock = nullptr;
        IdSource* ids = nullptr;
    };
    [[nodiscard]] static Expected<std::unique_ptr<BookSession>> open(const Opened& how);

    [[nodiscard]] casebook::Casebook& book() { return book_; }
    [[nodiscard]] usecases::Acting acting() { return {book_, author_, *how_.clock}; }
    [[nodiscard]] const Opened& how() const { return how_; }

    // While a client looks, money, names and private notes are shown nowhere.
    [[nodiscard]] bool client_looks() const { return client_looks_; }

    // Keeps what takes the act back, and tells everybody to look again.
    void did(usecases::Done done, const QString& what);
    // Several that were one act for the person are taken back together, the last first.
    void did(std::vector<usecases::Done> done, const QString& what);
    // While changed() is told: the case that alone was changed. Nothing where anything may have been.
    [[nodiscard]] const std::optional<Uuid>& changed_case() const { return changed_case_; }
    [[nodiscard]] bool can_undo() const { return !undo_.empty(); }
    [[nodiscard]] bool can_redo() const { return !redo_.empty(); }
    [[nodiscard]] QString undo_text() const;

public slots:
    void set_client_looks(bool looks);
    void undo();
    void redo();

signals:
    void changed();  // by us or by another program
    void client_looks_changed(bool looks);
    void refused(const tedge::Error& error);

private:
    struct Step {
        std::vector<casebook::Edit> inverses;
        QString what;
    };
    BookSession(Opened how, casebook::Casebook book, Uuid author);
    void carry_out(std::vector<Step>& from, std::vector<Step>& to);
    void look_for_other_writers();
    void tell_changed(const Uuid& record);

    Opened how_;
    casebook::Casebook book_;
    Uuid author_;
    bool client_looks_ = false;
    std::optional<Uuid> changed_case_;
    std::vector<Step> undo_;
    std::vector<Step> redo_;
    std::int64_t data_version_ = 0;
    QTimer watch_;
};

}  // namespace tedge::desk
