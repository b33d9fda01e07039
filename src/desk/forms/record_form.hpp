// The form of one record, made from the field table of its kind.
#pragma once

#include <QTimer>
#include <QWidget>
#include <optional>

#include "book_session.hpp"
#include "forms/drafts.hpp"
#include "forms/field_editor.hpp"

class QPushButton;
class QVBoxLayout;

namespace tedge::desk {

class RecordForm : public QWidget {
    Q_OBJECT

public:
    RecordForm(BookSession& session, Drafts& drafts, QWidget* parent = nullptr);

    // A new record of a kind; a half-typed one comes back as it was left.
    void begin_new(const Uuid& case_id, const casebook::Kind& kind);
    void edit(const casebook::Record& record);
    // The place drawn on the easel, and the face it lies on.
    void set_place(const Uuid& face_frame, const Region& region);
    [[nodiscard]] bool wants_place() const;

public slots:
    void save();
    void give_up();

signals:
    void saved(const tedge::Uuid& record);
    void closed();
    void place_wanted();

private:
    void rebuild();
    void keep_draft();
    void show_gates();
    void show_error(const Error& error);
    void offer_override(const Error& error);
    [[nodiscard]] bool gather(casebook::FieldValues& values);
    [[nodiscard]] QString form_name() const;

    BookSession& session_;
    Drafts& drafts_;
    const casebook::Kind* kind_ = nullptr;
    Uuid case_id_;
    std::optional<casebook::Record> record_;
    std::optional<std::pair<Uuid, Region>> place_;
    std::vector<FieldEditor*> editors_;
    QVBoxLayout* column_ = nullptr;
    QWidget* body_ = nullptr;
    QLabel* gate_ = nullptr;
    QLabel* place_text_ = nullptr;
    QTimer draft_timer_;
};

}  // namespace tedge::desk
