// A casebook with one case of a recto in millimetres.
#pragma once

#include <cmath>
#include <nlohmann/json.hpp>

#include "fixed_sources.hpp"
#include "must.hpp"
#include "tedge/casebook/placed_by.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/records.hpp"
#include "temporary_folder.hpp"

namespace tedge {

struct UsecaseBook {
    TemporaryFolder folder{TemporaryFolder::quick_place()};
    FixedClock clock;
    CountingIds ids{5};
    casebook::Casebook book = casebook::Casebook::create(folder / "book", {&clock, &ids}).value();
    usecases::Acting acting{book, book.person_named("Ada Wren").value(), clock};
    Uuid case_id = usecases::open_case(acting, {"River landscape", "", SizeMm{812, 610}}).value();

    // Each a second later than the one before.
    Uuid add(std::string_view kind, const casebook::FieldValues& values) { return add_to(case_id, kind, values); }
    Uuid add_to(const Uuid& in, std::string_view kind, const casebook::FieldValues& values) {
        clock.advance(std::chrono::seconds(1));
        // Written past the gates: what they say is tested beside them.
        casebook::Edit edit;
        edit.case_id = in;
        edit.kind = kind;
        edit.values = values;
        return book.commit(acting.author, {edit}).value().front();
    }
    // As registering would write it where the two lie as they are placed: the error of the reference and its own, in
    // quadrature, and the registration named within the placement.
    Uuid laid_over(const Uuid& reference, const Uuid& moving, double own_mm, const casebook::FieldValues& more = {}) {
        const auto placement = [&](const Uuid& id) { return *snapshot().find(id)->body.placement("face_from_photo"); };
        Placement placed = placement(moving);
        placed.error_mm = std::hypot(placement(reference).error_mm, own_mm);
        casebook::FieldValues values = more;
        values.record("reference", reference)
            .record("moving", moving)
            .flag("usable", true)
            .number("error_mm", placed.error_mm);
        const Uuid registration = add("registration", values);
        casebook::FieldValues lies;
        must(usecases::change_record(acting, moving, casebook::place_by(lies, placed, registration)));
        return registration;
    }
    std::size_t count(std::string_view kind) { return snapshot().of_kind(kind).size(); }
    casebook::CaseSnapshot snapshot() { return book.snapshot(case_id).value(); }
    Uuid recto() { return usecases::current_frame(snapshot(), Face::recto)->id; }
};

// A square of that side with its upper left corner there.
inline Region square(double x_mm, double y_mm, double side_mm) {
    return must(Region::rectangle({x_mm, y_mm}, {side_mm, side_mm}));
}

}  // namespace tedge
