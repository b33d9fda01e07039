// Between a field's value and the text that stands for it in a form. One text for each value, so that half-typed forms
// can be kept as they are: "825.5", "tinted-varnish", "31 March 2026", "5 July 2026, 14:30" by the clock of its zone,
// "1200.00 GBP", "300.00 – 400.00 – 900.00 EUR", a person's name, the id of another record (which no entry shows),
// "not-seen: framed", the digest of a file kept or the path of one that is to be kept.
#pragma once

#include <QString>
#include <QStringList>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>

#include "tedge/casebook/field_table.hpp"
#include "tedge/casebook/record.hpp"
#include "tedge/casebook/snapshot.hpp"

namespace tedge::desk {

// What a form needs to know of its case; form_context() fills it.
struct FormContext {
    casebook::CaseSnapshot snapshot;
    const casebook::Kind* kind = nullptr;
    QString currency;   // proposed for amounts, ISO 4217
    std::string today;  // ISO day
    QString zone{};     // as it stands in the form: the clock by which its moments are typed
    // Where the casebook keeps the file of a digest.
    std::function<std::filesystem::path(const QString& digest)> original_path{};
};

// Fields that are entered in the form. Places, placements and photographs have ways of their own, of a map only the
// parts of parts_asked() are asked, and what the program writes by itself (the placement of a photograph) is not typed.
[[nodiscard]] bool is_typed(const casebook::Field& field, const casebook::Kind& kind);

[[nodiscard]] QString typed_text(const casebook::Field& field, const casebook::Body& body, const FormContext& context);

struct Typed {
    QString fault;                  // why it does not fit, one sentence; "" where it does
    QString meaning;                // what was understood, where the text does not say it: "825.5 mm", "about 1847"
    std::optional<QString> person;  // a name that the casebook does not know yet
    std::optional<QString> file{};  // the path of a file that the casebook does not hold yet
    [[nodiscard]] bool fits() const { return fault.isEmpty(); }
};

// Puts a text that is not empty into the values where it fits. A person who is new stands there as the nil id, a file
// that is new as a digest of noughts, until the form is saved.
[[nodiscard]] Typed read_typed(const casebook::Field& field, const QString& text, const FormContext& context,
                               casebook::FieldValues& into);

// Of "not-seen: framed" the word and the remark; either may be empty.
struct Answered {
    QString word;
    QString remark;
};
[[nodiscard]] Answered parts_of_answer(const QString& text);
[[nodiscard]] QString answer_text(const Answered& answered);

// An estimate's parts, the currency last: {"300.00", "400.00", "900.00", "GBP"}; of one amount: {"300.00", "GBP"}.
[[nodiscard]] QStringList parts_of_amount(const QString& text);

// "recto, 610 × 460 mm (…)", "Recto, raking light, as received": a record as a list of choices names it.
[[nodiscard]] QString choice_text(const casebook::Record& record);

}  // namespace tedge::desk
