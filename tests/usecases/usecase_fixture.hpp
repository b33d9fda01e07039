// A casebook with one picture in it, and someone who works on it.
#pragma once

#include "book_fixture.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/records.hpp"

namespace tedge::usecases {

using casebook::Book;
using casebook::FieldValues;
using casebook::must;
using casebook::Record;

struct Workshop {
    Book kept;
    Acting acting{kept.book, kept.author, kept.clock};
    Uuid picture = must(open_case(acting, {"River landscape with a ferry", "", SizeMm{400, 320}}));

    [[nodiscard]] casebook::CaseSnapshot snapshot() { return must(kept.book.snapshot(picture)); }
    [[nodiscard]] Uuid recto() { return current_frame(snapshot(), Face::recto)->id; }
    Uuid add(std::string_view kind, const FieldValues& values) { return kept.add(picture, kind, values); }
    [[nodiscard]] std::size_t count(std::string_view kind) { return snapshot().of_kind(kind).size(); }
};

// A square of that side with its upper left corner there.
inline Region square(double x_mm, double y_mm, double side_mm) {
    return must(Region::rectangle({x_mm, y_mm}, {side_mm, side_mm}));
}

}  // namespace tedge::usecases
