#include "forms/form_context.hpp"

#include "forms/field_editor.hpp"
#include "tedge/usecases/usual_currency.hpp"
#include "text.hpp"

namespace tedge::desk {

FormContext form_context(BookSession& session, casebook::CaseSnapshot snapshot, const casebook::Kind* kind) {
    FormContext context;
    context.currency = shown(usecases::usual_currency(session.book(), snapshot.picture.id).code());
    context.today = to_text(session.how().clock->now()).substr(0, 10);
    context.original_path = [&session](const QString& digest) { return session.book().original_path(plain(digest)); };
    context.kind = kind;
    context.snapshot = std::move(snapshot);
    return context;
}

Expected<void> take_into_book(casebook::Casebook& book, std::span<FieldEditor* const> editors,
                              casebook::FieldValues& values) {
    for (const FieldEditor* each : editors) {
        if (const QString name = each->new_person(); !name.isEmpty()) {
            const auto person = book.person_named(plain(name));
            if (!person) return pass_on(person);
            values.record(each->field().name, *person);
        }
        if (const QString file = each->new_file(); !file.isEmpty()) {
            const auto kept = book.store_original(file.toStdString());
            if (!kept) return pass_on(kept);
            values.text(each->field().name, kept->sha256);
        }
    }
    return {};
}

}  // namespace tedge::desk
