#include "tedge/usecases/say_photographs.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

namespace tedge::usecases {

namespace {

using casebook::FieldValues;
using casebook::Record;

bool says_anything(const SaidOfPhotographs& said) {
    const ShotSaid& shot = said.shot;
    return said.confirms || shot.face || !shot.light.empty() || !shot.stage.empty() || !shot.raking_side.empty() ||
           shot.raking_angle_degrees || !said.photographer.empty() || !said.licence.empty() || said.has_scale ||
           said.has_chart;
}

void add_lamp(const Record& photograph, const ShotSaid& shot, FieldValues& values) {
    if (!shot.raking_side.empty()) values.text("raking_side", shot.raking_side);
    if (shot.raking_angle_degrees) values.number("raking_angle_degrees", *shot.raking_angle_degrees);
    if (shot.light.empty() || shot.light == "raking") return;
    for (const char* field : {"raking_side", "raking_angle_degrees"}) {
        if (photograph.body.has(field) && !values.set_values().contains(field)) values.unset(field);
    }
}

// A photograph lies on the face it showed: another face takes its place away, as say_face() does.
void add_face(const Record& photograph, const ShotSaid& shot, FieldValues& values) {
    if (!shot.face) return;
    values.text("face", to_text(*shot.face));
    if (photograph.body.text_or("face") == to_text(*shot.face)) return;
    for (const char* field : {"face_frame", "face_from_photo", "shown_first"}) {
        if (photograph.body.has(field)) values.unset(field);
    }
}

FieldValues values_for(const Record& photograph, const SaidOfPhotographs& said, const std::optional<Uuid>& author) {
    FieldValues values;
    add_face(photograph, said.shot, values);
    if (!said.shot.light.empty()) values.text("light", said.shot.light);
    if (!said.shot.stage.empty()) values.text("stage", said.shot.stage);
    add_lamp(photograph, said.shot, values);
    if (author) values.record("author", *author);
    if (!said.licence.empty()) values.text("licence", said.licence);
    if (said.has_scale) values.flag("has_scale", *said.has_scale);
    if (said.has_chart) values.flag("has_chart", *said.has_chart);
    if (said.confirms && photograph.body.flag("guessed")) values.flag("guessed", false);
    return values;
}

Expected<std::vector<Done>> say_each(const Acting& acting, const std::vector<Uuid>& photographs,
                                     const SaidOfPhotographs& said) {
    std::optional<Uuid> author;
    if (!said.photographer.empty()) {
        const auto person = acting.book.person_named(said.photographer);
        if (!person) return pass_on(person);
        author = *person;
    }
    std::vector<Done> done;
    for (const Uuid& id : photographs) {
        const auto photograph = acting.book.record(id);
        if (!photograph) return pass_on(photograph);
        const FieldValues values = values_for(*photograph, said, author);
        if (values.empty()) continue;
        auto changed = change_record(acting, id, values);
        if (!changed) return pass_on(changed);
        done.push_back(*std::move(changed));
    }
    return done;
}

UsualRights rights_in(const casebook::CaseSnapshot& snapshot) {
    auto photographs = snapshot.of_kind("photograph");
    std::ranges::stable_sort(photographs, std::ranges::greater{}, &Record::last_written);
    UsualRights rights;
    for (const Record* photograph : photographs) {
        const auto author = photograph->body.record("author");
        const Record* person = author ? snapshot.find(*author) : nullptr;
        if (rights.photographer.empty() && person != nullptr) rights.photographer = person->body.text_or("name");
        if (rights.licence.empty()) rights.licence = photograph->body.text_or("licence");
    }
    return rights;
}

}  // namespace

Expected<std::vector<Done>> say_photographs(const Acting& acting, const std::vector<Uuid>& photographs,
                                            const SaidOfPhotographs& said) {
    if (!says_anything(said)) {
        return fail("photograph.nothing-said", "Nothing was said of the photographs.",
                    "Say a face, a light, a stage, who took them or their licence, or confirm what was guessed.");
    }
    if (photographs.empty()) return fail("photograph.none", "No photograph was named.", "Name at least one.");
    return acting.book.in_one_act([&] { return say_each(acting, photographs, said); });
}

UsualRights usual_rights(casebook::Casebook& book, const Uuid& case_id) {
    const auto here = book.snapshot(case_id);
    return here ? rights_in(*here) : UsualRights();
}

void fill_rights(NewPhotograph& wanted, const PhotographLook& look, const UsualRights& usual) {
    const auto first = [](std::string& out, const std::string& by_file, const std::string& otherwise) {
        if (out.empty()) out = by_file.empty() ? otherwise : by_file;
    };
    const imaging::PictureMetadata none;
    const imaging::PictureMetadata& file = look.probe ? look.probe->metadata : none;
    first(wanted.photographer, file.author, usual.photographer);
    first(wanted.licence, file.usage_terms, usual.licence);
}

}  // namespace tedge::usecases
