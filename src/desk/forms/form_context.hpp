// What every form does the same way: what it knows of its case when it begins, and what it names that is new.
#pragma once

#include <span>

#include "book_session.hpp"
#include "forms/typed_value.hpp"

namespace tedge::desk {

class FieldEditor;

// What a form of this case knows. The session outlives it.
[[nodiscard]] FormContext form_context(BookSession& session, casebook::CaseSnapshot snapshot,
                                       const casebook::Kind* kind);

// People and files that were typed and that the casebook does not hold yet are taken into it, and their ids and digests
// put into the values. A file is kept before the record that names it: a digest without its file would be reported as
// lost.
[[nodiscard]] Expected<void> take_into_book(casebook::Casebook& book, std::span<FieldEditor* const> editors,
                                            casebook::FieldValues& values);

}  // namespace tedge::desk
