// A casebook in a folder of its own, with time and ids that the test decides.
#pragma once

#include <catch2/catch.hpp>

#include "fixed_sources.hpp"
#include "must.hpp"
#include "tedge/casebook/casebook.hpp"
#include "temporary_folder.hpp"

namespace tedge::casebook {

struct Book {
    TemporaryFolder folder;
    FixedClock clock;
    CountingIds ids;
    Casebook book;
    Uuid author;

    explicit Book(std::uint8_t series = 1)
        : ids(series),
          book(must(Casebook::create(folder / "book", {&clock, &ids}))),
          author(must(book.person_named("Ada Wren"))) {}

    [[nodiscard]] std::filesystem::path path() const { return folder / "book"; }
    [[nodiscard]] Sources sources() { return {&clock, &ids}; }

    Uuid add_case(std::string_view title = "River landscape with a ferry") {
        clock.advance(std::chrono::milliseconds(5));
        Edit edit;
        edit.kind = "case";
        edit.values.text("title", title);
        return must(book.commit(author, {edit})).front();
    }

    Uuid add(const Uuid& case_id, std::string_view kind, const FieldValues& values) {
        clock.advance(std::chrono::milliseconds(5));
        Edit edit;
        edit.case_id = case_id;
        edit.kind = kind;
        edit.values = values;
        return must(book.commit(author, {edit})).front();
    }

    Expected<std::vector<Uuid>> change(const Uuid& record, Operation operation, const FieldValues& values = {},
                                       std::vector<Uuid> names = {}) {
        clock.advance(std::chrono::milliseconds(5));
        Edit edit;
        edit.operation = operation;
        edit.record = record;
        edit.values = values;
        edit.names = std::move(names);
        return book.commit(author, {edit});
    }

    Uuid add_face(const Uuid& case_id) {
        return add(case_id, "face_frame",
                   FieldValues().text("face", "recto").number("width_mm", 812).number("height_mm", 610));
    }
};

}  // namespace tedge::casebook
