// A book to be damaged.
#pragma once

#include "book_fixture.hpp"

namespace tedge::casebook {

// A small book with something of everything, closed, so that all of it lies in the one file.
inline void fill_small_book(const std::filesystem::path& folder, Sources sources) {
    Casebook book = must(Casebook::create(folder, sources));
    const Uuid author = must(book.person_named("Ada Wren"));
    const auto commit = [&](Edit edit) { return must(book.commit(author, {std::move(edit)})).front(); };
    Edit picture;
    picture.kind = "case";
    picture.values.text("title", "River landscape with a ferry").text("private_note", std::string(3000, 'n'));
    const Uuid id = commit(picture);
    Edit frame;
    frame.kind = "face_frame";
    frame.case_id = id;
    frame.values.text("face", "recto").number("width_mm", 812).number("height_mm", 610);
    const Uuid recto = commit(frame);
    for (int i = 0; i < 40; ++i) {
        Edit finding;
        finding.kind = "finding";
        finding.case_id = id;
        finding.reason = "seen in raking light";
        finding.values.record("face_frame", recto)
            .region("region", Region::rectangle({10.0 * i, 20}, {8, 8}).value())
            .text("layer", "paint")
            .text("term", "flaking " + std::to_string(i));
        commit(finding);
    }
}

}  // namespace tedge::casebook
