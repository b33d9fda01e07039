// A book with one case of a recto in millimetres, and a form over it.
#pragma once

#include <QLabel>
#include <QPushButton>
#include <algorithm>
#include <nlohmann/json.hpp>

#include "fixed_sources.hpp"
#include "forms/record_form.hpp"
#include "tedge/usecases/cases.hpp"
#include "temporary_folder.hpp"
#include "text.hpp"

namespace tedge::desk {

struct FormBook {
    TemporaryFolder folder{TemporaryFolder::quick_place()};
    FixedClock clock;
    CountingIds ids{7};
    Uuid case_id;
    std::unique_ptr<BookSession> session;

    FormBook() {
        {
            auto book = casebook::Casebook::create(folder / "book", {&clock, &ids}).value();
            const usecases::Acting acting{book, book.person_named("Ada Wren").value(), clock};
            case_id = usecases::open_case(acting, {"River landscape", "", SizeMm{812, 610}}).value();
        }
        session = BookSession::open({folder / "book", "Ada Wren", &clock, &ids}).value();
    }

    Uuid add(std::string_view kind, const casebook::FieldValues& values) {
        // Past the gates, each a second later than the one before.
        clock.advance(std::chrono::seconds(1));
        casebook::Edit edit;
        edit.case_id = case_id;
        edit.kind = kind;
        edit.values = values;
        return session->book().commit(session->acting().author, {edit}).value().front();
    }
    casebook::CaseSnapshot snapshot() { return session->book().snapshot(case_id).value(); }
    Uuid recto() { return usecases::current_frame(snapshot(), Face::recto)->id; }
    Drafts drafts() const { return Drafts(folder / "half-typed.json"); }
};

inline const casebook::Kind& kind(std::string_view name) {
    return *casebook::find_kind(name);
}

inline QPushButton* button(const QWidget& in, const QString& text) {
    for (QPushButton* each : in.findChildren<QPushButton*>()) {
        if (each->text().remove(QLatin1Char('&')) == text) return each;
    }
    return nullptr;
}

// The button of a word of one field.
inline QPushButton* word(const RecordForm& form, std::string_view field, const QString& said) {
    return form.editor(field) != nullptr ? button(*form.editor(field), said) : nullptr;
}

inline bool says(const QWidget& root, const QString& text) {
    for (const QLabel* label : root.findChildren<QLabel*>()) {
        if (label->isVisibleTo(&root) && label->text().contains(text)) return true;
    }
    return false;
}

}  // namespace tedge::desk
